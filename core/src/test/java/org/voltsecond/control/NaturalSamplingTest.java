package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.engine.Simulation;
import org.voltsecond.numeric.Complex;

/**
 * The voltage-mode buck of J. H. B. Deane, D. C. Hamill, Analysis, simulation and experimental study of chaos in the buck
 * converter, PESC 1990, doi 10.1109/PESC.1990.131228: 20 mH, 47 µF, 22 Ω, 400 µs, ramp 3.8 V to 8.2 V, reference 11.3 V,
 * gain 8.4; on while 8.4 (v - 11.3 V) is below the ramp, without a latch. Here that is a falling ramp and a control voltage
 * of 12 V - 8.4 (v - 11.3 V). The gain and the published period doublings (E. Fossas, G. Olivar, IEEE Trans. Circuits
 * Syst. I 43(1):13-25, 1996) are from memory of the literature; the table of orbits and multipliers was computed for this
 * project with another program.
 */
class NaturalSamplingTest {
    private static final double PERIOD = 400e-6;

    private static DrivenCircuit buck(double input) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", input)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", "ground", "sw", 0, 0)
                .inductor("L1", "sw", "out", 20e-3)
                .capacitor("C1", "out", "ground", 47e-6)
                .resistor("R1", "out", "ground", 22)
                .build();
        CircuitSignals signals = CircuitSignals.of(circuit);
        Plant plant =
                new Plant("Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
        Regulator regulator = VoltageMode.of(1 / PERIOD, 11.3, 1, Compensator.proportional(8.4, 12))
                .withRamp(3.8, 8.2)
                .withModulation(Edge.LEADING, false);
        return DrivenCircuit.builder(circuit).controlledBy(regulator.on(plant)).build();
    }

    private static SteadyState orbit(double input, double[] guess, int periods) {
        return SteadyState.of(buck(input), guess, periods);
    }

    /** A state near the orbit of period 1, which is nearly the same at every input voltage. */
    private static final double[] NEAR = {0.6, 12};

    @ParameterizedTest
    @CsvSource({
        "13, 0.906828, 11.80170, 0.54685, -0.66316, 0.48930",
        "15, 0.789552, 11.86490, 0.56331, -0.61309, 0.55074",
        "18, 0.661860, 11.93447, 0.58193, -0.64278, 0.51579",
        "20, 0.597650, 11.96951, 0.59157, -0.69189, 0.44775",
        "22, 0.544889, 11.99823, 0.59964, -0.75280, 0.33539",
        "23, 0.521879, 12.01072, 0.60319, -0.78620, 0.24714",
        "24, 0.500746, 12.02217, 0.60648, -0.82109, 0.07079"
    })
    void orbitsAndComplexMultipliersAsTabulated(
            double input, double dutyCycle, double voltage, double current, double real, double imaginary) {
        SteadyState orbit = checkedOrbit(input, dutyCycle, voltage, current);
        Complex first = orbit.multipliers().get(0);
        assertThat(first.real()).isCloseTo(real, within(0.51e-5));
        assertThat(first.imaginary()).isCloseTo(imaginary, within(0.51e-5));
        assertThat(orbit.isStable()).isTrue();
    }

    @ParameterizedTest
    @CsvSource({
        "24.5, 0.490813, 12.02753, 0.60803, -0.99624, -0.68176",
        "25, 0.481268, 12.03269, 0.60953, -1.09294, -0.62144"
    })
    void orbitsAndRealMultipliersAsTabulated(
            double input, double dutyCycle, double voltage, double current, double first, double second) {
        SteadyState orbit = checkedOrbit(input, dutyCycle, voltage, current);
        assertThat(orbit.multipliers().get(0).real()).isCloseTo(first, within(0.51e-5));
        assertThat(orbit.multipliers().get(1).real()).isCloseTo(second, within(0.51e-5));
        assertThat(orbit.isStable()).isEqualTo(first > -1);
    }

    private static SteadyState checkedOrbit(double input, double dutyCycle, double voltage, double current) {
        SteadyState orbit = orbit(input, NEAR, 1);
        assertThat(orbit.state()[1]).isCloseTo(voltage, within(0.51e-5));
        assertThat(orbit.state()[0]).isCloseTo(current, within(0.51e-5));
        assertThat(orbit.timeConducting("Q1") / PERIOD).isCloseTo(dutyCycle, within(0.51e-6));
        Complex product =
                orbit.multipliers().get(0).multiply(orbit.multipliers().get(1));
        // the saltation matrix has determinant 1, so that the load alone shrinks areas
        assertThat(product.real()).isCloseTo(Math.exp(-PERIOD / (22 * 47e-6)), within(1e-12));
        EnergyAudit audit = orbit.audit();
        assertThat(audit.residual()).isLessThan(1e-10);
        return orbit;
    }

    @Test
    void doublesItsPeriodWhereTheLiteratureSays() {
        double first = doubling(24, 25, 1);
        assertThat(first).isCloseTo(24.516, within(1e-3));
        assertThat(first).isCloseTo(24.51657, within(0.6e-5));
    }

    @Test
    void doublesItsPeriodAgain() {
        double second = doubling(31.0, 31.2, 2);
        assertThat(second).isCloseTo(31.121, within(0.02));
        assertThat(second).isCloseTo(31.11790, within(0.6e-5));
    }

    @Test
    void doublesItsPeriodAThirdTime() {
        double third = doubling(32.05, 32.12, 4);
        assertThat(third).isCloseTo(32.095, within(0.02));
        assertThat(third).isCloseTo(32.08763, within(0.6e-5));
    }

    /** The input voltage between two others at which a multiplier of an orbit of some periods is -1. */
    private static double doubling(double low, double high, int periods) {
        double[] settled = Simulation.of(buck(low).law()).finalState(NEAR, 400 * PERIOD);
        double[] near = orbit(low, settled, periods).state();
        if (periods > 1) {
            // an orbit of half the length comes back as well: this must not be it
            double[] halfWay = Simulation.of(buck(low).law()).finalState(near, 0.5 * periods * PERIOD);
            assertThat(Math.abs(halfWay[1] - near[1])).isGreaterThan(1e-3);
        }
        DoubleUnaryOperator margin = input -> {
            SteadyState found = orbit(input, near, periods);
            return 1
                    + found.multipliers().stream()
                            .mapToDouble(Complex::real)
                            .min()
                            .orElseThrow();
        };
        return new BrentSolver(1e-12, 1e-9).solve(100, margin::applyAsDouble, low, high);
    }
}
