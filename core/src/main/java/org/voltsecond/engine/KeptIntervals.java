package org.voltsecond.engine;

import java.lang.ref.SoftReference;
import java.lang.ref.WeakReference;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Trajectory.Block;
import org.voltsecond.engine.Walk.Segment;
import org.voltsecond.numeric.Machine;

/**
 * What is kept of intervals in a row, of a run or of a stretch of one: of each its state and its times, of a settled run the intervals
 * of one orbit and how often it comes again. Immutable but for what was worked out, and safe for any thread.
 */
final class KeptIntervals {
    /** What an interval takes beside its states: three numbers and three references. */
    private static final int BYTES_BESIDE_STATES = 3 * Double.BYTES + 3 * Integer.BYTES;
    /** What there is beside them in the memory of a stretch: as much again, and a little for reading. */
    private static final int BYTES_TO_READ = 80;

    final double clockPeriod;
    final int size;
    /** How many are kept; those of a settled run are kept once and come again. */
    final int kept;

    private final Page[] pages;
    private final Return[] returns;
    /** What may be worked out of them and kept. */
    private final int mostNumbers;

    /** Made when first needed, and let go where memory is short. */
    private volatile @Nullable SoftReference<Walk.Walked> walked;

    private KeptIntervals(Builder builder, Page[] pages, boolean isAll) {
        clockPeriod = builder.clockPeriod;
        size = (int) builder.size();
        kept = builder.kept();
        this.pages = pages;
        mostNumbers = isAll ? Walk.Walked.MOST_NUMBERS : Walk.Walked.MOST_OF_A_STRETCH;
        returns = builder.returns.toArray(new Return[0]);
    }

    /** Some intervals in a row: a long run is never copied as a whole. */
    private record Page(
            int dimension,
            Phase[] phases,
            long[] ticks,
            double[] sinceTicks,
            double[] durations,
            double[] states,
            @Nullable Cause[] causes,
            @Nullable AffineMap[] jumps) {
        /** Intervals of a full page, a power of two: some 300 kB. */
        static final int FULL = 1 << 12;

        static Page of(int dimension, int capacity) {
            return new Page(
                    dimension,
                    new Phase[capacity],
                    new long[capacity],
                    new double[capacity],
                    new double[capacity],
                    new double[capacity * dimension],
                    new Cause[capacity],
                    new AffineMap[capacity]);
        }

        Page withCapacity(int capacity) {
            return new Page(
                    dimension,
                    Arrays.copyOf(phases, capacity),
                    Arrays.copyOf(ticks, capacity),
                    Arrays.copyOf(sinceTicks, capacity),
                    Arrays.copyOf(durations, capacity),
                    Arrays.copyOf(states, capacity * dimension),
                    Arrays.copyOf(causes, capacity),
                    Arrays.copyOf(jumps, capacity));
        }

        void set(int at, IntervalView interval) {
            phases[at] = interval.phase();
            ticks[at] = interval.tick();
            sinceTicks[at] = interval.sinceTick();
            durations[at] = interval.duration();
            causes[at] = interval.cause();
            jumps[at] = interval.jump();
            System.arraycopy(((Run) interval).scaledState(), 0, states, at * dimension, dimension);
        }
    }

    /** A block whose intervals are those kept from {@code knot} on, each repetition so many ticks later than the one before. */
    private record Return(Block block, int knot, int ticks) {
        boolean holds(int index) {
            return index < block.end();
        }
    }

    /** Collects intervals in a row. */
    static final class Builder {
        /** Intervals that a first page has room for. */
        private static final int FIRST = 64;
        /** An index is an int. */
        static final int MOST = Integer.MAX_VALUE - Page.FULL;

        private final double clockPeriod;
        private final int dimension;
        private final int most;
        private final List<Page> full = new ArrayList<>();
        private final List<Return> returns = new ArrayList<>();
        private Page page;
        private int used;
        /** Intervals that come again and are not kept. */
        private long repeated;

        Builder(int dimension, double clockPeriod, int most) {
            this.clockPeriod = clockPeriod;
            this.dimension = dimension;
            this.most = most;
            page = Page.of(dimension, FIRST);
        }

