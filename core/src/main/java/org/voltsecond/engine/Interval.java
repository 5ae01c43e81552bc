package org.voltsecond.engine;

import java.util.AbstractList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * One interval of a trajectory: the time between two switching instants, in which one configuration holds. Everything
 * within it is worked out again from the state at its start. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Interval on = steady.periodic().trajectory().interval(0);
 * double length = on.duration(); // 1.5 µs
 * double[] middle = on.stateAt(0.5 * on.duration()); // inductor current, capacitor voltage
 * double current = middle[0]; // 2.010 A
 * }</pre>
 */
public final class Interval {
    /** Round-off grows with the turns of what rings; beyond so many bases it is walked through, as what is stiff is quickly. */
    private static final double MOST_DOUBLED = 1 << 20;

    private final Trajectory trajectory;
    private final int index;
    private final KeptIntervals kept;
    /** Its place there, and how much later it comes. */
    private final int knot;

    private final long ticksLater;
    /** The {@link Flow#series} of a short one, once a signal has been read in it. */
    private volatile double @Nullable [] series;

    Interval(Trajectory trajectory, int index, KeptIntervals kept, int indexThere) {
        this.trajectory = trajectory;
        this.index = index;
        this.kept = kept;
        knot = kept.knot(indexThere);
        ticksLater = kept.ticksLater(indexThere);
    }

    /**
     * Returns the position in the trajectory.
     *
     * @return the index, from 0
     */
    public int index() {
        return index;
    }

    /**
     * Returns the phase that lasted.
     *
     * @return the phase
     */
    public Phase phase() {
        return kept.phase(knot);
    }

    /**
     * Returns the configuration that held.
     *
     * @return the configuration
     */
    public Configuration configuration() {
        return phase().configuration();
    }

    /**
     * Returns when the interval starts, as a clock edge and the time since.
     *
     * @return the instant
     */
    public ClockTime startTime() {
        return kept.startTime(knot, ticksLater);
    }

    /**
     * Returns the time between the last clock edge and the start of the interval.
     *
     * @return the time, s
     */
    public double sinceTick() {
        return startTime().sinceTick();
    }

    /**
     * Returns when the interval starts.
     *
     * @return time since the start of the run, s
     */
    public double start() {
        return startTime().seconds(trajectory.clockPeriod());
    }

    /**
     * Returns how long the interval lasts.
     *
     * @return the duration, s; more than 0
     */
    public double duration() {
        return kept.duration(knot);
    }

    /**
     * Returns when the interval ends.
     *
     * @return time since the start of the run, s
     */
    public double end() {
        return trajectory.endOf(index);
    }

    /**
     * Returns how the state jumped into the interval.
     *
     * @return the jump; null if it did not
     */
    public @Nullable AffineMap jump() {
        return kept.jump(knot);
    }

    /**
     * Returns why the interval ended.
     *
     * @return the cause; null if the run ended with it
     */
    public @Nullable Cause cause() {
        return kept.cause(knot);
    }

    /**
     * Returns the state just after the start.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] startState() {
        double[] state = new double[flow().n];
        flow().scaling.toState(kept.scaledStart(knot), state);
        return state;
    }

    /**
     * Returns the state just before the end.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] endState() {
        return stateAt(duration());
    }

    /**
     * Returns the state within the interval.
     *
     * @param sinceStart time since the start of the interval, s; 0 to its duration
     * @return one entry for each state, SI units, a new array
     */
    public double[] stateAt(double sinceStart) {
        return kept.stateAt(knot, checked(sinceStart));
    }

    private double checked(double sinceStart) {
        if (!(sinceStart >= 0 && sinceStart <= duration())) {
            throw new IllegalArgumentException(
                    "a time within the interval must be from 0 s to " + duration() + " s but was " + sinceStart + " s");
        }
        return sinceStart;
    }

    /**
     * Evaluates a form within the interval.
     *
     * @param form an affine form over the states
     * @param sinceStart time since the start of the interval, s; 0 to its duration
     * @return the value
     */
    public double valueAt(AffineForm form, double sinceStart) {
        return form.valueAt(stateAt(sinceStart), sinceTick() + sinceStart);
    }

    /**
     * Returns a form over the interval as polynomials, exact to round-off. All forms of one interval come in pieces of
     * the same spans.
     *
     * @param form an affine form over the states
     * @return the pieces in order of time: one, or more where the interval is long or stiff
     */
    public List<Piece> pieces(AffineForm form) {
        if (duration() <= flow().base) {
            Flow flow = flow();
            return List.of(
                    flow.n == 2
                            ? flow.planarPiece(kept.scaledStart(knot), form, start(), sinceTick(), duration())
                            : flow.pieceOf(series(), form, start(), sinceTick(), duration()));
        }
        return new Pieces(kept.segments(knot), form.along(flow()), start(), sinceTick());
    }

    private double[] series() {
        double[] known = series;
        if (known == null) {
            known = kept.series(knot);
            series = known;
        }
        return known;
    }

    /** Those of a long interval, each worked out when it is first asked for: a table of values reads the first and the last alone. */
    private static final class Pieces extends AbstractList<Piece> {
        private final List<Walk.Segment> segments;
        private final GuardRows form;
        private final double start;
        private final double sinceTick;
        /** Pieces are immutable: two threads that work one out find the same. */
        private final @Nullable Piece[] known;

