package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;

/**
 * Walks over a run for those who read its intervals one after the other. A long run is run again for each walk, so one walk serves
 * all that wait for it. Safe for any thread.
 *
 * <pre>{@code
 * int[] closed = {0};
 * Trajectory run = start.run().trajectory();
 * RunReading.of(run).read(new RunReading.OfBlocks(run) {
 *     protected void read(Interval interval, int times) {
 *         closed[0] += rail.driven().conducts(interval.phase(), "Q1") ? times : 0;
 *     }
 * });
 * int intervals = closed[0]; // 600
 * }</pre>
 */
public final class RunReading {
    /** So many may wait; a program that asks for ever more and measures none of them must not fill the memory. A choice. */
    private static final int MOST_WAITING = 100;

    private final Trajectory run;
    /** Its neighbours stay at hand as long as somebody holds it. */
    @SuppressWarnings("UnusedVariable")
    private @Nullable Interval last;

    private final Set<Reader> waiting = new LinkedHashSet<>();

    private RunReading(Trajectory run) {
        this.run = run;
    }

    /** Reads intervals, each once, as far as it needs them. Not for several threads at once. */
    public interface Reader {
        /**
         * Returns which interval it reads next.
         *
         * @return its position, further on than all before; the number of intervals or more if it needs no other
         */
        int next();

        /**
         * Reads that interval.
         *
         * @param interval the interval
         */
        void read(Interval interval);

        /** Called once it needs no other interval. */
        default void done() {}
    }

    /** Reads all intervals, those of a block that comes again once. */
    public abstract static class OfBlocks implements Reader {
        private final List<Block> blocks;
        private int at;
        private int next;

        /**
         * Begins with the first interval.
         *
         * @param run the run
         */
        protected OfBlocks(Trajectory run) {
            blocks = run.blocks();
        }

        @Override
        public final int next() {
            return at == blocks.size() ? Integer.MAX_VALUE : next;
        }

        @Override
        public final void read(Interval interval) {
            Block block = blocks.get(at);
            read(interval, block.times());
            next++;
            if (next == block.first() + block.count()) {
                at++;
                next = block.end();
            }
        }

        /**
         * Reads an interval.
         *
         * @param interval the interval
         * @param times how many times it comes
         */
        protected abstract void read(Interval interval, int times);
    }

    /**
     * Returns the reading of a run.
     *
     * @param run the run
     * @return a reading for which nobody waits yet
     */
    public static RunReading of(Trajectory run) {
        return new RunReading(run);
    }

    /**
     * Returns the run.
     *
     * @return the run
     */
    public Trajectory run() {
        return run;
    }

    /**
     * Lets a reader come along with the next walk over a long run; over a short one each walks on its own, when it is asked.
     *
     * @param reader the reader, which may be given to {@link #read} later all the same
     */
    public void await(Reader reader) {
        if (!run.isLong(run.size())) {
            return;
        }
        synchronized (waiting) {
            if (waiting.size() < MOST_WAITING) {
                waiting.add(reader);
            }
        }
    }

    /**
     * Walks over the run, unless another walk has served the reader already.
     *
     * @param reader the reader; all that it needs has been read on return
     */
    public synchronized void read(Reader reader) {
        if (reader.next() >= run.size()) {
            return;
        }
        List<Reader> readers = new ArrayList<>();
        synchronized (waiting) {
            readers.addAll(waiting);
            waiting.clear();
        }
        if (!readers.contains(reader)) {
            readers.add(reader);
        }
        while (!readers.isEmpty()) {
            int next = Integer.MAX_VALUE;
            for (Reader one : readers) {
                next = Math.min(next, one.next());
            }
            readAt(next, readers);
        }
        last = null;
    }

    private void readAt(int next, List<Reader> readers) {
        Interval interval = run.interval(next);
        last = interval;
        for (int k = readers.size() - 1; k >= 0; k--) {
            Reader one = readers.get(k);
            if (one.next() == next) {
                one.read(interval);
                if (one.next() >= run.size()) {
                    readers.remove(k);
                    one.done();
                }
            }
        }
    }

    @Override
    public String toString() {
        return "reading of " + run;
    }
}
