package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.engine.Simulation;

/**
 * Current mode against R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, sec. 18.2,
 * eqs. 18.41-18.57, and secs. 18.7 and 18.8: with a stiff output a disturbance of the inductor current is multiplied in
 * every period by alpha = -(m2 - ma)/(m1 + ma), where m1 and m2 are the slopes of the current and ma that of the
 * compensation.
 */
class CurrentModeTest {
    private static final double FREQUENCY = 100e3;
    private static final double INDUCTANCE = 50e-6;

    /** A boost into a stiff output; the inductor current is its only state. */
    private static Circuit stiffBoost(double input, double output) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", input)
                .inductor("L1", "in", "sw", INDUCTANCE)
                .switchPart("Q1", "sw", "ground", 0)
                .rectifier("D1", "sw", "out", 0, 0)
                .voltageSource("V2", "out", "ground", output)
                .build();
    }

    private static double multiplier(DrivenCircuit driven, double guess) {
        SteadyState orbit = SteadyState.of(driven, new double[] {guess}, 1);
        return orbit.multipliers().get(0).real();
    }

    @ParameterizedTest
    @CsvSource({
        "0.333333333333333333, 0, -0.5",
        "0.333333333333333333, 0.25, -0.3333",
        "0.333333333333333333, 0.5, -0.2",
        "0.333333333333333333, 0.75, -0.0909",
        "0.333333333333333333, 1, 0",
        "0.5, 0, -1",
        "0.5, 0.25, -0.6",
        "0.5, 0.5, -0.3333",
        "0.5, 0.75, -0.1429",
        "0.5, 1, 0",
        "0.6, 0, -1.5",
        "0.6, 0.25, -0.8182",
        "0.6, 0.5, -0.4286",
        "0.6, 0.75, -0.1765",
        "0.6, 1, 0",
        "0.75, 0, -3",
        "0.75, 0.25, -1.2857",
        "0.75, 0.5, -0.6",
        "0.75, 0.75, -0.2308",
        "0.75, 1, 0"
    })
    void disturbancesOfThePeakCurrentShrinkOrGrowAsPublished(double dutyCycle, double ratio, double published) {
        double output = 20 / (1 - dutyCycle);
        double m1 = 20 / INDUCTANCE;
        double m2 = (output - 20) / INDUCTANCE;
        Regulator regulator = CurrentMode.peak(FREQUENCY, 10).withSlopeCompensation(ratio * m2);
        double alpha = multiplier(Stages.regulated(stiffBoost(20, output), regulator), 8);
        assertThat(alpha).isCloseTo(published, within(0.51e-4));
        assertThat(alpha).isCloseTo(-(m2 - ratio * m2) / (m1 + ratio * m2), within(1e-12));
    }

    @ParameterizedTest
    @CsvSource({"0.25, 0", "0.25, 0.5", "0.4, 0.2", "0.5, 0", "0.6, 0", "0.75, 0.3"})
    void valleyCurrentIsTheMirrorImage(double dutyCycle, double ratio) {
        double output = 20 / (1 - dutyCycle);
        double m1 = 20 / INDUCTANCE;
        double m2 = (output - 20) / INDUCTANCE;
        Regulator regulator = CurrentMode.valley(FREQUENCY, 6).withSlopeCompensation(ratio * m1);
        double alpha = multiplier(Stages.regulated(stiffBoost(20, output), regulator), 8);
        assertThat(alpha).isCloseTo(-(m1 - ratio * m1) / (m2 + ratio * m1), within(1e-12));
    }

    @Test
    void aBoostOfFiftyVoltsMultipliesADisturbanceByMinusOneAndAHalf() {
        checkSequence(50, new double[] {1, -1.5, 2.25, -3.375});
    }

    @Test
    void aBoostOfThirtyVoltsHalvesIt() {
        checkSequence(30, new double[] {1, -0.5, 0.25, -0.125, 0.0625});
    }

    /** Published sequences of the disturbance, in the units of the first. */
    private static void checkSequence(double output, double[] published) {
        DrivenCircuit driven = Stages.regulated(stiffBoost(20, output), CurrentMode.peak(FREQUENCY, 10));
        double steady = SteadyState.of(driven, new double[] {8}, 1).state()[0];
        double disturbance = 1e-3;
        for (int k = 1; k < published.length; k++) {
            double after =
                    Simulation.of(driven.law()).finalState(new double[] {steady + disturbance}, k / FREQUENCY)[0];
            assertThat((after - steady) / disturbance).isCloseTo(published[k], within(1e-9));
        }
    }

    @Test
    void halfTheFallingSlopeStabilisesEveryDutyCycle() {
        for (double dutyCycle = 0.05; dutyCycle < 0.96; dutyCycle += 0.05) {
            double output = 20 / (1 - dutyCycle);
            double m2 = (output - 20) / INDUCTANCE;
            DrivenCircuit driven = Stages.regulated(
                    stiffBoost(20, output), CurrentMode.peak(FREQUENCY, 10).withSlopeCompensation(m2 / 2));
            assertThat(SteadyState.of(driven, new double[] {8}, 1).isStable()).isTrue();
        }
    }

    @Test
    void losesItsStabilityAtADutyCycleOfOneHalf() {
        double critical = new BrentSolver(1e-13)
                .solve(
                        100,
                        output -> 1
                                + multiplier(
                                        Stages.regulated(stiffBoost(20, output), CurrentMode.peak(FREQUENCY, 10)), 8),
                        35,
                        46);
        assertThat(1 - 20 / critical).isCloseTo(0.5, within(1e-12));
    }

    /** The example of sec. 18.7: buck 10 V to 5 V, 5 µH, 100 kHz, slopes 1 A/µs, compensation 0.1 A/µs: alpha -0.82. */
    @Test
    void theSampledDataExampleOfTheBook() {
        Circuit buck = Circuit.builder()
                .voltageSource("V1", "in", "ground", 10)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", "ground", "sw", 0, 0)
                .inductor("L1", "sw", "out", 5e-6)
                .voltageSource("V2", "out", "ground", 5)
                .build();
        Regulator regulator = CurrentMode.peak(FREQUENCY, 20).withSlopeCompensation(0.1e6);
        double alpha = multiplier(Stages.regulated(buck, regulator), 15);
        assertThat(alpha).isCloseTo(-0.82, within(0.005));
        assertThat(alpha).isCloseTo(-0.9 / 1.1, within(1e-12));
    }

    /**
     * Discontinuous inverting stage, eqs. 18.192-18.195: P = (L Ic^2 fs / 2) / (1 + Ma/M1)^2 and V = Ic sqrt(R L fs / 2) /
     * (1 + Ma/M1). The formula neglects the ripple of the output voltage, here 1e-4 of it.
     */
    @ParameterizedTest
    @CsvSource({"0", "0.25", "1"})
    void outputOfADiscontinuousInvertingStage(double ratio) {
        Values values = Values.ideal(12, 20e-6, 1e-3, 40);
        double command = 2;
        double m1 = 12 / 20e-6;
        Circuit circuit = Stages.inverting(values);
        Regulator regulator = CurrentMode.peak(FREQUENCY, command).withSlopeCompensation(ratio * m1);
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(Stages.plantOfInverting(circuit)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        double formula = command * Math.sqrt(40 * 20e-6 * FREQUENCY / 2) / (1 + ratio);
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(-steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(formula, within(1e-3 * formula));
    }

    /**
     * The discontinuous buck under peak current mode, sec. 18.8 and table 18.6: unstable where the output is above 2/3 of
     * the input, stable again with a slope of more than 0.086 times the falling one. At the limit a multiplier is 1.
     */
    @Test
    void theDiscontinuousBuckIsUnstableAboveTwoThirds() {
        assertThat(limitOfDiscontinuousBuck(0)).isCloseTo(2 / 3.0, within(1e-3));
        assertThat(largestMultiplier(0.72, 0)).isGreaterThan(1);
        assertThat(largestMultiplier(0.72, 0.1)).isLessThan(1);
    }

    @Test
    void aSmallSlopeStabilisesTheDiscontinuousBuckAtEveryOutput() {
        double worst = 0;
        double worstBelow = 0;
        for (double ratio = 0.6; ratio < 0.97; ratio += 0.01) {
            worst = Math.max(worst, largestMultiplier(ratio, 0.088));
            worstBelow = Math.max(worstBelow, largestMultiplier(ratio, 0.080));
        }
        assertThat(worst).isLessThan(1);
        assertThat(worstBelow).isGreaterThan(1);
    }

    /** By a straight line through two points: at the limit itself Newton's method has nothing to hold on to. */
    private static double limitOfDiscontinuousBuck(double slope) {
        double below = largestMultiplier(0.655, slope) - 1;
        double above = largestMultiplier(0.680, slope) - 1;
        return 0.655 + 0.025 * below / (below - above);
    }

    /** Of a buck that turns 10 V into a given share of it, with its output current held discontinuous. */
    private static double largestMultiplier(double outputShare, double slopeShare) {
        double input = 10;
        double inductance = 5e-6;
        double output = outputShare * input;
        double m1 = (input - output) / inductance;
        double ma = slopeShare * output / inductance;
        double onTime = 0.2e-6;
        double charge = m1 * onTime * onTime / 2 / outputShare;
        Values values = Values.ideal(input, inductance, 100e-6, output / (charge * FREQUENCY));
        DrivenCircuit driven = Stages.regulated(
                Stages.buck(values),
                CurrentMode.peak(FREQUENCY, (m1 + ma) * onTime).withSlopeCompensation(ma));
        SteadyState steady = SteadyState.of(driven, new double[] {0, output}, 1);
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(output, within(2e-3 * output));
        return steady.multipliers().get(0).real();
    }
}