        Pieces(List<Walk.Segment> segments, GuardRows form, double start, double sinceTick) {
            this.segments = segments;
            this.form = form;
            this.start = start;
            this.sinceTick = sinceTick;
            known = new Piece[segments.size()];
        }

        @Override
        public Piece get(int k) {
            Piece piece = known[k];
            if (piece == null) {
                piece = segments.get(k).piece(form, start, sinceTick);
                known[k] = piece;
            }
            return piece;
        }

        @Override
        public int size() {
            return known.length;
        }
    }

    /**
     * Returns the integrals over the interval of all products of two of the states, one, and the time since the last
     * clock edge. From them follows the integral of the product of any two forms, a power for example.
     *
     * @return symmetric; row and column i below the dimension stand for state i (SI units), the next for the constant 1,
     *     the last for the time since the clock edge (s)
     */
    public double[][] secondMoments() {
        boolean[] wanted = new boolean[flow().n + 2];
        Arrays.fill(wanted, true);
        Moments moments = new Moments(configuration(), wanted);
        moments.add(this, 1);
        return moments.values();
    }

    /** The same piece by piece, of products of wanted factors alone; the upper triangle. */
    double[][] integrated(boolean[] wanted) {
        int count = flow().n + 2;
        int[] places = IntStream.range(0, count).filter(i -> wanted[i]).toArray();
        List<List<Piece>> factors = Arrays.stream(places)
                .mapToObj(place -> pieces(flow().unit(place)))
                .toList();
        double[][] moments = new double[count][count];
        for (int p = 0; p < (factors.isEmpty() ? 0 : factors.get(0).size()); p++) {
            addMoments(factors, p, places, moments);
        }
        return moments;
    }

    /** Each factor is integrated against the powers of the time once, not once for each of its products. */
    private static void addMoments(List<List<Piece>> factors, int piece, int[] places, double[][] moments) {
        int[] counts = new int[places.length];
        int most = 0;
        for (int j = 0; j < places.length; j++) {
            Piece second = factors.get(j).get(piece);
            counts[j] = second.countThatCounts();
            most = Math.max(most, counts[j]);
            double[] againstPowers = second.againstPowers(most);
            for (int i = 0; i <= j; i++) {
                moments[places[i]][places[j]] += factors.get(i).get(piece).integralOfProduct(counts[i], againstPowers);
            }
        }
    }

    /**
     * The {@link #secondMoments} of many intervals of one configuration, added up. The sums keep what rounding takes away (A. Neumaier,
     * Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, ZAMM 54, 1974, pp. 39-51, from memory), since in the
     * energies that follow from them large moments may cancel. Not safe for several threads.
     *
     * <pre>{@code
     * Trajectory run = start.run().trajectory();
     * Interval.Moments all = new Interval.Moments(run.interval(0).configuration(), new boolean[] {true, true, true, false});
     * all.add(run.interval(0), 1);
     * double seconds = all.values()[2][2]; // 1.5 µs
     * }</pre>
     */
    public static final class Moments {
        private final boolean[] wanted;
        private final int size;
        private final double[][] sum;
        private final double[][] lost;
        private final Ladder.Moments longer;

        /**
         * Begins with none.
         *
         * @param configuration what holds in all of the intervals
         * @param wanted one entry for each state, for the constant 1 and for the time since the clock edge: whether its products are
         *     asked for; those with any other are whatever they are
         */
        public Moments(Configuration configuration, boolean[] wanted) {
            this.wanted = wanted.clone();
            size = wanted.length;
            sum = new double[size][size];
            lost = new double[size][size];
            longer = new Ladder.Moments(configuration.flow());
        }

        /**
         * Adds an interval.
         *
         * @param interval an interval in which the configuration holds
         * @param times how many times it comes
         */
        public void add(Interval interval, int times) {
            double bases = interval.duration() / interval.flow().base;
            if (bases > 1 && bases < MOST_DOUBLED) {
                longer.add(interval.kept.scaledStart(interval.knot), interval.sinceTick(), interval.duration(), times);
                return;
            }
            double[][] moments = interval.integrated(wanted);
            for (int i = 0; i < size; i++) {
                for (int j = i; j < size; j++) {
                    double old = sum[i][j];
                    double value = times * moments[i][j];
                    double next = old + value;
                    lost[i][j] += Math.abs(old) >= Math.abs(value) ? (old - next) + value : (value - next) + old;
                    sum[i][j] = next;
                }
            }
        }

        /**
         * Returns the sums.
         *
         * @return as {@link #secondMoments()}
         */
        public double[][] values() {
            double[][] values = longer.values();
            for (int i = 0; i < size; i++) {
                for (int j = i; j < size; j++) {
                    values[i][j] += sum[i][j] + lost[i][j];
                    values[j][i] = values[i][j];
                }
            }
            return values;
        }
    }

    KeptIntervals kept() {
        return kept;
    }

    private Flow flow() {
        return configuration().flow();
    }

    @Override
    public String toString() {
        return configuration().name() + " from " + start() + " s for " + duration() + " s";
    }
}
