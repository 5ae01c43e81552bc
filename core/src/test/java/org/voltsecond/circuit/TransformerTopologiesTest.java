package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.reference.Printed.assertPrinted;
import static org.voltsecond.reference.Printed.assertPublished;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Part.Winding;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.waveform.Waveform;

/** Published stages with a transformer as custom circuits. What the letters mean stands in {@code Printed}. */
class TransformerTopologiesTest {

    /**
     * REF-FLY-1: D. W. Hart, Power Electronics, McGraw-Hill 2011, ex. 7-1: flyback stage 24 V to 5 V. Published M (from
     * memory of the literature); exact C (computed for this project, not published). Once with perfectly coupled windings,
     * once with an ideal transformer beside its magnetising inductance.
     */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void fly1HartExample7x1(boolean coupled) {
        Winding primary = Winding.of("primary", "in", "a");
        Winding secondary = Winding.of("secondary", GROUND, "s");
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 24)
                .switchPart("Q1", "a", GROUND, 0)
                .rectifier("D1", "s", "out")
                .capacitor("C1", "out", GROUND, micro(200))
                .resistor("R1", "out", GROUND, 5);
        if (coupled) {
            builder.coupledInductors("T1", primary, micro(500), secondary, micro(500) / 9, 1);
        } else {
            builder.idealTransformer("T1", List.of(primary, secondary), 3, 1).inductor("L1", "in", "a", micro(500));
        }
        DrivenCircuit driven = DrivenCircuit.builder(builder.build())
                .gate("Q1", Drive.fixedDuty(5 / 13.0, kilo(40)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        Waveform output = steady.of(driven.nodeVoltage("out"));
        Waveform magnetising = steady.of(
                coupled
                        ? driven.current("T1.primary")
                                .plus(driven.current("T1.secondary").times(1 / 3.0))
                        : driven.current("L1"));
        double ripple = 100 * output.peakToPeak() / output.mean();

        assertPrinted("output", output.mean(), "4.99655");
        assertPrinted("magnetising mean", magnetising.mean(), "0.54115");
        assertPrinted("magnetising maximum", magnetising.maximum(), "0.77169");
        assertPrinted("magnetising minimum", magnetising.minimum(), "0.31015");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "48.14");
        assertPrinted("output ripple, %", ripple, "0.9634");

        assertPublished("output", output.mean(), "5", 5, 4.99655);
        assertPublished("magnetising mean", magnetising.mean(), "0.54", 0.54167, 0.54115);
        assertPublished("magnetising maximum", magnetising.maximum(), "0.77", 0.77244, 0.77169);
        assertPublished("magnetising minimum", magnetising.minimum(), "0.31", 0.31090, 0.31015);
        assertPublished("output ripple, %", ripple, "0.96", 0.9615, 0.9634);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /**
     * REF-FWD-1: D. W. Hart, Power Electronics, ex. 7-4: forward stage 48 V to 12.8 V with a reset winding. Published M
     * (from memory of the literature); exact C (computed for this project, not published). Once with perfectly coupled
     * windings, once with an ideal transformer beside its magnetising inductance.
     */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void fwd1HartExample7x4(boolean coupled) {
        double n = 1 / 1.5;
        double lm = milli(5);
        List<Winding> windings = List.of(
                Winding.of("primary", "in", "a"),
                Winding.of("secondary", "s", GROUND),
                Winding.of("reset", GROUND, "r"));
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 48)
                .switchPart("Q1", "a", GROUND, 0)
                .rectifier("D1", "s", "x")
                .rectifier("D2", GROUND, "x")
                .rectifier("D3", "r", "in")
                .inductor("L2", "x", "out", milli(0.4))
                .capacitor("C1", "out", GROUND, micro(100))
                .resistor("R1", "out", GROUND, 10);
        if (coupled) {
            double[][] matrix = {{lm, n * lm, lm}, {n * lm, n * n * lm, n * lm}, {lm, n * lm, lm}};
            builder.coupledInductors("T1", windings, matrix);
        } else {
            builder.idealTransformer("T1", windings, 1, n, 1).inductor("L1", "in", "a", lm);
        }
        DrivenCircuit driven = DrivenCircuit.builder(builder.build())
                .gate("Q1", Drive.fixedDuty(0.4, kilo(35)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        Waveform output = steady.of(driven.nodeVoltage("out"));
        Waveform filter = steady.of(driven.current("L2"));
        Waveform magnetising = steady.of(
                coupled
                        ? driven.current("T1.primary")
                                .plus(driven.current("T1.secondary").times(n))
                                .plus(driven.current("T1.reset"))
                        : driven.current("L1"));

        assertPrinted("output", output.mean(), "12.80000");
        assertPrinted("ripple of the filter", filter.peakToPeak(), "0.54880");
        assertPrinted("maximum of the filter", filter.maximum(), "1.55440");
        assertPrinted("minimum of the filter", filter.minimum(), "1.00560");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "19.602");
        assertPrinted("output ripple, %", 100 * output.peakToPeak() / output.mean(), "0.15314");
        assertPrinted("magnetising peak", magnetising.maximum(), "0.1097");
        assertThat(magnetising.minimum()).as("reset ends at zero").isCloseTo(0, within(1e-12));

        assertPublished("ripple of the filter", filter.peakToPeak(), "0.55", 0.5486, 0.54880);
        assertPublished("maximum of the filter", filter.maximum(), "1.55", 1.5543, 1.55440);
        assertPublished("minimum of the filter", filter.minimum(), "1.01", 1.0057, 1.00560);
        assertPublished("magnetising peak", magnetising.maximum(), "0.11", 0.1097, 0.1097);
        assertPublished("ripple, %", 100 * output.peakToPeak() / output.mean(), "0.153", 0.15306, 0.15314);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /**
     * REF-PP-1: D. W. Hart, Power Electronics, ex. 7-6: push-pull stage 30 V to 9 V. Published M (from memory of the
     * literature); exact C (computed for this project, not published). With an ideal transformer, and with a magnetising
     * inductance beside it, whose mean current nothing decides.
     */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void pp1HartExample7x6(boolean magnetising) {
        SteadyState steady = SteadyState.of(pushPull(magnetising));
        Waveform output = steady.of(steady.circuit().nodeVoltage("out"));
        Waveform filter = steady.of(steady.circuit().current("L2"));
        double ripple = 100 * output.peakToPeak() / output.mean();
        assertPrinted("output", output.mean(), "9.0000");
        assertPrinted("ripple of the filter", filter.peakToPeak(), "0.36072");
        assertPrinted("maximum of the filter", filter.maximum(), "1.68036");
        assertPrinted("minimum of the filter", filter.minimum(), "1.31964");
        assertPrinted("output ripple, %", ripple, "0.5011");

        assertPublished("ripple of the filter", filter.peakToPeak(), "0.36", 0.36, 0.36072);
        assertPublished("maximum of the filter", filter.maximum(), "1.68", 1.68, 1.68036);
        assertPublished("minimum of the filter", filter.minimum(), "1.32", 1.32, 1.31964);
        assertPublished("output ripple, %", ripple, "0.5", 0.5, 0.5011);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /** The two halves of the push-pull stage carry the same: each switch half the load's share of the period. */
    @Test
    void pp1IsSymmetric() {
        SteadyState steady = SteadyState.of(pushPull(false));
        double first = steady.of(steady.circuit().current("Q1")).mean();
        double second = steady.of(steady.circuit().current("Q2")).mean();
        assertThat(first).isCloseTo(second, within(1e-11)).isCloseTo(1.5 * 0.3 / 2, within(1e-3));
    }

    private static DrivenCircuit pushPull(boolean magnetising) {
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 30)
                .switchPart("Q1", "a", GROUND, 0)
                .switchPart("Q2", "b", GROUND, 0)
                .idealTransformer(
                        "T1",
                        List.of(
                                Winding.of("first", "in", "a"),
                                Winding.of("second", "b", "in"),
                                Winding.of("third", "sa", GROUND),
                                Winding.of("fourth", GROUND, "sb")),
                        2,
                        2,
                        1,
                        1)
                .rectifier("D1", "sa", "x")
                .rectifier("D2", "sb", "x")
                .inductor("L2", "x", "out", milli(0.5))
                .capacitor("C1", "out", GROUND, micro(50))
                .resistor("R1", "out", GROUND, 6);
        if (magnetising) {
            builder.inductor("L1", "in", "a", milli(20));
        }
        Drive drive = Drive.fixedDuty(0.3, kilo(10));
        return DrivenCircuit.builder(builder.build())
                .gate("Q1", drive)
                .gate("Q2", drive.delayedBy(0.5))
                .build();
    }
}
