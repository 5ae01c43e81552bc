package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;

/**
 * Every regulated converter that settles from rest has its steady state, and it is where the run ends: the oracle is the run,
 * which knows nothing of the search. {@code -Dvoltsecond.rails=200} draws more of them.
 */
class RegulatedOrbitProperties {
    private static final int RAILS = Integer.getInteger("voltsecond.rails", 30);
    private static final int FIRST_PERIODS = 600;
    private static final int PERIODS_AT_ONCE = 16;
    private static final int MOST_ROUNDS = 1000;
    private static final double SETTLED = 1e-13;

    /** Where a run from rest settles; empty if it does not, or not to an orbit of one period. */
    private static double[] settled(DrivenCircuit driven, DrivenCircuit running) {
        PeriodMap many = PeriodMap.of(running.law(), PERIODS_AT_ONCE);
        try {
            double[] end = running.stateFrom(
                    driven,
                    Simulation.of(driven.law()).finalState(driven.restState(), FIRST_PERIODS * driven.clockPeriod()));
            for (int round = 0; round < MOST_ROUNDS; round++) {
                double[] next = many.apply(end);
                if (distance(running, next, end) < SETTLED) {
                    double[] once = PeriodMap.of(running.law(), 1).apply(next);
                    return distance(running, once, next) < SETTLED ? next : new double[0];
                }
                end = next;
            }
        } catch (SwitchingException e) {
            return new double[0];
        }
        return new double[0];
    }

    /** Relative, all states together but the timer of the gates, which tells nothing of what was. */
    private static double distance(DrivenCircuit circuit, double[] a, double[] b) {
        double[] scale = circuit.law().scale();
        double distance = 0;
        double size = 0;
        for (int i = 0; i < a.length; i++) {
            if (!circuit.stateNames().get(i).startsWith("timer")) {
                distance += scale[i] * Math.abs(a[i] - b[i]);
                size += scale[i] * Math.abs(b[i]);
            }
        }
        return distance / size;
    }

    @Test
    void theSteadyStateIsWhereARunFromRestEnds() {
        List<String> wrong = new ArrayList<>();
        int compared = 0;
        for (long seed = 1; seed <= RAILS; seed++) {
            Converter rail = RandomRails.of(seed);
            DrivenCircuit running = rail.driven().running();
            double[] end = settled(rail.driven(), running);
            if (end.length > 0) {
                compared++;
                SteadyState ended = SteadyState.of(running, end, 1);
                double distance =
                        distance(running, rail.steadyState().periodic().state(), end);
                if (!(distance < 1e-9) && !isCaughtElsewhere(rail, ended)) {
                    wrong.add("rail " + seed + " is off by " + distance);
                }
            }
        }
        assertThat(wrong).isEmpty();
        assertThat(compared).isGreaterThan(2 * RAILS / 3);
    }

    /**
     * A stage that steps up may be caught by its longest pulse on the way up, though it has the regulated steady state as well: that
     * is the one that is meant.
     */
    private static boolean isCaughtElsewhere(Converter rail, SteadyState ended) {
        double regulated = Math.abs(rail.steadyState().of(rail.outputVoltage()).mean());
        double caught = Math.abs(ended.of(rail.outputVoltage()).mean());
        return ended.isStable() && caught < 0.5 * regulated;
    }

    /**
     * A textbook's current-mode buck (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, chapter on current
     * programmed control, from memory) with a fast voltage loop: a search from rest was told to drift. Multipliers by Newton's
     * method on an independent simulator, to the digits given.
     */
    @Test
    void aTextbooksCurrentModeBuck() {
        Compensator compensator = Compensator.type2(5621356.454823337, 13333.333333333334, 1e7);
        SteadyState steady = PowerStage.buck()
                .input(12)
                .inductor(35e-6, 0.05)
                .outputCapacitor(100e-6)
                .synchronousRectifier(0)
                .load(Load.resistor(10))
                .drive(CurrentMode.peak(200e3, 3, 0.375, compensator, 1)
                        .withSlopeCompensation(120e3)
                        .withMaximumDutyCycle(0.95))
                .steadyState()
                .periodic();
        List<Complex> multipliers = steady.multipliers();
        assertThat(steady.isStable()).isTrue();
        assertThat(multipliers.get(0).real()).isCloseTo(-0.957, within(5e-4));
        assertThat(multipliers.get(1).real()).isCloseTo(0.448, within(5e-4));
        assertThat(Math.abs(multipliers.get(1).imaginary())).isCloseTo(0.145, within(5e-4));
    }
}
