package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.engine.TestLaw.above;
import static org.voltsecond.engine.TestLaw.below;
import static org.voltsecond.engine.TestLaw.configuration;
import static org.voltsecond.engine.TestLaw.ones;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Phases of no length, chattering, events that accumulate, and events that come to nothing. */
class ProgressTest {
    /** A state x, its rate and a constant second derivative: a parabola. */
    private static Configuration parabola(double clockPeriod, double acceleration, List<Guard> guards) {
        return configuration(
                "parabola", clockPeriod, new double[][] {{0, 1}, {0, 0}}, new double[] {0, acceleration}, guards);
    }

    @Test
    void phasesOfZeroLengthAreStepsOnTheWay() {
        Configuration rise = configuration("rise", 1, new double[1][1], new double[] {1}, List.of());
        Phase phase = new Phase(rise, 1, POSITIVE_INFINITY);
        Phase empty = new Phase(rise, 1, 0);
        Phase past = new Phase(rise, 0.1, POSITIVE_INFINITY);
        Phase half = new Phase(rise, 0.5, POSITIVE_INFINITY);
        Trajectory run = Simulation.of(TestLaw.ring(ones(1), 1, List.of(half, empty, past, phase)))
                .record(new double[1], 3);
        assertThat(run.intervals()).extracting(Interval::phase).containsExactly(half, phase, half, phase, half, phase);
        assertThat(run.finalState()[0]).isCloseTo(3, within(1e-15));
        assertThat(run.interval(3).startTime()).isEqualTo(new ClockTime(1, 0.5));
    }