        /** How many the memory of this Java machine takes, with what reading them needs. */
        static int mostIntervals(int dimension) {
            long each = BYTES_TO_READ + BYTES_BESIDE_STATES + (long) Double.BYTES * dimension;
            return (int) Math.min(MOST, Machine.mostMemory() / each);
        }

        void add(IntervalView interval) {
            if (used == page.ticks.length) {
                grow();
            }
            page.set(used, interval);
            used++;
        }

        /** The last periods come again so many times. */
        void repeat(int periods, long times) {
            int last = kept() - 1;
            long end = tick(last) + 1;
            int from = last;
            while (from > 0 && tick(from - 1) >= end - periods) {
                from--;
            }
            // the shortest orbit that the periods consist of
            int first = last;
            while (first > from && !(begins(first) && isAlike(first, from))) {
                first--;
            }
            int ticks = (int) (end - tick(first));
            int count = last + 1 - first;
            long orbits = times * (periods / ticks);
            if (size() + count * orbits > MOST) {
                throw new SwitchingException("the run comes to more than " + MOST + " intervals; shorten it");
            }
            returns.add(new Return(new Block((int) size(), count, (int) orbits), first, ticks));
            repeated += count * orbits;
        }

        private boolean begins(int index) {
            return page(index).sinceTicks[index & Page.FULL - 1] == 0;
        }

        private boolean isAlike(int one, int other) {
            int i = (one & Page.FULL - 1) * dimension;
            int j = (other & Page.FULL - 1) * dimension;
            return Arrays.equals(page(one).states, i, i + dimension, page(other).states, j, j + dimension);
        }

        private long tick(int index) {
            return page(index).ticks[index & Page.FULL - 1];
        }

        private Page page(int index) {
            return index / Page.FULL < full.size() ? full.get(index / Page.FULL) : page;
        }

        long size() {
            return kept() + repeated;
        }

        int kept() {
            return full.size() * Page.FULL + used;
        }

        private void grow() {
            if (kept() >= most || size() >= MOST) {
                throw new SwitchingException("the run has come to " + size()
                        + " intervals, which is all that the memory of this Java machine takes; shorten the run, or run"
                        + " java with a larger -Xmx");
            }
            if (used < Page.FULL) {
                page = page.withCapacity(2 * used);
            } else {
                full.add(page);
                page = Page.of(page.dimension, Page.FULL);
                used = 0;
            }
        }

        /** All of them; {@code isAll} where no others belong to the run. */
        KeptIntervals finish(boolean isAll) {
            List<Page> pages = new ArrayList<>(full);
            pages.add(page.withCapacity(used));
            return new KeptIntervals(this, pages.toArray(new Page[0]), isAll);
        }
    }

    List<Block> blocks() {
        List<Block> blocks = new ArrayList<>();
        int next = 0;
        for (Return one : returns) {
            Block block = one.block;
            blocks.add(new Block(next, block.first() - next, 1));
            blocks.add(block);
            next = block.end();
        }
        blocks.add(new Block(next, size - next, 1));
        blocks.removeIf(block -> block.count() == 0);
        return List.copyOf(blocks);
    }

    /** The last return that begins at or before an interval; null if there is none. */
    private @Nullable Return before(int index) {
        int low = 0;
        int high = returns.length;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (returns[middle].block.first() <= index) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low == 0 ? null : returns[low - 1];
    }

    /** The interval that is kept for one. */
    int knot(int index) {
        Return before = returns.length == 0 ? null : before(index);
        if (before == null) {
            return index;
        }
        Block block = before.block;
        int inside = index - block.first();
        return before.holds(index)
                ? before.knot + inside % block.count()
                : before.knot + block.count() + (index - block.end());
    }

    /** How much later it comes than the one that is kept for it. */
    long ticksLater(int index) {
        Return before = returns.length == 0 ? null : before(index);
        if (before == null || !before.holds(index)) {
            return 0;
        }
        return (long) before.ticks * ((index - before.block.first()) / before.block.count() + 1);
    }

    private Page pageOf(int knot) {
        return pages[knot / Page.FULL];
    }

    double startOf(int index) {
        return startTime(knot(index), ticksLater(index)).seconds(clockPeriod);
    }

