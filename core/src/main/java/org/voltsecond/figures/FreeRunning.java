package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Transient;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;
import org.voltsecond.waveform.RunReading;

/**
 * The cycles of a run without a clock, from one closing of the transistor to the next. What is kept is where each chunk of them begins,
 * and its smallest and largest duty cycle; the cycles of a chunk are found again when one of them is asked for.
 */
final class FreeRunning implements Cycles.Source {
    private static final int CHUNK = Cycles.CHUNK;

    private final Trajectory run;
    private final RunReading reading;
    private final Predicate<Phase> isClosed;
    private final Chunks chunks;
    private volatile @Nullable Found latest;

    private FreeRunning(RunReading reading, Predicate<Phase> isClosed) {
        this.reading = reading;
        this.isClosed = isClosed;
        run = reading.run();
        chunks = new Chunks();
    }

    static FreeRunning of(Transient run, String transistor) {
        FreeRunning cycles =
                new FreeRunning(run.reading(), phase -> run.circuit().conducts(phase, transistor));
        cycles.reading.await(cycles.chunks);
        return cycles;
    }

    /** Where a chunk of cycles begins, and the duty cycles of those that end. */
    private record Chunk(int interval, double time, double lowest, double highest) {}

    /** The cycles of a chunk: where each begins, and the duty cycles of those that end. */
    private record Found(int chunk, double[] edges, double[] duties) {}

    /** Follows the transistor from interval to interval. */
    private abstract class Follower implements RunReading.Reader {
        private int next;
        private boolean wasOpen;
        private Mean closed = new Mean();

        Follower(int first, boolean wasOpen) {
            next = first;
            this.wasOpen = wasOpen;
        }

        @Override
        public int next() {
            return next;
        }

        @Override
        public void read(Interval interval) {
            next++;
            double start = interval.start();
            double length = interval.end() - start;
            if (!(length > 0)) {
                return;
            }
            boolean isNow = isClosed.test(interval.phase());
            if (isNow && wasOpen) {
                closes(interval.index(), start, closed.value());
                closed = new Mean();
            }
            wasOpen = !isNow;
            closed.add(isNow ? 1 : 0, length);
        }

        /** A cycle begins, and the one before, if it was one, ends with a duty cycle. */
        abstract void closes(int interval, double time, double dutyBefore);
    }

    /** A mean over the time of one cycle. */
    private static final class Mean {
        private double sum;
        private double time;

        void add(double value, double length) {
            sum += value * length;
            time += length;
        }

        double value() {
            return sum / time;
        }
    }

    private final class Chunks extends Follower {
        private final List<Chunk> all = new ArrayList<>();
        private int edges;

        Chunks() {
            super(0, false);
        }

        @Override
        void closes(int interval, double time, double dutyBefore) {
            if (edges > 0) {
                Chunk last = all.get(all.size() - 1);
                double lowest = Math.min(last.lowest, dutyBefore);
                double highest = Math.max(last.highest, dutyBefore);
                if (lowest != last.lowest || highest != last.highest) {
                    all.set(all.size() - 1, new Chunk(last.interval, last.time, lowest, highest));
                }
            }
            if (edges++ % CHUNK == 0) {
                all.add(new Chunk(interval, time, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY));
            }
        }
    }

    private Chunks read() {
        reading.read(chunks);
        return chunks;
    }

    private Found found(int chunk) {
        Found known = latest;
        if (known != null && known.chunk == chunk) {
            return known;
        }
        double[] edges = new double[CHUNK];
        double[] duties = new double[CHUNK];
        int[] count = {0};
        int first = read().all.get(chunk).interval;
        Follower follower = new Follower(first, true) {
            @Override
            void closes(int interval, double time, double dutyBefore) {
                if (count[0] > 0) {
                    duties[count[0] - 1] = dutyBefore;
                }
                if (count[0] < CHUNK) {
                    edges[count[0]] = time;
                }
                count[0]++;
            }
        };
        while (count[0] <= CHUNK && follower.next() < run.size()) {
            follower.read(run.interval(follower.next()));
        }
        Found found = new Found(chunk, edges, duties);
        latest = found;
        return found;
    }

    @Override
    public int count() {
        return Math.max(0, read().edges - 1);
    }

    /** Without a whole cycle there may be no edge. */
    @Override
    public double edge(int cycle) {
        Chunks all = read();
        if (cycle >= all.edges) {
            return run.end();
        }
        return cycle % CHUNK == 0 ? all.all.get(cycle / CHUNK).time : found(cycle / CHUNK).edges[cycle % CHUNK];
    }

    @Override
    public double duty(int cycle) {
        return found(cycle / CHUNK).duties[cycle % CHUNK];
    }

    @Override
    public double lowestDuty(int from, int to) {
        return most(from, to, true);
    }

    @Override
    public double highestDuty(int from, int to) {
        return most(from, to, false);
    }

    private double most(int from, int to, boolean lowest) {
        List<Chunk> all = read().all;
        double most = lowest ? Double.POSITIVE_INFINITY : Double.NEGATIVE_INFINITY;
        int k = from;
        while (k < to) {
            boolean whole = k % CHUNK == 0 && k + CHUNK <= to;
            Chunk chunk = all.get(k / CHUNK);
            double value = whole ? (lowest ? chunk.lowest : chunk.highest) : duty(k);
            most = lowest ? Math.min(most, value) : Math.max(most, value);
            k += whole ? CHUNK : 1;
        }
        return most;
    }

    @Override
    public List<Block> blocks() {
        return List.of(new Block(0, count(), 1));
    }
}
