package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;

/** Sampling, delay, difference equation, limits and quantisation of digital control. */
class SampledControlTest {
    private static final double PERIOD = 333.33e-6;

    /**
     * The discontinuous buck of C. K. Tse, Chaos from a buck switching regulator operating in discontinuous mode, Int. J.
     * Circuit Theory Appl. 22:263-278, 1994, with the values of its circuit: 33 V to 25 V, 208 µH, 222 µF, 12.5 Ω, 333.33
     * µs. Its map x+ = alpha x + beta h(d)^2 E (E - x)/x, d = D - kappa (x - X), with alpha = 1 - s + s^2/2, beta = T^2/(2 L
     * C), is the circuit to first order in s = T/(R C) = 0.12. So the feedback at which the period doubles must approach
     * that of the map as the capacitance grows, and its distance must fall in proportion.
     */
    @Test
    void theDiscontinuousBuckDoublesItsPeriodWhereTheMapOfTheLiteratureDoesForSmallRipple() {
        assertThat(new Tse(1).criticalGainOfMap()).isCloseTo(0.11868, within(0.51e-5));
        assertThat(new Tse(1).excess()).isBetween(0.10, 0.12);
        double coarse = new Tse(16).excess();
        double fine = new Tse(64).excess();
        assertThat(coarse / fine).isCloseTo(4, within(0.1));
        // what remains when the part in proportion to 1/C is taken away
        assertThat((4 * fine - coarse) / 3).isCloseTo(0, within(1e-4));
    }

    @Test
    void beyondTheFirstDoublingEverySecondPeriodIsTheSameThenEveryFourth() {
        assertThat(new Tse(1).repeatsAfter(0.125)).isEqualTo(1);
        assertThat(new Tse(1).repeatsAfter(0.15)).isEqualTo(2);
        assertThat(new Tse(1).repeatsAfter(0.178)).isEqualTo(4);
    }

    /** The buck of the paper with a capacitance so many times as large. */
    private record Tse(double factor) {
        double capacitance() {
            return factor * 222e-6;
        }

        double decay() {
            return PERIOD / (12.5 * capacitance());
        }

        double alpha() {
            return 1 - decay() + decay() * decay() / 2;
        }

        double beta() {
            return PERIOD * PERIOD / (2 * 208e-6 * capacitance());
        }

        double dutyCycle() {
            return Math.sqrt((1 - alpha()) * 25 * 25 / (beta() * 33 * (33 - 25)));
        }

        double criticalGainOfMap() {
            double d = dutyCycle();
            return (1 + alpha() - beta() * d * d * 33 * 33 / (25 * 25)) / (2 * beta() * d * 33 * (33 - 25) / 25);
        }

        DrivenCircuit with(double gain) {
            Values values = Values.ideal(33, 208e-6, capacitance(), 12.5);
            Regulator regulator = SampledControl.of(1 / PERIOD, 25, 1, gain).withBias(dutyCycle());
            return Stages.regulated(Stages.buck(values), regulator);
        }

        double multiplier(double gain) {
            DrivenCircuit driven = with(gain);
            SteadyState orbit = SteadyState.of(driven, new double[] {0, 25, 0, 0}, 1);
            assertThat(orbit.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
            return orbit.multipliers().get(0).real();
        }

        /** By how much the critical gain of the circuit is above that of the map. */
        double excess() {
            double map = criticalGainOfMap();
            double gain = new BrentSolver(1e-12).solve(100, trial -> multiplier(trial) + 1, 0.95 * map, 1.2 * map);
            return gain / map - 1;
        }

        int repeatsAfter(double gain) {
            DrivenCircuit driven = with(gain);
            double[] settled = Simulation.of(driven.law()).finalState(driven.restState(), 2000 * PERIOD);
            for (int periods = 1; periods < 64; periods *= 2) {
                double[] later = Simulation.of(driven.law()).finalState(settled, periods * PERIOD);
                if (Math.abs(later[1] - settled[1]) < 1e-6) {
                    return periods;
                }
            }
            return 64;
        }
    }

    private static final Values BUCK = new Values(12, 22e-6, 100e-6, 2.5, 0.05, 0.4, 0.02, 0.03, 0.01);
    private static final double FREQUENCY = 250e3;

    @Test
    void theDifferenceEquationIsWorkedOutAsWritten() {
        double period = 1 / FREQUENCY;
        Regulator regulator = SampledControl.of(FREQUENCY, 5, 1, 0.09, -0.07, -0.01)
                .withDenominator(-0.8, -0.2)
                .withBias(0.3)
                .withSampling(0.6, 0.5 * period)
                .withMaximumDutyCycle(0.8);
        DrivenCircuit driven = Stages.regulated(Stages.buck(BUCK), regulator);
        Trajectory run = Simulation.of(driven.law()).record(driven.restState(), 300 * period);
        double[] errors = new double[4];
        double[] results = new double[4];
        double[] onTimes = new double[300];
        double[] wanted = new double[302];
        wanted[0] = 0.3;
        wanted[1] = 0.3;
        for (Interval interval : run.intervals()) {
            int n = (int) Math.floor((interval.start() + 0.5 * interval.duration()) / period);
            if (driven.conducts(interval.phase(), "Q1")) {
                onTimes[n] += interval.duration();
            }
            double sampledAt = (n + 0.6) * period;
            if (Math.abs(interval.start() - sampledAt) < 1e-6 * period) {
                double voltage = interval.valueAt(driven.nodeVoltage("out").in(interval.configuration()), 0);
                errors = new double[] {5 - voltage, errors[0], errors[1], 0};
                double sum =
                        0.09 * errors[0] - 0.07 * errors[1] - 0.01 * errors[2] + 0.8 * results[0] + 0.2 * results[1];
                double limited = Math.max(0, Math.min(0.8, 0.3 + sum)) - 0.3;
                results = new double[] {limited, results[0], results[1], 0};
                wanted[n + 2] = 0.3 + limited;
            }
        }
        double largest = 0;
        for (int n = 0; n < 300; n++) {
            assertThat(onTimes[n] / period).isCloseTo(wanted[n], within(1e-9));
            largest = Math.max(largest, wanted[n]);
        }
        assertThat(largest).isEqualTo(0.8);
        assertThat(wanted[299]).isBetween(0.4, 0.6);
    }

