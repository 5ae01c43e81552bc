package org.voltsecond.plot.viewer;

import java.util.concurrent.Executor;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.voltsecond.engine.Watch;
import org.voltsecond.units.Result;

/**
 * Answers requests on a thread of its own, the newest of those that wait; the others are never begun. A request that is being
 * answered when a newer one comes is ended only if it takes long, so that something new is seen while one drags a slider.
 *
 * @param <T> what is answered
 */
final class Latest<T> {
    /** How long a request may go on that nobody waits for any more, ns. A choice: what a reader takes for a standstill. */
    private static final long PATIENCE = 500_000_000L;
    /** How long the thread waits for more work before it ends, s. */
    private static final int IDLE = 5;

    private final Executor events;
    private final Consumer<Result<T>> taker;
    private final ThreadPoolExecutor thread;
    private final AtomicLong newest = new AtomicLong();
    private final AtomicReference<Request<T>> waiting = new AtomicReference<>();
    private long answered;

    private record Request<T>(long number, Supplier<T> work) {}

    /**
     * Makes one that is idle.
     *
     * @param events runs what it is given on the thread of events
     * @param taker takes each answer, or the reason why there is none, on the thread of events
     */
    Latest(Executor events, Consumer<Result<T>> taker) {
        this.events = events;
        this.taker = taker;
        thread = new ThreadPoolExecutor(1, 1, IDLE, TimeUnit.SECONDS, new LinkedBlockingQueue<>(), work -> {
            Thread made = new Thread(work, "simulation of a design");
            made.setDaemon(true);
            return made;
        });
        thread.allowCoreThreadTimeOut(true);
    }

    /** Asks for an answer; to be called on the thread of events. */
    void request(Supplier<T> work) {
        waiting.set(new Request<>(newest.incrementAndGet(), work));
        thread.execute(this::next);
    }

    /** Whether the newest request is not yet answered; to be asked on the thread of events. */
    boolean isBusy() {
        return answered < newest.get();
    }

    /** Ends what is being answered. */
    void stop() {
        newest.addAndGet(1);
        waiting.set(null);
        thread.shutdownNow();
    }

    private void next() {
        Request<T> request = waiting.getAndSet(null);
        if (request == null) {
            return;
        }
        long since = System.nanoTime();
        Watch watch = Watch.of().until(() -> newest.get() > request.number && System.nanoTime() - since > PATIENCE);
        Result<T> answer;
        try {
            answer = Result.of(watch.over(request.work));
        } catch (Watch.Stopped stopped) {
            return;
        } catch (RuntimeException | StackOverflowError | OutOfMemoryError e) {
            answer = Result.missing(e.getMessage() == null ? e.toString() : e.getMessage());
        }
        Result<T> told = answer;
        events.execute(() -> {
            answered = request.number;
            taker.accept(told);
        });
    }
}