    @Test
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void endlessStepsOfZeroLengthAreAnError() {
        Configuration rest = configuration("rest", 1, new double[1][1], new double[1], List.of());
        Phase empty = new Phase(rest, 1, 0);
        Phase another = new Phase(rest, 1, 0);
        Simulation simulation = Simulation.of(TestLaw.ring(ones(1), 1, List.of(empty, another)));
        assertThatThrownBy(() -> simulation.finalState(new double[1], 3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering")
                .hasMessageContaining("the timed end")
                .hasMessageContaining("rest");
    }

    @Test
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void chatteringNamesGuardAndTime() {
        // each configuration drives the state out of itself: sliding along x = 0.25
        Configuration up = configuration("up", 1, new double[1][1], new double[] {1}, List.of(below(1, 0, 0.25)));
        Configuration down = configuration("down", 1, new double[1][1], new double[] {-1}, List.of(above(1, 0, 0.25)));
        TestLaw law = TestLaw.ring(
                ones(1), 1, List.of(new Phase(up, 1, POSITIVE_INFINITY), new Phase(down, 1, POSITIVE_INFINITY)));
        int[] events = {0};
        TestLaw counting = new TestLaw(ones(1), 1, List.of(), law::first, (ended, cause, state, t) -> {
            events[0]++;
            return law.next(ended, cause, state, t);
        });
        assertThatThrownBy(() -> Simulation.of(counting).finalState(new double[1], 3))
                .isInstanceOfSatisfying(
                        SwitchingException.class, e -> assertThat(e.time()).isCloseTo(0.25, within(1e-9)))
                .hasMessageContaining("chattering")
                .hasMessageContaining("state 0")
                .hasMessageContaining("0.25");
        assertThat(events[0]).isBetween(100, 1000);
    }

    @Test
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void chatteringThroughAPhaseOfNoLengthIsFoundAsWell() {
        Configuration up = configuration("up", 1, new double[1][1], new double[] {1}, List.of(below(1, 0, 0.25)));
        Configuration rest = configuration("rest", 1, new double[1][1], new double[1], List.of());
        TestLaw law = TestLaw.ring(ones(1), 1, List.of(new Phase(up, 1, POSITIVE_INFINITY), new Phase(rest, 1, 0)));
        assertThatThrownBy(() -> Simulation.of(law).finalState(new double[1], 3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering");
    }

    /** So slow that the room which round-off is given would be progress. */
    @Test
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void slowChatteringIsFoundAsWell() {
        double rate = 1e-6;
        double[][] still = new double[2][2];
        Configuration up = configuration("up", 1, still, new double[] {rate, 0}, List.of(below(2, 0, 0.25)));
        Configuration down = configuration("down", 1, still, new double[] {-rate, 0}, List.of(above(2, 0, 0.25)));
        TestLaw law = TestLaw.ring(
                ones(2), 1, List.of(new Phase(up, 1, POSITIVE_INFINITY), new Phase(down, 1, POSITIVE_INFINITY)));
        assertThatThrownBy(() -> Simulation.of(law).finalState(new double[] {0.25 - rate / 2, 1000}, 3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageMatching("at 5\\d\\d(\\.\\d+)? ms: .*")
                .hasMessageContaining("chattering");
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.5, 0.9, 0.99})
    @Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
    void bouncesThatAccumulateEndInAnErrorNotInAHang(double restitution) {
        Configuration flight = parabola(1, -1, List.of(above(2, 0, 0)));
        Phase phase = new Phase(flight, 1, POSITIVE_INFINITY);
        AffineMap bounce = AffineMap.of(new double[][] {{0, 0}, {0, -restitution}}, new double[2]);
        TestLaw law = new TestLaw(
                ones(2),
                1,
                List.of(),
                state -> Entry.of(phase),
                (ended, cause, state, t) -> new Entry(phase, cause.kind() == Cause.Kind.GUARD ? bounce : null));
        // comes to rest after v (1 + e) / (1 - e) with v = 1 at the first contact, t = 1
        double rest = 1 + 2 * restitution / (1 - restitution);
        assertThatThrownBy(() -> Simulation.of(law).finalState(new double[] {0.5, 0}, 1000))
                .isInstanceOfSatisfying(
                        SwitchingException.class, e -> assertThat(e.time()).isCloseTo(rest, within(1e-6 * rest)))
                .hasMessageContaining("chattering");
    }

    // ---- events that come to nothing

    /** A state that decays to a value from zero, beside one that stays at 1: round-off of the guard is some 1e-14. */
    private static Configuration decay(double to) {
        double[][] a = {{-10, 0}, {0, 0}};
        return configuration("decay", 1, a, new double[] {10 * to, 0}, List.of(above(2, 0, 0)));
    }

    /** The law sees the guard at zero down to a limit, as a circuit does that counts round-off in another way. */
    private static TestLaw seeingZeroDownTo(double limit, Phase phase, Phase after, int[] asked) {
        return new TestLaw(ones(2), 1, List.of(), state -> Entry.of(phase), (ended, cause, state, t) -> {
            asked[0]++;
            return Entry.of(cause.kind() == Cause.Kind.GUARD && state[0] < -limit ? after : phase);
        });
    }

    @ParameterizedTest
    @ValueSource(doubles = {-2e-14, -1e-13, -1e-12})
    void aGuardThatStaysBelowZeroByRoundOffDoesNotStopTheRun(double to) {
        Phase phase = new Phase(decay(to), 1, POSITIVE_INFINITY);
        int[] asked = {0};
        TestLaw law = seeingZeroDownTo(1e-11, phase, phase, asked);
        double[] end = Simulation.of(law).finalState(new double[] {0, 1}, 10);
        assertThat(end[0]).isCloseTo(to, within(1e-3 * -to));
        assertThat(asked[0]).isLessThan(100);
    }

    @Test
    void aGuardThatFallsForGoodStillEndsItsPhase() {
        Phase phase = new Phase(decay(-1), 1, POSITIVE_INFINITY);
        Configuration rest = configuration("rest", 1, new double[2][2], new double[2], List.of());
        Phase after = new Phase(rest, 1, POSITIVE_INFINITY);
        int[] asked = {0};
        TestLaw law = seeingZeroDownTo(1e-13, phase, after, asked);
        Trajectory run = Simulation.of(law).record(new double[] {0, 1}, 1);
        // falls by 10 in a second at first
        assertThat(run.interval(1).phase()).isEqualTo(after);
        assertThat(run.interval(1).start()).isBetween(1e-14, 1e-12);
        assertThat(run.finalState()[0]).isBetween(-1e-11, -1e-13);
    }

    /** Room is for round-off, which is some 1e-14 here: no event is put off until the guard has fallen far beyond it. */
    @Test
    void aLawThatSeesAGuardFallFarTooLateIsAnError() {
        Phase phase = new Phase(decay(-1), 1, POSITIVE_INFINITY);
        Configuration rest = configuration("rest", 1, new double[2][2], new double[2], List.of());
        TestLaw law = seeingZeroDownTo(1e-9, phase, new Phase(rest, 1, POSITIVE_INFINITY), new int[1]);
        assertThatThrownBy(() -> Simulation.of(law).finalState(new double[] {0, 1}, 1))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering");
    }

    @Test
    void aLawThatDoesNotSeeAGuardFallIsAnError() {
        Phase phase = new Phase(decay(-1), 1, POSITIVE_INFINITY);
        TestLaw law = seeingZeroDownTo(1, phase, phase, new int[1]);
        assertThatThrownBy(() -> Simulation.of(law).finalState(new double[] {0, 1}, 1))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering");
    }

    /** What comes to nothing once in each of many clock periods is no chattering, however long the run. */
    @Test
    void roundOffInEachOfManyPeriodsDoesNotStopTheRun() {
        Phase phase = new Phase(decay(-1e-13), 1, POSITIVE_INFINITY);
        AffineMap anew = AffineMap.of(new double[][] {{0, 0}, {0, 1}}, new double[2]);
        int[] asked = {0};
        TestLaw law = new TestLaw(ones(2), 1, List.of(), state -> Entry.of(phase), (ended, cause, state, t) -> {
            boolean isGuard = cause.kind() == Cause.Kind.GUARD;
            asked[0] += isGuard ? 1 : 0;
            return isGuard ? Entry.of(phase) : new Entry(phase, anew);
        });
        double[] end = Simulation.of(law).finalState(new double[] {0, 1}, 1500);
        assertThat(end[0]).isCloseTo(-1e-13, within(1e-16));
        assertThat(asked[0]).isPositive();
    }

    /** A run that is used again has its room taken back: the second walk is the first one to the bit. */
    @ParameterizedTest
    @ValueSource(doubles = {-1e-13, -1})
    void theSecondWalkIsTheFirst(double to) {
        Phase phase = new Phase(decay(to), 1, POSITIVE_INFINITY);
        Configuration rest = configuration("rest", 1, new double[2][2], new double[2], List.of());
        Phase after = new Phase(rest, 1, POSITIVE_INFINITY);
        PeriodMap map = PeriodMap.of(seeingZeroDownTo(2e-13, phase, after, new int[1]), 1);
        double[] first = map.apply(new double[] {0, 1});
        for (int k = 0; k < 1000; k++) {
            assertThat(map.apply(new double[] {0, 1})).containsExactly(first);
        }
    }
}
