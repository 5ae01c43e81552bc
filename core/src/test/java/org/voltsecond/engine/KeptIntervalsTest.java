package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is kept of a walk reads as the walk itself. */
class KeptIntervalsTest {
    private static final double RATIO = 1e4;
    private static final AffineForm ANY = AffineForm.of(new double[] {0.7, -0.2}, 0.3, 1.5);

    /** Slow x' = -x and fast y' = r (x - y), in intervals of one clock period. */
    private static Trajectory run(int intervals) {
        Phase only = new Phase(stiff("stiff", RATIO), 1, POSITIVE_INFINITY);
        return Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(only))).record(new double[] {1, 0}, intervals);
    }

    private static Configuration stiff(String name, double ratio) {
        return TestLaw.configuration(name, 1, new double[][] {{-1, 0}, {ratio, -ratio}}, new double[2], List.of());
    }

    private static List<String> bits(List<Walk.Segment> segments) {
        return segments.stream()
                .map(segment -> segment.offset() + " " + segment.length() + " " + segment.interpolated() + " "
                        + java.util.Arrays.toString(segment.states()))
                .toList();
    }

    @Test
    void anIntervalIsWalkedThroughOnce() {
        Trajectory run = run(3);
        Walk.Walked walked = new Walk.Walked(run.size());
        List<Walk.Segment> first = walked.segments(run.interval(0).kept(), 1);
        assertThat(first).hasSizeGreaterThan(5);
        assertThat(first).anyMatch(Walk.Segment::interpolated).anyMatch(segment -> !segment.interpolated());
        walked.segments(run.interval(0).kept(), 2);
        assertThat(walked.segments(run.interval(0).kept(), 1)).isSameAs(first);
    }

    @Test
    void withoutRoomForAllTheLastOnesAreKept() {
        Trajectory run = run(20);
        Walk.Walked walked = new Walk.Walked(run.size(), 0);
        List<List<Walk.Segment>> all = IntStream.range(0, 20)
                .mapToObj(index -> walked.segments(run.interval(0).kept(), index))
                .toList();
        assertThat(walked.segments(run.interval(0).kept(), 19)).isSameAs(all.get(19));
        assertThat(walked.segments(run.interval(0).kept(), 0)).isNotSameAs(all.get(0));
        Walk.Walked roomy = new Walk.Walked(run.size());
        for (int index = 0; index < 20; index++) {
            assertThat(bits(walked.segments(run.interval(0).kept(), index)))
                    .isEqualTo(bits(all.get(index)))
                    .isEqualTo(bits(roomy.segments(run.interval(0).kept(), index)));
        }
    }

    @Test
    void anIntervalOfVeryManySegmentsIsNotKept() {
        double fast = 4e6;
        Configuration ringing =
                TestLaw.configuration("ringing", 1, new double[][] {{0, fast}, {-fast, 0}}, new double[2], List.of());
        Phase only = new Phase(ringing, 1, POSITIVE_INFINITY);
        Trajectory run =
                Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(only))).record(new double[] {1, 0}, 1);
        Walk.Walked walked = new Walk.Walked(run.size());
        List<Walk.Segment> first = walked.segments(run.interval(0).kept(), 0);
        assertThat(first).hasSizeGreaterThan(60_000);
        assertThat(walked.segments(run.interval(0).kept(), 0)).isNotSameAs(first);
        assertThat(bits(walked.segments(run.interval(0).kept(), 0))).isEqualTo(bits(first));
    }

    @Test
    void aFormThatIsReadAlongSeveralFlowsIsRightAlongEach() {
        Phase first = new Phase(stiff("first", RATIO), 1, POSITIVE_INFINITY);
        Phase second = new Phase(stiff("second", 3 * RATIO), 1, POSITIVE_INFINITY);
        Trajectory run = Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(first, second)))
                .record(new double[] {1, 0}, 4);
        for (Interval interval : run.intervals()) {
            AffineForm fresh = AffineForm.of(new double[] {0.7, -0.2}, 0.3, 1.5);
            assertThat(interval.pieces(ANY).toString())
                    .isEqualTo(interval.pieces(fresh).toString());
        }
    }

    /** By hand: x = exp(-t), y = r / (r - 1) (exp(-t) - exp(-r t)), and a ramp that begins at each clock edge. */
    @Test
    void aRampIsReadAlongAStiffInterval() {
        Interval first = run(1).interval(0);
        List<Piece> pieces = first.pieces(ANY);
        assertThat(pieces).hasSizeGreaterThan(5);
        double x = -Math.expm1(-1);
        double y = RATIO / (RATIO - 1) * (x - 1 / RATIO);
        assertThat(pieces.stream().mapToDouble(Piece::integral).sum())
                .isCloseTo(0.7 * x - 0.2 * y + 0.3 + 1.5 / 2, within(1e-13));
        for (Piece piece : pieces) {
            double t = piece.start() + piece.length() / 2;
            double fast = RATIO / (RATIO - 1) * (Math.exp(-t) - Math.exp(-RATIO * t));
            assertThat(piece.valueAt(0.5)).isCloseTo(0.7 * Math.exp(-t) - 0.2 * fast + 0.3 + 1.5 * t, within(1e-12));
        }
    }

    /** By hand as above; a piece of the slow state alone has few terms. */
    @ParameterizedTest
    @CsvSource({"1e2, 19", "1e3, 25", "3.3e3, 25", "1e5, 27", "1e8, 39"})
    void aStiffIntervalHasFewSegmentsAndTheLastOfThemIsCut(double ratio, int most) {
        Phase only = new Phase(stiff("stiff", ratio), 1, POSITIVE_INFINITY);
        Interval interval = Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(only)))
                .record(new double[] {1, 0}, 1)
                .interval(0);
        List<Piece> slow = interval.pieces(AffineForm.of(new double[] {1, 0}, 0));
        List<Piece> fast = interval.pieces(AffineForm.of(new double[] {0, 1}, 0));
        // as many as there are: 13 until the fast part has died out, then ever longer ones up to a tenth of the slow
        // time constant
        assertThat(slow.size()).isLessThanOrEqualTo(most);
        assertThat(slow.stream().mapToDouble(Piece::length).sum()).isCloseTo(1, within(1e-15));
        assertThat(slow.get(slow.size() - 1).end()).isCloseTo(1, within(1e-15));
        for (int k = 0; k < slow.size(); k++) {
            assertThat(fast.get(k).start()).isEqualTo(slow.get(k).start());
            for (double u : new double[] {0, 0.3, 1}) {
                double t = slow.get(k).start() + u * slow.get(k).length();
                double follows = ratio / (ratio - 1) * (Math.exp(-t) - Math.exp(-ratio * t));
                assertThat(slow.get(k).valueAt(u)).isCloseTo(Math.exp(-t), within(2e-14));
                assertThat(fast.get(k).valueAt(u)).isCloseTo(follows, within(2e-14));
            }
        }
        assertThat(slow.get(0).degree()).isLessThan(fast.get(0).degree());
        assertThat(fast.get(0).degree()).isGreaterThan(20);
    }

    /** A term that is left out is certainly below rounding, whatever the states: slow ones that are large, fast ones that are not. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void noTermIsLeftOutThatCanBeSeen(long seed) {
        Random random = new Random(seed);
        double[][] rates = new double[4][4];
        for (int i = 0; i < 4; i++) {
            for (int j = 0; j <= i; j++) {
                rates[i][j] = (random.nextDouble() - 0.5) * Math.pow(10, random.nextInt(-3, 2));
            }
        }
        Flow flow = TestLaw.configuration("any", 1, rates, random.doubles(4).toArray(), List.of())
                .flow();
        for (int draw = 0; draw < 200; draw++) {
            double[] form = random.doubles(4).map(x -> x < 0.5 ? 0 : x).toArray();
            double[] z = random.doubles(4).map(x -> Math.pow(10, 6 * x - 3)).toArray();
            GuardRows rows = GuardRows.of(flow, AffineForm.of(form, random.nextDouble(), 2));
            double[] all = new double[Math.max(2, flow.degree + 1)];
            rows.polynomial(z, 0.4, flow.base, all);
            double[] some = rows.coefficients(z, 0.4, 1);
            double largest = Arrays.stream(all).map(Math::abs).max().orElse(0);
            for (int k = 0; k < all.length; k++) {
                assertThat(k < some.length ? some[k] : 0).isCloseTo(all[k], within(1e-13 * largest));
            }
            assertThat(Arrays.stream(all).skip(some.length).map(Math::abs).sum())
                    .isLessThan(all.length * 0x1p-60 * largest);
        }
    }

    @Test
    void onlyWhatIsReadOfALongIntervalIsWorkedOut() {
        List<Piece> pieces = run(1).interval(0).pieces(ANY);
        Piece last = pieces.get(pieces.size() - 1);
        assertThat(pieces.get(pieces.size() - 1)).isSameAs(last);
        assertThat(pieces).extracting(Piece::start).isSorted();
    }

    @Test
    void noMoreIsKeptForEverThanThereIsRoomFor() {
        Trajectory run = run(20);
        Walk.Walked unlimited = new Walk.Walked(run.size());
        int room = IntStream.range(0, 3)
                .flatMap(index -> unlimited.segments(run.interval(0).kept(), index).stream()
                        .mapToInt(segment -> segment.states().length))
                .sum();
        Walk.Walked walked = new Walk.Walked(run.size(), room);
        List<List<Walk.Segment>> all = IntStream.range(0, 20)
                .mapToObj(index -> walked.segments(run.interval(0).kept(), index))
                .toList();
        for (int index = 0; index < 3; index++) {
            assertThat(walked.segments(run.interval(0).kept(), index)).isSameAs(all.get(index));
        }
        // its place among the last ones was taken by the interval sixteen later
        assertThat(walked.segments(run.interval(0).kept(), 3)).isNotSameAs(all.get(3));
    }

    /** x' = y, y' = z, z' = 0 from (1, 2, 3): by hand 1 + 2 t + 1.5 t^2. */
    @Test
    void theSeriesOfAShortIntervalIsWorkedOutOnceWhereThereIsRoom() {
        double[][] chain = {{0, 1, 0}, {0, 0, 1}, {0, 0, 0}};
        Configuration falling = TestLaw.configuration("chain", 0.25, chain, new double[3], List.of());
        Phase only = new Phase(falling, 0.25, POSITIVE_INFINITY);
        Trajectory run = Simulation.of(TestLaw.ring(TestLaw.ones(3), 0.25, List.of(only)))
                .record(new double[] {1, 2, 3}, 0.75);
        Walk.Walked roomy = new Walk.Walked(run.size(), 1 << 10);
        Walk.Walked full = new Walk.Walked(run.size(), 10);
        assertThat(roomy.series(run.interval(0).kept(), 0))
                .isSameAs(roomy.series(run.interval(0).kept(), 0));
        assertThat(full.series(run.interval(0).kept(), 0))
                .isNotSameAs(full.series(run.interval(0).kept(), 0))
                .containsExactly(roomy.series(run.interval(0).kept(), 0));
        for (Interval interval : run.intervals()) {
            Piece piece =
                    interval.pieces(AffineForm.of(new double[] {1, 0, 0}, 0)).get(0);
            double t = interval.start() + 0.125;
            assertThat(piece.valueAt(0.5)).isCloseTo(1 + 2 * t + 1.5 * t * t, within(1e-14));
        }
    }
}
