package org.voltsecond.study;

/**
 * How a study is run: on how many threads, who is told its progress, and what can cancel it. None of this changes a bit of
 * the results. Immutable.
 *
 * <pre>{@code
 * Execution execution = Execution.onThreads(2)
 *         .withProgress((done, total) -> System.out.println(done + " of " + total));
 * Study.of(List.of(10e-6, 22e-6, 47e-6), henry -> rail.withInductor(henry, milli(30)).steadyState()).run(execution);
 * }</pre>
 */
public final class Execution {
    private final int threads;
    private final ProgressListener progress;
    private final Cancellation cancellation;

    private Execution(int threads, ProgressListener progress, Cancellation cancellation) {
        this.threads = threads;
        this.progress = progress;
        this.cancellation = cancellation;
    }

    /**
     * Returns the usual way: as many threads as there are processors, nobody told, not to be cancelled but by interrupting
     * the thread that runs the study.
     *
     * @return the execution
     */
    public static Execution standard() {
        return onThreads(Runtime.getRuntime().availableProcessors());
    }

    /**
     * Returns an execution on a number of threads, the one that runs the study among them.
     *
     * @param threads how many; 1 or more
     * @return the execution
     * @throws IllegalArgumentException if there would be no thread
     */
    public static Execution onThreads(int threads) {
        if (threads < 1) {
            throw new IllegalArgumentException("a study needs 1 thread or more but was given " + threads);
        }
        return new Execution(threads, (done, total) -> {}, new Cancellation());
    }

    /**
     * Returns the same on another number of threads.
     *
     * @param other how many; 1 or more
     * @return a new execution
     * @throws IllegalArgumentException if there would be no thread
     */
    public Execution withThreads(int other) {
        return new Execution(onThreads(other).threads, progress, cancellation);
    }

    /**
     * Returns the same with somebody told of the progress.
     *
     * @param listener is told
     * @return a new execution
     */
    public Execution withProgress(ProgressListener listener) {
        return new Execution(threads, listener, cancellation);
    }

    /**
     * Returns the same with a switch that ends it early.
     *
     * @param by the switch
     * @return a new execution
     */
    public Execution withCancellation(Cancellation by) {
        return new Execution(threads, progress, by);
    }

    /**
     * Returns the number of threads.
     *
     * @return 1 or more
     */
    public int threads() {
        return threads;
    }

    /**
     * Returns who is told of the progress.
     *
     * @return the listener
     */
    public ProgressListener progress() {
        return progress;
    }

    /**
     * Returns what ends the study early.
     *
     * @return the switch
     */
    public Cancellation cancellation() {
        return cancellation;
    }

    @Override
    public String toString() {
        return "on " + threads + (threads == 1 ? " thread" : " threads");
    }
}