    Phase phase(int knot) {
        return pageOf(knot).phases[knot & Page.FULL - 1];
    }

    ClockTime startTime(int knot, long ticksLater) {
        Page page = pageOf(knot);
        int at = knot & Page.FULL - 1;
        return new ClockTime(page.ticks[at] + ticksLater, page.sinceTicks[at]);
    }

    double duration(int knot) {
        return pageOf(knot).durations[knot & Page.FULL - 1];
    }

    double[] scaledStart(int knot) {
        Page page = pageOf(knot);
        int first = (knot & Page.FULL - 1) * page.dimension;
        return Arrays.copyOfRange(page.states, first, first + page.dimension);
    }

    @Nullable
    Cause cause(int knot) {
        return pageOf(knot).causes[knot & Page.FULL - 1];
    }

    @Nullable
    AffineMap jump(int knot) {
        return pageOf(knot).jumps[knot & Page.FULL - 1];
    }

    /** The state at the end of the last one, SI units. */
    double[] stateAfterAll() {
        return kept == 0 ? new double[0] : stateAt(kept - 1, duration(kept - 1));
    }

    /** The state within an interval, SI units. */
    double[] stateAt(int knot, double sinceStart) {
        Flow flow = phase(knot).configuration().flow();
        double[] scaled = new double[flow.n];
        Walk.stateAfter(flow, scaledStart(knot), sinceStart, scaled);
        double[] state = new double[flow.n];
        flow.scaling.toState(scaled, state);
        return state;
    }

    /** The configurations that hold in them, in the order in which they come first. */
    void addConfigurationsTo(Set<Configuration> all) {
        for (int knot = 0; knot < kept; knot++) {
            all.add(phase(knot).configuration());
        }
    }

    /** The segments of an interval that is longer than one base of its flow. */
    List<Segment> segments(int knot) {
        return walked().segments(this, knot);
    }

    /** The {@link Flow#series} of an interval that is no longer. */
    double[] series(int knot) {
        return walked().series(this, knot);
    }

    private Walk.Walked walked() {
        SoftReference<Walk.Walked> reference = walked;
        Walk.Walked known = reference == null ? null : reference.get();
        if (known == null) {
            known = new Walk.Walked(kept, mostNumbers);
            walked = new SoftReference<>(known);
        }
        return known;
    }

    /** Intervals from one instant at which the run has forgotten what it had learned to the next; never written after construction but for what is held. */
    static final class Stretch {
        final int first;
        final int size;
        /** When it starts, s. */
        final double start;
        /** Where the run goes on; null for the start of the run. */
        final Run.@Nullable Resumption from;

        /** The state before. */
        final double[] left;

        final List<Block> blocks;
        volatile @Nullable KeptIntervals kept;
        /** Who still reads in intervals that were let go need not run them again. */
        private volatile WeakReference<KeptIntervals> gone = new WeakReference<>(null);

        Stretch(int first, Run.@Nullable Resumption from, double[] left, KeptIntervals kept) {
            this.first = first;
            this.from = from;
            this.left = left;
            size = kept.size;
            start = size == 0 ? 0 : kept.startOf(0);
            blocks = kept.blocks();
        }

        /** How many intervals that were. */
        int letGo() {
            KeptIntervals known = Objects.requireNonNull(kept);
            gone = new WeakReference<>(known);
            kept = null;
            return known.kept;
        }

        @Nullable
        KeptIntervals atHand() {
            KeptIntervals known = kept;
            return known == null ? gone.get() : known;
        }
    }

    /** The stretches whose intervals are at hand; those that were asked for first are let go first. */
    static final class Held {
        private final int most;
        private final ArrayDeque<Stretch> stretches = new ArrayDeque<>();
        private int intervals;

        Held(int most) {
            this.most = most;
        }

        synchronized void hold(Stretch stretch, KeptIntervals kept) {
            stretch.kept = kept;
            stretches.add(stretch);
            intervals += kept.kept;
        }

        /** Before others are run, since both are there for a while. */
        synchronized void makeRoom() {
            while (intervals > most) {
                intervals -= stretches.remove().letGo();
            }
        }
    }
}
