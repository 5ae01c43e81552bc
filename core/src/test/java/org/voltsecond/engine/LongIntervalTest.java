package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static java.lang.Math.PI;
import static java.lang.Math.asin;
import static java.lang.Math.cos;
import static java.lang.Math.sin;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.engine.TestLaw.configuration;
import static org.voltsecond.engine.TestLaw.ones;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Intervals that are longer than one base of their flow and come again and again, beside an oscillation that has little time
 * to dip below zero: a level that sinks from period to period, plus a cosine. Everything is known in closed form.
 */
class LongIntervalTest {
    private static final double SINKING = 1e-4;
    private static final double PERIODS = 10.3;
    private static final double START = 1 + PERIODS * SINKING;

    /** Cosine, sine, level; the clock period is 1 s. */
    private static Configuration swinging(double angular, List<Guard> guards) {
        double[][] a = {{0, -angular, 0}, {angular, 0, 0}, {0, 0, 0}};
        return configuration("swinging", 1, a, new double[] {0, 0, -SINKING}, guards);
    }

    private static final Guard DIP = new Guard("level plus cosine", AffineForm.of(new double[] {1, 0, 1}, 0));
    /** Zero at 0.8 of the period. */
    private static final Guard RAMP = new Guard("ramp", AffineForm.of(new double[3], 0.8, -1));

    private static double dip(double angular, double time) {
        return START - SINKING * time + cos(angular * time);
    }

    /** When the dip first reaches zero: before the first of its minima that is negative. */
    private static double firstDip(double angular) {
        for (int k = 0; ; k++) {
            double lowest = (PI * (2 * k + 1) + asin(SINKING / angular)) / angular;
            if (dip(angular, lowest) < 0) {
                double high = lowest - PI / angular;
                double low = lowest;
                for (int i = 0; i < 60; i++) {
                    double middle = 0.5 * (low + high);
                    if (dip(angular, middle) < 0) {
                        low = middle;
                    } else {
                        high = middle;
                    }
                }
                return low;
            }
        }
    }

    private static TestLaw law(double angular, boolean rampEnds) {
        Phase first = rampEnds
                ? new Phase(swinging(angular, List.of(RAMP, DIP)), POSITIVE_INFINITY, POSITIVE_INFINITY)
                : new Phase(swinging(angular, List.of(DIP)), 1, POSITIVE_INFINITY);
        Phase second = new Phase(swinging(angular, List.of(DIP)), 1, POSITIVE_INFINITY);
        Phase last = new Phase(swinging(angular, List.of()), POSITIVE_INFINITY, POSITIVE_INFINITY);
        int dipOfFirst = rampEnds ? 1 : 0;
        return new TestLaw(ones(3), 1, List.of(), state -> Entry.of(first), (ended, cause, state, t) -> {
            boolean dips = cause.kind() == Cause.Kind.GUARD && (ended == second || cause.index() == dipOfFirst);
            return Entry.of(dips ? last : ended == first && rampEnds ? second : first);
        });
    }

