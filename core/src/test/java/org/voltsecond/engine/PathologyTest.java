package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.engine.TestLaw.above;
import static org.voltsecond.engine.TestLaw.below;
import static org.voltsecond.engine.TestLaw.configuration;
import static org.voltsecond.engine.TestLaw.ones;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Guards that behave badly: each test is named after the failure that it would catch. */
class PathologyTest {
    /** A state x, its rate and a constant second derivative: a parabola. */
    private static Configuration parabola(double clockPeriod, double acceleration, List<Guard> guards) {
        return configuration(
                "parabola", clockPeriod, new double[][] {{0, 1}, {0, 0}}, new double[] {0, acceleration}, guards);
    }

    private record Event(double time, int guard) {}

    /** Runs two periods, in the guarded configuration until its first event, then at rest; null if there is none. */
    private static @Nullable Event firstEvent(Configuration guarded, double clockPeriod, double end, double... start) {
        int n = start.length;
        Phase before = new Phase(guarded, end, POSITIVE_INFINITY);
        Configuration rest = configuration("rest", clockPeriod, new double[n][n], new double[n], List.of());
        Phase after = new Phase(rest, POSITIVE_INFINITY, POSITIVE_INFINITY);
        int[] guard = {-1};
        TestLaw law = new TestLaw(ones(n), clockPeriod, List.of(), state -> Entry.of(before), (e, cause, state, t) -> {
            if (cause.kind() == Cause.Kind.END) {
                return Entry.of(before);
            }
            guard[0] = cause.index();
            return Entry.of(after);
        });
        Trajectory run = Simulation.of(law).record(start, 2 * clockPeriod);
        return run.intervals().stream()
                .filter(interval -> interval.phase() == after)
                .findFirst()
                .map(interval -> new Event(interval.start(), guard[0]))
                .orElse(null);
    }

    private static Event certain(@Nullable Event event) {
        return Objects.requireNonNull(event, "there must be an event");
    }

    private static double timeOf(@Nullable Event event) {
        return certain(event).time();
    }

    // ---- contact

