package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** A long record is kept in parts, and none is longer than the memory takes. */
class TrajectoryTest {
    private static final DrivenCircuit BUCK = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .transistor(milli(80))
            .rectifier(0.4, milli(20))
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)))
            .driven();

    @Test
    void everyIntervalOfALongRecordIsTheOneThatWasRun() {
        double duration = milli(30); // 9,000 periods: more than one part
        Trajectory record = Simulation.of(BUCK.law()).record(BUCK.restState(), duration);
        int[] at = {0};
        double[] state = new double[2];

        Simulation.of(BUCK.law()).stream(BUCK.restState(), duration, interval -> {
            int index = at[0]++;
            Interval recorded = record.interval(index);
            assertThat(recorded.startTime()).isEqualTo(new ClockTime(interval.tick(), interval.sinceTick()));
            assertThat(recorded.duration()).isEqualTo(interval.duration());
            assertThat(recorded.configuration()).isSameAs(interval.phase().configuration());
            interval.copyStartState(state);
            assertThat(recorded.startState()).isEqualTo(state);
        });

        assertThat(record.size()).isEqualTo(at[0]).isGreaterThan(3 << 12);
    }

    @Test
    void aRecordThatMemoryDoesNotTakeIsRefusedInWords() {
        KeptIntervals.Builder builder = new KeptIntervals.Builder(2, BUCK.clockPeriod(), 5000);

        assertThatThrownBy(() -> Simulation.of(BUCK.law()).stream(BUCK.restState(), milli(30), builder::add))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining(
                        "intervals, which is all that the memory of this Java machine takes; shorten the run");
    }

    /** Two phases of no length between two that last: halved in the one, moved by 1 in the other. */
    @Test
    void theJumpsOfIntervalsOfNoLengthAreToldByTheNextOne() {
        Configuration still = TestLaw.configuration("still", 1, new double[1][1], new double[1], List.of());
        Phase lasting = new Phase(still, 1, Double.POSITIVE_INFINITY);
        Phase halving = new Phase(still, 1, 0);
        Phase moving = new Phase(still, 1, 0);
        AffineMap half = AffineMap.of(new double[][] {{0.5}}, new double[1]);
        AffineMap plusOne = AffineMap.of(new double[][] {{1}}, new double[] {1});
        TestLaw law = new TestLaw(
                TestLaw.ones(1),
                1,
                List.of(),
                state -> new Entry(moving, plusOne),
                (ended, cause, state, t) -> ended == lasting
                        ? new Entry(halving, half)
                        : ended == halving ? new Entry(moving, plusOne) : Entry.of(lasting));

        Trajectory run = Simulation.of(law).record(new double[] {7}, 3);

        assertThat(run.initialState()).containsExactly(7);
        assertThat(run.size()).isEqualTo(3);
        double expected = 8;
        assertThat(run.interval(0).startState()).containsExactly(expected);
        for (int k = 1; k < 3; k++) {
            AffineMap jump = Objects.requireNonNull(run.interval(k).jump());
            expected = expected / 2 + 1;
            assertThat(jump.apply(run.interval(k - 1).endState())).containsExactly(expected);
            assertThat(run.interval(k).startState()).containsExactly(expected);
        }
    }
}