    @Test
    void aDelayIsRoundedUpToTheNextClockEdge() {
        double period = 1 / FREQUENCY;
        assertThat(edgesUntilUse(0, 0)).isEqualTo(0);
        assertThat(edgesUntilUse(0, period)).isEqualTo(1);
        assertThat(edgesUntilUse(0.25, 0)).isEqualTo(1);
        assertThat(edgesUntilUse(0.25, 0.75 * period)).isEqualTo(1);
        assertThat(edgesUntilUse(0.25, 0.8 * period)).isEqualTo(2);
        assertThat(edgesUntilUse(0, 3 * period)).isEqualTo(3);
    }

    /** From rest the first result is a duty cycle of 0.5 instead of the bias of 0.1. */
    private static int edgesUntilUse(double instant, double delay) {
        Regulator regulator =
                SampledControl.of(FREQUENCY, 5, 1, 0.08).withBias(0.1).withSampling(instant, delay);
        DrivenCircuit driven = Stages.regulated(Stages.buck(BUCK), regulator);
        Trajectory run = Simulation.of(driven.law()).record(driven.restState(), 8 / FREQUENCY);
        double first = run.intervals().stream()
                .filter(interval -> driven.conducts(interval.phase(), "Q1") && pulse(interval) > 0.11)
                .mapToDouble(Interval::start)
                .min()
                .orElseThrow();
        return (int) Math.floor(first * FREQUENCY + 1e-9);
    }

    /** Until when the transistor conducts, as a fraction of the period. */
    private static double pulse(Interval interval) {
        double end = interval.end() * FREQUENCY;
        return end - Math.floor(interval.start() * FREQUENCY + 1e-9);
    }

    @Test
    void aQuantisedDutyCycleComesInWholeSteps() {
        Regulator regulator = SampledControl.of(FREQUENCY, 5, 1, 0.0012)
                .withDenominator(-1)
                .withBias(0.4)
                .withSampling(0.5, 0)
                .withMaximumDutyCycle(0.9)
                .withQuantisedDutyCycle(64);
        DrivenCircuit driven = Stages.regulated(Stages.buck(BUCK), regulator);
        double[] state = driven.restState();
        Trajectory run = Simulation.of(driven.law()).record(state, 2000 / FREQUENCY);
        double[] onTimes = new double[2000];
        for (Interval interval : run.intervals()) {
            if (driven.conducts(interval.phase(), "Q1")) {
                onTimes[(int) Math.floor((interval.start() + 0.5 * interval.duration()) * FREQUENCY)] +=
                        interval.duration();
            }
        }
        for (double onTime : List.of(onTimes[1], onTimes[10], onTimes[100], onTimes[1999])) {
            double steps = onTime * FREQUENCY * 64;
            assertThat(steps).isCloseTo(Math.rint(steps), within(1e-8));
        }
        // 5 V lies between two steps: the loop goes to and fro between them
        assertThat(onTimes[1998] * FREQUENCY).isBetween(0.4, 0.55);
        double lowest = 1;
        double highest = 0;
        for (int n = 1000; n < 2000; n++) {
            lowest = Math.min(lowest, onTimes[n] * FREQUENCY);
            highest = Math.max(highest, onTimes[n] * FREQUENCY);
        }
        assertThat(highest - lowest).isBetween(0.9 / 64, 6.1 / 64);
    }

    /** An integrator with a gain that is small: the orbit is that of the duty cycle that makes 5 V, with sampled error 0. */
    @Test
    void anIntegratorBringsTheSampledErrorToZero() {
        Regulator regulator = SampledControl.of(FREQUENCY, 5, 1, 0.001)
                .withDenominator(-1)
                .withSampling(0.5, 0)
                .withMaximumDutyCycle(0.9);
        DrivenCircuit driven = Stages.regulated(Stages.buck(BUCK), regulator);
        SteadyState steady = SteadyState.of(driven);
        double sampled = steady.of(driven.nodeVoltage("out")).at(0.5 / FREQUENCY);
        assertThat(sampled).isCloseTo(5, within(1e-11));
        assertThat(steady.multipliers()).allMatch(multiplier -> multiplier.magnitude() < 1);
        assertThat(steady.multipliers().get(3).magnitude()).isLessThan(1e-12);
    }

    /**
     * Random designs that settle to a steady state in which the sampled error, a difference of some tens of volts, is zero but
     * for the rounding of those: measured by itself such a state never comes back.
     */
    @ParameterizedTest
    @ValueSource(longs = {500_334, 501_125, 503_788})
    void aSampledErrorThatVanishesHidesNoSteadyState(long seed) {
        DrivenCircuit driven = RandomRegulators.of(seed).driven().running();
        SteadyState steady = SteadyState.of(driven);
        double[] state = steady.state();
        double[] image = PeriodMap.of(driven.law(), 1).apply(state);
        assertThat(image).containsExactly(state, within(1e-11));
        // the errors of the last two samples
        assertThat(List.of(state[5], state[6])).allMatch(error -> Math.abs(error) < 1e-11);
        assertThat(steady.audit().residual()).isLessThan(1e-13);
    }
}