    private static void dipIsFound(double angular, boolean rampEnds) {
        Trajectory run = Simulation.of(law(angular, rampEnds)).record(new double[] {1, 0, START}, 20);
        double expected = firstDip(angular);
        assertThat(expected).isGreaterThan(PERIODS / 2);
        Interval after = run.interval(run.size() - 1);
        // the slope at the crossing is the square root of a small depth, by which the round-off of the instant grows
        assertThat(after.start()).isCloseTo(expected, within(1e-10));
        double[] state = after.startState();
        assertThat(state[0]).isCloseTo(cos(angular * expected), within(1e-11));
        assertThat(state[1]).isCloseTo(sin(angular * expected), within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(doubles = {9, 13, 20, 31, 44})
    void anIntervalThatTheClockEndsMissesNoDip(double angular) {
        dipIsFound(angular, false);
    }

    @ParameterizedTest
    @ValueSource(doubles = {9, 13, 20, 31, 44})
    void anIntervalThatAGuardEndsMissesNoDip(double angular) {
        dipIsFound(angular, true);
    }

    /** The second phase grows or shrinks from 0.7 of the period by the sinking of the level, across one base of its flow. */
    @ParameterizedTest
    @CsvSource({"1, 0.698", "1, 0.7005", "1, 0.7013", "1, 0.702", "-1, 0.6995", "-1, 0.6987", "-1, 0.698", "-1, 0.702"})
    void anIntervalThatPassesTheLengthOfABaseIsTheSame(double growing, double base) {
        double angular = 3 / base;
        Guard edge = new Guard("edge", AffineForm.of(new double[] {0, 0, growing}, 0.3 - growing * START, -1));
        Phase first = new Phase(swinging(angular, List.of(edge)), POSITIVE_INFINITY, POSITIVE_INFINITY);
        Phase second = new Phase(swinging(angular, List.of()), 1, POSITIVE_INFINITY);
        Trajectory run =
                Simulation.of(TestLaw.ring(ones(3), 1, List.of(first, second))).record(new double[] {1, 0, START}, 40);
        assertThat(run.size()).isEqualTo(80);
        for (Interval interval : run.intervals()) {
            assertThat(interval.startState()[0]).isCloseTo(cos(angular * interval.start()), within(1e-11));
            assertThat(interval.startState()[1]).isCloseTo(sin(angular * interval.start()), within(1e-11));
        }
    }

    /** Integrals of products over the third period, of an oscillation of up to 800 turns, by hand. */
    @ParameterizedTest
    @ValueSource(doubles = {0.5, 9, 44, 300, 5000})
    void secondMomentsOfManyTurnsAreThoseByHand(double angular) {
        Phase phase = new Phase(swinging(angular, List.of()), 1, POSITIVE_INFINITY);
        Interval third = Simulation.of(TestLaw.ring(ones(3), 1, List.of(phase)))
                .record(new double[] {1, 0, START}, 4)
                .interval(2);
        double[][] moments = third.secondMoments();
        double from = 2 * angular;
        double to = 3 * angular;
        double tolerance = 1e-13 * (1 + angular);
        assertThat(moments[0][0]).isCloseTo(0.5 + (sin(2 * to) - sin(2 * from)) / (4 * angular), within(tolerance));
        assertThat(moments[1][1]).isCloseTo(0.5 - (sin(2 * to) - sin(2 * from)) / (4 * angular), within(tolerance));
        assertThat(moments[1][0]).isCloseTo((cos(2 * from) - cos(2 * to)) / (4 * angular), within(tolerance));
        assertThat(moments[0][3]).isCloseTo((sin(to) - sin(from)) / angular, within(tolerance));
        assertThat(moments[0][4])
                .isCloseTo(sin(to) / angular + (cos(to) - cos(from)) / (angular * angular), within(tolerance));
        assertThat(moments[3][3]).isCloseTo(1, within(1e-14));
        assertThat(moments[4][3]).isCloseTo(0.5, within(1e-14));
        assertThat(moments[4][4]).isCloseTo(1.0 / 3, within(1e-14));
        double level = START - 2 * SINKING;
        double sum = level * level - level * SINKING + SINKING * SINKING / 3;
        assertThat(moments[2][2]).isCloseTo(sum, within(1e-12));
    }

    /** What rings while something slow and something fast die out: doubled along the ladder as integrated piece by piece. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void secondMomentsAreThoseOfThePieces(long seed) {
        Random random = new Random(seed);
        int n = 5;
        double[][] a = new double[n][n];
        double[] b = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                a[i][j] = (i < j ? 1 : -1) * 60 * (i == j ? random.nextDouble() / 20 : 1 + (i + j) * 0.1);
            }
            b[i] = random.nextDouble() - 0.5;
        }
        a[n - 1][n - 1] = -4000;
        Phase phase = new Phase(configuration("ringing", 1, a, b, List.of()), 1, POSITIVE_INFINITY);
        double[] start = random.doubles(n).toArray();
        Interval interval = Simulation.of(TestLaw.ring(ones(n), 1, List.of(phase)))
                .record(start, 2)
                .interval(0);
        boolean[] all = new boolean[n + 2];
        Arrays.fill(all, true);
        double[][] pieces = interval.integrated(all);
        double[][] doubled = interval.secondMoments();
        for (int i = 0; i < n + 2; i++) {
            for (int j = i; j < n + 2; j++) {
                double size = Math.sqrt(pieces[i][i] * pieces[j][j]);
                assertThat(doubled[i][j]).isCloseTo(pieces[i][j], within(1e-12 * size));
                assertThat(doubled[j][i]).isEqualTo(doubled[i][j]);
            }
        }
    }

    /** By hand: x = exp(-t), y = r / (r - 1) (exp(-t) - exp(-r t)), over spans that no level of the ladder ends with. */
    @ParameterizedTest
    @CsvSource({"50, 0.4142", "1e3, 0.7321", "1e6, 0.01", "1e6, 1", "1e9, 0.5772"})
    void secondMomentsOfWhatIsStiffAreThoseByHand(double ratio, double duration) {
        double[][] rates = {{-1, 0}, {ratio, -ratio}};
        Phase phase = new Phase(configuration("stiff", 1, rates, new double[2], List.of()), 1, POSITIVE_INFINITY);
        double[][] moments = Simulation.of(TestLaw.ring(ones(2), 1, List.of(phase)))
                .record(new double[] {1, 0}, duration)
                .interval(0)
                .secondMoments();
        double follows = ratio / (ratio - 1);
        double slow = -Math.expm1(-2 * duration) / 2;
        double mixed = -Math.expm1(-(1 + ratio) * duration) / (1 + ratio);
        double fast = -Math.expm1(-2 * ratio * duration) / (2 * ratio);
        assertThat(moments[0][0]).isCloseTo(slow, within(1e-14 * slow));
        assertThat(moments[0][1]).isCloseTo(follows * (slow - mixed), within(1e-14 * slow));
        assertThat(moments[1][1]).isCloseTo(follows * follows * (slow - 2 * mixed + fast), within(2e-14 * slow));
        assertThat(moments[2][2]).isCloseTo(duration, within(1e-15 * duration));
        assertThat(moments[3][2]).isCloseTo(duration * duration / 2, within(1e-15 * duration));
    }

    /** Sums of the moments of intervals of all lengths, long and short ones, some of which come several times. */
    @Test
    void secondMomentsOfManyIntervalsAreTheirSums() {
        Guard edge = new Guard("edge", AffineForm.of(new double[] {0, 0, 1}, 0.3 - START, -1));
        Configuration first = swinging(300, List.of(edge));
        Phase one = new Phase(first, POSITIVE_INFINITY, POSITIVE_INFINITY);
        Phase other = new Phase(swinging(2, List.of()), 1, POSITIVE_INFINITY);
        Trajectory run =
                Simulation.of(TestLaw.ring(ones(3), 1, List.of(one, other))).record(new double[] {1, 0, START}, 20);
        boolean[] all = {true, true, true, true, true};
        for (Configuration configuration : List.of(first, other.configuration())) {
            Interval.Moments moments = new Interval.Moments(configuration, all);
            double[][] sum = new double[5][5];
            for (Interval interval : run.intervals()) {
                if (interval.configuration() == configuration) {
                    int times = 1 + interval.index() % 3;
                    moments.add(interval, times);
                    double[][] each = interval.integrated(all);
                    for (int i = 0; i < 5; i++) {
                        for (int j = 0; j < 5; j++) {
                            sum[i][j] += times * each[Math.min(i, j)][Math.max(i, j)];
                        }
                    }
                }
            }
            double[][] values = moments.values();
            assertThat(sum[3][3]).isGreaterThan(5);
            for (int i = 0; i < 5; i++) {
                for (int j = 0; j < 5; j++) {
                    double size = Math.sqrt(sum[i][i] * sum[j][j]);
                    assertThat(values[i][j]).isCloseTo(sum[i][j], within(1e-13 * size));
                }
            }
        }
    }

    /**
     * A level that sinks beside a cosine that dies out, over 200 turns: the sum falls through zero once, in a turn of which the lowest
     * point lies just below zero, or just above and never then. By hand: level - t / 100 + cos(w t) exp(-d t).
     */
    @ParameterizedTest
    @CsvSource({"1, 0, 300", "1, 0, 1000", "1, 0.3, 1000", "0.5, 1, 700", "0.9, 2, 1300"})
    void nothingIsLeaptOverThatDipsBelowZero(double turnShare, double damping, double angular) {
        double lowest = Double.POSITIVE_INFINITY;
        double when = 0;
        double until = turnShare;
        int steps = 4_000_000;
        for (int k = 0; k <= steps; k++) {
            double t = until * k / steps;
            double value = cos(angular * t) * Math.exp(-damping * t) - t / 100;
            when = value < lowest ? t : when;
            lowest = Math.min(lowest, value);
        }
        double[][] a = {{-damping, -angular, 0}, {angular, -damping, 0}, {0, 0, 0}};
        double[] b = {0, 0, -0.01};
        for (double beside : new double[] {-1e-7, 1e-7}) {
            Guard dip = new Guard("dip", AffineForm.of(new double[] {1, 0, 1}, 0));
            Phase first =
                    new Phase(configuration("rings", 1, a, b, List.of(dip)), POSITIVE_INFINITY, POSITIVE_INFINITY);
            Phase rests = new Phase(
                    configuration("rests", 1, new double[3][3], new double[3], List.of()),
                    POSITIVE_INFINITY,
                    POSITIVE_INFINITY);
            Trajectory run = Simulation.of(TestLaw.ring(ones(3), 1, List.of(first, rests)))
                    .record(new double[] {1, 0, beside - lowest}, until);
            assertThat(run.size()).isEqualTo(beside < 0 ? 2 : 1);
            if (beside < 0) {
                assertThat(run.interval(0).end()).isCloseTo(when, within(1e-3 / angular));
            }
        }
    }

    /** Steps over what rings are those of the run alone: one that has run before, on the same flow, changes no bit. */
    @Test
    void aRunIsTheSameToTheBitWhateverRanBefore() {
        Guard far = new Guard("far", AffineForm.of(new double[] {1, 0.3, 0}, 2));
        Phase phase = new Phase(swinging(3000, List.of(far)), 1, POSITIVE_INFINITY);
        Simulation simulation = Simulation.of(TestLaw.ring(ones(3), 1, List.of(phase)));
        double[] start = {0.7, 0.2, START};
        double[] first = simulation.finalState(start, 0.9371);
        assertThat(simulation.finalState(start, 0.9371)).containsExactly(first);
        assertThat(first[0] * first[0] + first[1] * first[1]).isCloseTo(0.53, within(1e-11));
    }

    /** What rings for 5,000 turns is right to the phase at its end, where no guard is near and where one is that does not reach zero. */
    @ParameterizedTest
    @ValueSource(doubles = {0.2, 0.99999, 3})
    void theStateAfterManyTurnsIsRight(double amplitude) {
        double angular = 2 * PI * 5000.1;
        Guard far = new Guard("far", AffineForm.of(new double[] {1, 0, 0}, 1));
        Phase phase = new Phase(swinging(angular, amplitude < 1 ? List.of(far) : List.of()), 1, POSITIVE_INFINITY);
        double[] end = Simulation.of(TestLaw.ring(ones(3), 1, List.of(phase)))
                .finalState(new double[] {amplitude, 0, START}, 0.999);
        double rounding = 4 * Math.ulp(angular) * amplitude; // of the angle by hand as well
        assertThat(end[0]).isCloseTo(amplitude * cos(angular * 0.999), within(rounding));
        assertThat(end[1]).isCloseTo(amplitude * sin(angular * 0.999), within(rounding));
    }

    /** Where the level stays out of reach, the two phases go on for as long as one likes, in the same memory. */
    @ParameterizedTest
    @ValueSource(doubles = {9, 31, 44})
    void goesOnInTheSameMemory(double angular) {
        TestLaw law = law(angular, true);
        for (int i = 0; i < 3; i++) {
            allocated(law, 20_000);
        }
        long once = allocated(law, 10_000);
        long twice = allocated(law, 20_000);
        assertThat(twice - once).isLessThan(1000);
    }

    private static long allocated(TestLaw law, int periods) {
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long id = Thread.currentThread().getId();
        long before = threads.getThreadAllocatedBytes(id);
        double[] end = Simulation.of(law).finalState(new double[] {1, 0, 100}, periods);
        assertThat(end[2]).isCloseTo(100 - SINKING * periods, within(1e-8));
        return threads.getThreadAllocatedBytes(id) - before;
    }
}
