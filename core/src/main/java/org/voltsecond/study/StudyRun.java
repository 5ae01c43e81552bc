package org.voltsecond.study;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Watch;
import org.voltsecond.units.Result;

/**
 * One run of a study: threads take batches of designs from one counter until none is left. The thread that runs the study
 * works too, so that a study on one thread starts none.
 */
final class StudyRun<D, R> {
    /** Batches for each thread: few enough to cost nothing, many enough to end at about the same time. */
    private static final int BATCHES_A_THREAD = 64;

    private static final int LARGEST_BATCH = 1024;

    private final List<D> designs;
    private final Supplier<? extends Function<? super D, ? extends R>> askers;
    private final Execution execution;
    private final Thread caller = Thread.currentThread();
    private final Watch.Handing watched = Watch.handing();
    private final Watch watch = Watch.of().until(() -> !isWanted());
    private final int threads;
    private final int batch;
    private final @Nullable Result<R>[] results;
    private final AtomicInteger next = new AtomicInteger();
    private final AtomicReference<@Nullable Throwable> broken = new AtomicReference<>();
    private final Object progressLock = new Object();
    private int done;
    private volatile boolean interrupted;

    @SuppressWarnings("unchecked")
    StudyRun(List<D> designs, Supplier<? extends Function<? super D, ? extends R>> askers, Execution execution) {
        this.designs = designs;
        this.askers = askers;
        this.execution = execution;
        threads = Math.max(1, Math.min(execution.threads(), designs.size()));
        batch = Math.max(1, Math.min(LARGEST_BATCH, designs.size() / (threads * BATCHES_A_THREAD)));
        results = (Result<R>[]) new Result<?>[designs.size()];
    }

    StudyResults<D, R> run() {
        List<Thread> helpers = new ArrayList<>();
        for (int i = 1; i < threads; i++) {
            Thread helper = new Thread(() -> watched.over(this::work), "voltsecond-study-" + i);
            helper.setDaemon(true);
            helpers.add(helper);
            helper.start();
        }
        work();
        helpers.forEach(this::await);
        if (interrupted) {
            caller.interrupt();
        }
        rethrow();
        int skipped = (int) Arrays.stream(results).filter(Objects::isNull).count();
        return new StudyResults<>(designs, kept(), skipped);
    }

    /** Waits to the end, since a helper must not go on behind the back of the caller; an interrupt makes that end near. */
    private void await(Thread helper) {
        while (true) {
            try {
                helper.join();
                return;
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
    }

    private void rethrow() {
        Throwable thrown = broken.get();
        if (thrown instanceof Error error) {
            throw error;
        }
        if (thrown instanceof RuntimeException exception) {
            throw exception;
        }
    }

    private List<Result<R>> kept() {
        Result<R> skipped = Result.missing("the study was cancelled before this design was run");
        return Arrays.stream(results).map(each -> each == null ? skipped : each).toList();
    }

    /** What is thrown here, by an asker's maker, a listener or the virtual machine, is no failure of a design. */
    private void work() {
        try {
            watch.over(() -> {
                askAll();
                return true;
            });
        } catch (RuntimeException | Error e) {
            boolean cancelled = e instanceof Watch.Stopped && !isWanted();
            if (!cancelled) {
                broken.compareAndSet(null, e);
            }
        }
    }

    private void askAll() {
        Function<? super D, ? extends R> asker = askers.get();
        while (isWanted()) {
            int from = next.getAndAdd(batch);
            if (from >= designs.size() || from < 0) {
                return;
            }
            report(ask(asker, from, Math.min(designs.size(), from + batch)));
        }
    }

    private boolean isWanted() {
        if (caller.isInterrupted()) {
            interrupted = true;
        }
        return !interrupted && !execution.cancellation().isCancelled() && broken.get() == null;
    }

    private int ask(Function<? super D, ? extends R> asker, int from, int to) {
        for (int i = from; i < to; i++) {
            if (!isWanted()) {
                return i - from;
            }
            results[i] = result(asker, designs.get(i));
        }
        return to - from;
    }

    private Result<R> result(Function<? super D, ? extends R> asker, D design) {
        try {
            return Result.of(asker.apply(design));
        } catch (Watch.Stopped e) {
            throw e;
        } catch (RuntimeException e) {
            return Result.failed(e);
        }
    }

    private void report(int more) {
        synchronized (progressLock) {
            done += more;
            execution.progress().reached(done, designs.size());
        }
    }
}