    @ParameterizedTest
    @CsvSource({"1, 0.5", "1e-6, 0.5", "1, 0.75", "3e-7, 0.25", "1, 0.3", "1e-3, 1.7"})
    void grazingContactIsNoCrossing(double clockPeriod, double at) {
        // (t / T - at)^2 touches zero
        double rate = -2 * at / clockPeriod;
        Configuration grazing = parabola(clockPeriod, 2 / (clockPeriod * clockPeriod), List.of(above(2, 0, 0)));
        Configuration scaled = Configuration.builder("parabola", new double[] {1, clockPeriod}, clockPeriod)
                .dynamics(new double[][] {{0, 1}, {0, 0}}, new double[] {0, 2 / (clockPeriod * clockPeriod)})
                .guards(grazing.guards())
                .build();
        Phase phase = new Phase(scaled, POSITIVE_INFINITY, POSITIVE_INFINITY);
        TestLaw law = new TestLaw(
                new double[] {1, clockPeriod}, clockPeriod, List.of(), state -> Entry.of(phase), (e, c, s, t) -> {
                    throw new SwitchingException("contact was taken for a crossing");
                });
        Trajectory run = Simulation.of(law).record(new double[] {at * at, rate}, 2 * clockPeriod);
        assertThat(run.size()).isEqualTo(1);
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 0.5, 0.37, 1.9})
    void dipOfOnePartInTenToTheTwelveIsFound(double at) {
        double dip = 1e-12;
        Configuration grazing = parabola(1, 2, List.of(above(2, 0, 0)));
        Event event = firstEvent(grazing, 1, POSITIVE_INFINITY, at * at - dip, -2 * at);
        // (t - at)^2 = dip; round-off of 1e-16 in the start moves the time by 1e-16 / (2 sqrt(dip))
        assertThat(timeOf(event)).isCloseTo(at - Math.sqrt(dip), within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 0.5, 0.37, 1.9})
    void missByOnePartInTenToTheTwelveIsNoCrossing(double at) {
        Configuration grazing = parabola(1, 2, List.of(above(2, 0, 0)));
        assertThat(firstEvent(grazing, 1, POSITIVE_INFINITY, at * at + 1e-12, -2 * at))
                .isNull();
    }

    @ParameterizedTest
    @CsvSource({"1e-12, true", "-1e-12, false"})
    void oscillationThatJustReachesALevel(double excess, boolean crosses) {
        Configuration swing = configuration(
                "swing", 4, new double[][] {{0, 1}, {-1, 0}}, new double[2], List.of(below(2, 0, 1 - excess)));
        Event event = firstEvent(swing, 4, POSITIVE_INFINITY, 0, 1);
        assertThat(event != null).isEqualTo(crosses);
        if (crosses) {
            assertThat(timeOf(event)).isCloseTo(Math.asin(1 - excess), within(1e-9));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e-1, 1e-3, 1e-5, 1e-6})
    void pairOfCrossingsInsideOneIntervalIsNotStraddled(double apart) {
        // positive at both ends of the interval; no sampling is fine enough for all of these
        double at = 0.61803;
        Configuration dipping = parabola(1, 2, List.of(above(2, 0, 0)));
        double first = at - apart / 2;
        double second = at + apart / 2;
        Event event = firstEvent(dipping, 1, 1, first * second, -2 * at);
        assertThat(timeOf(event)).isCloseTo(first, within(4e-16 / apart));
    }

    // ---- the start of an interval

    @ParameterizedTest
    @CsvSource({
        // start value, rate, acceleration, time of the event (NaN: none)
        "0, 1, 0, NaN",
        "0, -1, 0, 0",
        "0, 0, 2, NaN",
        "0, 0, -2, 0",
        "0, 0, 0, NaN",
        "1e-17, 1, 0, NaN",
        "-1e-17, 1, 0, NaN",
        "1e-17, -1, 0, 0",
        "-1e-17, -1, 0, 0",
        "-1e-17, 0, 2, NaN",
        "0, 1, -2, 1",
        "1e-17, 1, -2, 1",
        "-1e-17, 1, -2, 1",
        "0, 1e-3, -2, 1e-3",
        "-1e-9, 1, 0, 0",
        "1e-9, -1, 0, 1e-9"
    })
    void guardThatStartsAtZeroIsJudgedByItsFirstDerivative(double x, double rate, double acceleration, double time) {
        // a companion state of size 1 sets what round-off is
        Configuration only = configuration(
                "parabola",
                1,
                new double[][] {{0, 1, 0}, {0, 0, 0}, {0, 0, 0}},
                new double[] {0, acceleration, 0},
                List.of(above(3, 0, 0)));
        Event event = firstEvent(only, 1, 1, x, rate, 1);
        if (Double.isNaN(time)) {
            assertThat(event).isNull();
        } else {
            assertThat(timeOf(event)).isCloseTo(time, within(1e-13));
        }
    }

    @Test
    void touchAgainAfterAStartAtZeroIsStillContact() {
        // u (u - 0.5)^2: rises from zero, comes back to touch zero, and goes on rising
        Configuration cubic = configuration(
                "cubic",
                1,
                new double[][] {{0, 1, 0}, {0, 0, 1}, {0, 0, 0}},
                new double[] {0, 0, 6},
                List.of(above(3, 0, 0)));
        assertThat(firstEvent(cubic, 1, 1, 0, 0.25, -2)).isNull();
    }

    // ---- the end of an interval

    @ParameterizedTest
    @ValueSource(doubles = {1, 0.1, 1 / 300e3, 7e-6, 0.3})
    void rootExactlyOnTheClockEdgeLeavesTheEdgeInPlace(double clockPeriod) {
        // falls from 1 to 0 in a period: the edge comes first, then, in the next period, the guard at once
        Guard guard = above(1, 0, 0);
        Configuration fall =
                configuration("fall", clockPeriod, new double[1][1], new double[] {-1 / clockPeriod}, List.of(guard));
        Configuration rise =
                configuration("rise", clockPeriod, new double[1][1], new double[] {1 / clockPeriod}, List.of());
        Phase falling = new Phase(fall, clockPeriod, POSITIVE_INFINITY);
        Phase rising = new Phase(rise, clockPeriod, POSITIVE_INFINITY);
        List<String> story = new ArrayList<>();
        TestLaw law =
                new TestLaw(ones(1), clockPeriod, List.of(), state -> Entry.of(falling), (ended, cause, state, t) -> {
                    story.add(cause.kind() + " of " + ended + " at " + t);
                    return Entry.of(cause.kind() == Cause.Kind.GUARD ? rising : falling);
                });
        Trajectory run = Simulation.of(law).record(new double[] {1}, 4 * clockPeriod);
        // later ones are taken from memory, but for the look at the guard that is not clear of zero
        assertThat(story).startsWith("END of fall at 0.0", "GUARD of fall at 0.0", "END of rise at 0.0");
        assertThat(run.intervals())
                .extracting(i -> i.configuration().name())
                .containsExactly("fall", "rise", "fall", "rise");
        assertThat(run.interval(3).startTime()).isEqualTo(new ClockTime(3, 0));
    }

    @Test
    void rootExactlyAtATimedEndComesAfterTheEnd() {
        Configuration fall = configuration("fall", 1, new double[1][1], new double[] {-1}, List.of(above(1, 0, 0)));
        Configuration rest = configuration("rest", 1, new double[1][1], new double[1], List.of());
        Phase falling = new Phase(fall, 0.7, POSITIVE_INFINITY);
        Phase resting = new Phase(rest, POSITIVE_INFINITY, POSITIVE_INFINITY);
        List<Cause> story = new ArrayList<>();
        TestLaw law = new TestLaw(ones(1), 1, List.of(), state -> Entry.of(falling), (ended, cause, state, t) -> {
            story.add(cause);
            return Entry.of(resting);
        });
        Simulation.of(law).record(new double[] {0.7}, 2);
        assertThat(story).containsExactly(Cause.END);
    }

    // ---- several at one instant

    @Test
    void simultaneousGuardsAreHandedOverInTheirListedOrder() {
        // both reach zero at t = 1/3 on paths that round differently
        Guard steep = new Guard("steep", AffineForm.of(new double[] {-3, 0}, 1));
        Guard flat = new Guard("flat", AffineForm.of(new double[] {0, -1}, 1.0 / 3));
        for (List<Guard> order : List.of(List.of(steep, flat), List.of(flat, steep))) {
            Configuration both = configuration("both", 1, new double[2][2], new double[] {1, 1}, order);
            Event event = firstEvent(both, 1, 1, 0, 0);
            assertThat(timeOf(event)).isCloseTo(1.0 / 3, within(1e-15));
            assertThat(certain(event).guard()).isZero();
        }
    }

    @Test
    void simultaneousGuardsAtTheStartAreHandedOverInTheirListedOrder() {
        for (double first : new double[] {0, 1e-17, -1e-17}) {
            Configuration both = configuration(
                    "both", 1, new double[3][3], new double[] {-1, -1, 0}, List.of(above(3, 0, 0), above(3, 1, 0)));
            List<Cause> story = new ArrayList<>();
            Phase phase = new Phase(both, 1, POSITIVE_INFINITY);
            Phase free = new Phase(
                    configuration("free", 1, new double[3][3], new double[3], List.of()), 1, POSITIVE_INFINITY);
            TestLaw law = new TestLaw(ones(3), 1, List.of(), state -> Entry.of(phase), (ended, cause, state, t) -> {
                story.add(cause);
                return Entry.of(free);
            });
            Simulation.of(law).record(new double[] {first, 0, 1}, 1);
            assertThat(story).containsExactly(Cause.guard(0));
        }
    }

    @Test
    void earlierGuardWinsOverEarlierListed() {
        Configuration both = configuration(
                "both", 1, new double[2][2], new double[] {-1, -1}, List.of(above(2, 0, 0), above(2, 1, 0)));
        Event event = firstEvent(both, 1, 1, 0.5, 0.5 - 1e-13);
        assertThat(certain(event).guard()).isEqualTo(1);
    }

    // ---- scheduled changes

    /** Two phases a period; every change, end and its time is written down; a change keeps the place in the cycle. */
    private static List<String> story(double clockPeriod, double duration, ClockTime... changes) {
        Configuration rest = configuration("rest", clockPeriod, new double[1][1], new double[1], List.of());
        Phase first = new Phase(rest, 0.4 * clockPeriod, POSITIVE_INFINITY);
        Phase second = new Phase(rest, clockPeriod, POSITIVE_INFINITY);
        List<String> story = new ArrayList<>();
        TestLaw law = new TestLaw(
                ones(1), clockPeriod, List.of(changes), state -> Entry.of(first), (ended, cause, state, t) -> {
                    story.add(cause.kind() + " " + cause.index() + " in " + (ended == first ? "first" : "second")
                            + " at " + t / clockPeriod);
                    if (cause.kind() == Cause.Kind.CHANGE) {
                        return Entry.of(ended);
                    }
                    return Entry.of(ended == first ? second : first);
                });
        // without guards nothing is ever taken from memory that the law would not say again; the first answers suffice
        Simulation.of(law).record(new double[1], duration);
        return story;
    }

    @Test
    void changeInTheMiddleOfAnInterval() {
        assertThat(story(1, 2, new ClockTime(1, 0.25)))
                .containsExactly("END 0 in first at 0.4", "END 0 in second at 0.0", "CHANGE 0 in first at 0.25");
    }

    @Test
    void changeOnAClockEdgeComesBeforeTheEdgeAndDoesNotSwallowIt() {
        assertThat(story(1, 1.2, new ClockTime(1, 0)))
                .containsExactly("END 0 in first at 0.4", "CHANGE 0 in second at 1.0", "END 0 in second at 0.0");
    }

    @Test
    void changeOnATimedEndComesBeforeTheEnd() {
        assertThat(story(1, 1, new ClockTime(0, 0.4)))
                .containsExactly("CHANGE 0 in first at 0.4", "END 0 in first at 0.4");
    }

    @Test
    void severalChangesAtOneInstantComeInTheirOrder() {
        assertThat(story(
                        1, 1.2, new ClockTime(1, 0), new ClockTime(1, 0), new ClockTime(1, 0.1), new ClockTime(1, 0.1)))
                .containsExactly(
                        "END 0 in first at 0.4",
                        "CHANGE 0 in second at 1.0",
                        "CHANGE 1 in second at 1.0",
                        "END 0 in second at 0.0",
                        "CHANGE 2 in first at 0.1",
                        "CHANGE 3 in first at 0.1");
    }

    @Test
    void changeAtTheStartOfTheRunHappensAtOnce() {
        assertThat(story(1, 0.2, ClockTime.ZERO)).containsExactly("CHANGE 0 in first at 0.0");
    }

    @Test
    void changeAtTheEndOfTheRunHasNotYetHappened() {
        assertThat(story(1, 1, new ClockTime(1, 0))).containsExactly("END 0 in first at 0.4");
        assertThat(story(1, 0.2, new ClockTime(0, 0.2))).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 3, 4, 7, 64, 65, 1000, 1 << 20, 123456789})
    void changeOnAnEdgeInALongIntervalKeepsTheClockExact(long edge) {
        double clockPeriod = 1 / 300e3;
        Configuration rest = configuration("rest", clockPeriod, new double[1][1], new double[1], List.of());
        Phase unclocked = new Phase(rest, POSITIVE_INFINITY, POSITIVE_INFINITY);
        TestLaw law = TestLaw.ring(ones(1), clockPeriod, List.of(unclocked))
                .withChanges(List.of(new ClockTime(edge, 0), new ClockTime(edge + 1, 0.25 * clockPeriod)));
        Trajectory run = Simulation.of(law).record(new double[1], (edge + 2) * clockPeriod);
        assertThat(run.intervals())
                .extracting(Interval::startTime)
                .containsExactly(ClockTime.ZERO, new ClockTime(edge, 0), new ClockTime(edge + 1, 0.25 * clockPeriod));
    }

    @Test
    void changesOutOfOrderAreRefused() {
        for (List<ClockTime> wrong : List.of(
                List.of(new ClockTime(1, 0), new ClockTime(0, 0.5)),
                List.of(new ClockTime(0, Double.NaN)),
                List.of(new ClockTime(0, 1)),
                List.of(new ClockTime(-1, 0)))) {
            Configuration rest = configuration("rest", 1, new double[1][1], new double[1], List.of());
            Simulation simulation =
                    Simulation.of(TestLaw.single(rest, ones(1), 1).withChanges(wrong));
            assertThatThrownBy(() -> simulation.finalState(new double[1], 3))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("scheduled changes");
        }
    }

    // ---- growth and bad numbers

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void unboundedGrowthIsAnErrorWithAndWithoutGuards(boolean guarded) {
        for (double clockPeriod : new double[] {0.5, 3000}) {
            for (int n : new int[] {1, 2, 3}) {
                double[][] a = new double[n][n];
                double[] start = new double[n];
                for (int i = 0; i < n; i++) {
                    a[i][i] = 1;
                    start[i] = 1;
                }
                Configuration grows = configuration(
                        "grows", clockPeriod, a, new double[n], guarded ? List.of(above(n, 0, 0)) : List.of());
                Simulation simulation = Simulation.of(TestLaw.single(grows, ones(n), clockPeriod));
                assertThatThrownBy(() -> simulation.finalState(start, 3000))
                        .isInstanceOf(SwitchingException.class)
                        .hasMessageContaining("grows")
                        .hasMessageContaining("grows without bound")
                        .hasMessageStartingWith("at ");
            }
        }
    }

    @Test
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void undampedModeFarTooFastForTheIntervalIsAnErrorWithItsTime() {
        Configuration swing = configuration(
                "swing", 1, new double[][] {{0, 1e12}, {-1e12, 0}}, new double[2], List.of(above(2, 0, -2)));
        Simulation simulation = Simulation.of(TestLaw.single(swing, ones(2), 1));
        assertThatThrownBy(() -> simulation.finalState(new double[] {1, 0}, 1))
                .isInstanceOfSatisfying(
                        SwitchingException.class, e -> assertThat(e.time()).isZero())
                .hasMessageContaining("does not die out");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void numbersThatAreNotFiniteAreRefused(double bad) {
        double[] one = {1};
        Configuration fine = configuration("fine", 1, new double[1][1], new double[1], List.of());
        Simulation simulation = Simulation.of(TestLaw.single(fine, one, 1));
        List<Runnable> attempts = List.of(
                () -> configuration("bad", 1, new double[][] {{bad}}, new double[1], List.of()),
                () -> configuration("bad", 1, new double[1][1], new double[] {bad}, List.of()),
                () -> configuration("bad", bad, new double[1][1], new double[1], List.of()),
                () -> Configuration.builder("bad", new double[] {bad}, 1).build(),
                () -> configuration("bad", 1, new double[1][1], new double[1], List.of(above(1, 0, bad))),
                () -> Configuration.builder("bad", one, 1)
                        .channels(List.of(AffineForm.of(new double[] {bad}, 0)))
                        .build(),
                () -> Configuration.builder("bad", one, 1)
                        .constraints(List.of(AffineForm.of(one, 0, bad)))
                        .build(),
                () -> AffineMap.of(new double[][] {{bad}}, new double[1]),
                () -> AffineMap.of(new double[1][1], new double[] {bad}),
                () -> simulation.finalState(new double[] {bad}, 1),
                () -> simulation.record(new double[] {1}, bad),
                () -> PeriodMap.of(TestLaw.single(fine, one, 1), 1).apply(new double[] {bad}),
                () -> Simulation.of(TestLaw.single(fine, one, bad)).finalState(new double[1], 1),
                () -> Simulation.of(TestLaw.single(fine, new double[] {bad}, 1)).finalState(new double[1], 1));
        for (int i = 0; i < attempts.size(); i++) {
            assertThatThrownBy(attempts.get(i)::run)
                    .as("attempt " + i)
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageMatching(".*(NaN|Infinity).*");
        }
    }

    @Test
    void thingsThatDoNotFitTogetherAreRefused() {
        Configuration fine = configuration("fine", 1, new double[1][1], new double[1], List.of());
        Configuration larger = configuration("larger", 1, new double[2][2], new double[2], List.of());
        AffineMap jump = AffineMap.of(new double[2][2], new double[2]);
        Phase phase = new Phase(fine, 1, POSITIVE_INFINITY);
        List<Runnable> attempts = List.of(
                () -> Simulation.of(TestLaw.single(fine, ones(1), 1)).finalState(new double[2], 1),
                () -> Simulation.of(TestLaw.single(larger, ones(1), 1)).finalState(new double[1], 1),
                () -> Simulation.of(TestLaw.single(fine, new double[] {8}, 1)).finalState(new double[1], 1),
                () -> Simulation.of(TestLaw.ring(ones(1), 1, List.of(new Phase(fine, 1.5, 1))))
                        .finalState(new double[1], 1),
                () -> Simulation.of(new TestLaw(
                                ones(1), 1, List.of(), s -> new Entry(phase, jump), (e, c, s, t) -> Entry.of(phase)))
                        .finalState(new double[1], 1),
                () -> PeriodMap.of(TestLaw.single(fine, ones(1), 1), 0),
                () -> AffineMap.of(new double[2][2], new double[1]),
                () -> new Phase(fine, 0, 1),
                () -> new Phase(fine, 1, -1),
                () -> new Phase(fine, Double.NaN, 1));
        for (int i = 0; i < attempts.size(); i++) {
            assertThatThrownBy(attempts.get(i)::run).as("attempt " + i).isInstanceOf(IllegalArgumentException.class);
        }
    }
}
