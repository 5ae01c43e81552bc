package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The derivative of the period map against central differences. */
class PeriodMapTest {
    private static final double[][] DAMPED = {{-0.3, 1}, {-1, -0.2}};

    private static void agreesWithDifferences(SwitchingLaw law, int periods, double[] state, double within) {
        PeriodMap map = PeriodMap.withDerivative(law, periods);
        double[] end = map.apply(state);
        double[][] derivative = map.derivative();
        assertThat(PeriodMap.of(law, periods).apply(state)).containsExactly(end, within(1e-14));
        double step = 1e-5;
        for (int j = 0; j < state.length; j++) {
            double[] up = state.clone();
            double[] down = state.clone();
            up[j] += step;
            down[j] -= step;
            double[] above = PeriodMap.of(law, periods).apply(up);
            double[] below = PeriodMap.of(law, periods).apply(down);
            for (int i = 0; i < state.length; i++) {
                double difference = (above[i] - below[i]) / (up[j] - down[j]);
                assertThat(derivative[i][j]).as("entry " + i + ", " + j).isCloseTo(difference, within(within));
            }
        }
    }

    private static Configuration driven(String name, double[] input, Guard... guards) {
        return TestLaw.configuration(name, 1, DAMPED, input, List.of(guards));
    }

    private static TestLaw ring(Phase... phases) {
        return TestLaw.ring(TestLaw.ones(2), 1, List.of(phases));
    }

    /** A slow decay changes by x (exp(-t / tau) - 1), which the state itself rounds away. */
    @ParameterizedTest
    @ValueSource(doubles = {1e3, 1e9, 1e14})
    void theChangeOfASlowStateKeepsItsDigits(double constant) {
        double[][] decay = {{-1 / constant, 0}, {0, -0.5}};
        Configuration slow = TestLaw.configuration("decay", 1, decay, new double[2], List.of());
        PeriodMap map = PeriodMap.withDerivative(ring(new Phase(slow, 0.3, 1), new Phase(slow, 1, 1)), 2);
        double[] change = map.changeFrom(new double[] {7, 3});
        assertThat(change[0]).isCloseTo(7 * Math.expm1(-2 / constant), within(1e-14 / constant));
        assertThat(change[1]).isCloseTo(3 * Math.expm1(-1), within(1e-15));
        assertThat(map.extent()).containsExactly(7, 3);
    }

    /** A stiff part makes the intervals many bases long. */
    @Test
    void theChangeOverManyBasesIsThatOfTheWhole() {
        double[][] stiff = {{-1e-9, 0}, {1, -1e6}};
        Configuration slow = TestLaw.configuration("stiff", 1, stiff, new double[2], List.of());
        double[] change = PeriodMap.withDerivative(ring(new Phase(slow, 1, POSITIVE_INFINITY)), 1)
                .changeFrom(new double[] {1, 0});
        assertThat(change[0]).isCloseTo(Math.expm1(-1e-9), within(1e-22));
        assertThat(change[1]).isCloseTo(1e-6, within(1e-14));
    }

    @Test
    void theChangeAtAReturnEndsThere() {
        Phase up = new Phase(
                driven("up", new double[] {2, 0}, TestLaw.below(2, 0, 1)), POSITIVE_INFINITY, POSITIVE_INFINITY);
        Phase down = new Phase(
                driven("down", new double[] {-2, 0}, TestLaw.above(2, 0, 0.2)), POSITIVE_INFINITY, POSITIVE_INFINITY);
        PeriodMap map = PeriodMap.returning(ring(up, down), 1, phase -> phase == up);
        double[] start = {0.2, 0.4};
        double[] end = map.apply(start);
        double[] change = map.changeFrom(start);
        assertThat(change[0]).isCloseTo(end[0] - start[0], within(1e-15));
        assertThat(change[1]).isCloseTo(end[1] - start[1], within(1e-15));
    }

    @Test
    void aMapWithoutItsDerivativeKeepsNoChange() {
        Phase only = new Phase(driven("only", new double[] {1, 0}), 1, POSITIVE_INFINITY);
        PeriodMap map = PeriodMap.of(ring(only), 1);
        assertThatThrownBy(() -> map.changeFrom(new double[2])).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(map::extent).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void withoutEvents() {
        Phase only = new Phase(driven("only", new double[] {1, 0}), 1, POSITIVE_INFINITY);
        agreesWithDifferences(ring(only), 3, new double[] {0.2, 0.4}, 1e-9);
    }

    @Test
    void guardOfTheState() {
        Phase rising = new Phase(driven("rising", new double[] {2, 0}, TestLaw.below(2, 0, 1)), 1, POSITIVE_INFINITY);
        Phase falling = new Phase(driven("falling", new double[] {-1, 0}), 1, POSITIVE_INFINITY);
        agreesWithDifferences(ring(rising, falling), 1, new double[] {0.2, 0.4}, 1e-8);
        agreesWithDifferences(ring(rising, falling), 4, new double[] {0.2, 0.4}, 1e-8);
    }

    @Test
    void guardWithARamp() {
        Guard ramp = new Guard("ramp", AffineForm.of(new double[] {-1, -0.3}, 1.2, -0.8));
        Phase rising = new Phase(driven("rising", new double[] {1.5, 0}, ramp), 1, POSITIVE_INFINITY);
        Phase falling = new Phase(driven("falling", new double[] {-1, 0}), 1, POSITIVE_INFINITY);
        agreesWithDifferences(ring(rising, falling), 2, new double[] {0.2, 0.4}, 1e-8);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.1, 0.2, 0.3, 1.0 / 7})
    void phaseOfFixedDurationAfterAGuard(double onTime) {
        // the end of a fixed on-time moves with its start
        Phase waiting = new Phase(
                driven("waiting", new double[] {-1.5, 0}, TestLaw.above(2, 0, 0.5)),
                POSITIVE_INFINITY,
                POSITIVE_INFINITY);
        Phase on = new Phase(driven("on", new double[] {3, 0}), POSITIVE_INFINITY, onTime);
        agreesWithDifferences(ring(waiting, on), 1, new double[] {0.8, 0.4}, 1e-8);
        agreesWithDifferences(ring(waiting, on), 3, new double[] {0.8, 0.4}, 1e-7);
    }

    @Test
    void phaseOfZeroLengthAfterAGuard() {
        Phase rising = new Phase(driven("rising", new double[] {2, 0}, TestLaw.below(2, 0, 1)), 1, POSITIVE_INFINITY);
        Phase empty = new Phase(driven("empty", new double[] {7, 0}), 1, 0);
        Phase past = new Phase(driven("past", new double[] {9, 0}), 1e-3, POSITIVE_INFINITY);
        Phase falling = new Phase(driven("falling", new double[] {-1, 0}), 1, POSITIVE_INFINITY);
        agreesWithDifferences(ring(rising, empty, past, falling), 1, new double[] {0.2, 0.4}, 1e-8);
    }

    @Test
    void jumpsOfTheState() {
        AffineMap kick = AffineMap.of(new double[][] {{0.5, 0.1}, {0.2, -0.7}}, new double[] {0.1, 0.3});
        Phase rising = new Phase(driven("rising", new double[] {2, 0}, TestLaw.below(2, 0, 1)), 1, POSITIVE_INFINITY);
        Phase falling = new Phase(driven("falling", new double[] {-1, 0}), 1, POSITIVE_INFINITY);
        TestLaw law = new TestLaw(
                TestLaw.ones(2),
                1,
                List.of(),
                state -> new Entry(rising, kick),
                (ended, cause, state, t) -> new Entry(ended == rising ? falling : rising, kick));
        agreesWithDifferences(law, 1, new double[] {0.2, 0.4}, 1e-8);
        agreesWithDifferences(law, 3, new double[] {0.2, 0.4}, 1e-8);
    }

    @Test
    void guardsInAStiffLongInterval() {
        double[][] stiff = {{-1, 0}, {1e4, -1e4}};
        Configuration up = TestLaw.configuration("up", 1, stiff, new double[] {2, 0}, List.of(TestLaw.below(2, 1, 1)));
        Configuration down = TestLaw.configuration("down", 1, stiff, new double[2], List.of());
        agreesWithDifferences(
                ring(new Phase(up, 1, POSITIVE_INFINITY), new Phase(down, 1, POSITIVE_INFINITY)),
                2,
                new double[] {0.4, 0.4},
                1e-7);
    }

    @ParameterizedTest
    @CsvSource({"2.5, 0.45, 1, 5", "100, 0.25, 0, 5.8", "100, 0.25, 0.5, 5.8", "20, 0.3, 0.1, 4"})
    void lossyBuckInBothModes(double load, double dutyCycle, double current, double voltage) {
        LossyBuck law = new LossyBuck(load, dutyCycle);
        PeriodMap map = PeriodMap.withDerivative(law, 2);
        map.apply(new double[] {current, voltage});
        double[][] derivative = map.derivative();
        double step = 1e-5;
        for (int j = 0; j < 2; j++) {
            double[] up = {current, voltage};
            double[] down = {current, voltage};
            up[j] += step;
            down[j] -= step;
            double[] above = PeriodMap.of(law, 2).apply(up);
            double[] below = PeriodMap.of(law, 2).apply(down);
            for (int i = 0; i < 2; i++) {
                assertThat(derivative[i][j]).isCloseTo((above[i] - below[i]) / (2 * step), within(1e-8));
            }
        }
    }

    @Test
    void derivativeIsRefusedWhereThereIsNone() {
        Phase only = new Phase(driven("only", new double[2]), 1, POSITIVE_INFINITY);
        assertThatThrownBy(() -> PeriodMap.withDerivative(ring(only), 1).derivative())
                .isInstanceOf(IllegalStateException.class);
        PeriodMap without = PeriodMap.of(ring(only), 1);
        without.apply(new double[2]);
        assertThatThrownBy(without::derivative).isInstanceOf(IllegalStateException.class);
    }
}
