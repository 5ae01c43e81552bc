package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/**
 * Random lossy stages against an independent integrator, {@link TextbookStage}, over 200 periods from rest: every state at
 * the end of a period, and every instant at which the rectifier's current ends.
 *
 * <p>What the integrator itself is good for is measured for each stage: it runs at tolerances of 1e-12 and 3e-13 too, and
 * the library must not be farther from its run at 1e-13 than three times what those are from it, but for
 * {@link #ROUNDING}. Three times, since runs whose errors are of one size differ by a part of it: the stage with the
 * largest difference seen (an inverting one, 5e-11) stands in {@link FortyDigitTest}, where the library is within 1e-15 and
 * the integrator is not.
 */
class IntegratorOracleTest {
    private static final int PERIODS = 200;
    private static final int STAGES = 10;
    private static final double FINE = 1e-13;
    private static final double BETWEEN = 3e-13;
    private static final double MEDIUM = 1e-12;
    /** What 200 periods of rounding make of the 1e-16 of each of the integrator's steps. */
    private static final double ROUNDING = 1e-12;

    @ParameterizedTest
    @CsvSource({
        "BUCK, false, false", "BUCK, true, false", "BUCK, false, true",
        "BOOST, false, false", "BOOST, true, false", "BOOST, false, true",
        "INVERTING_BUCK_BOOST, false, false", "INVERTING_BUCK_BOOST, true, false", "INVERTING_BUCK_BOOST, false, true"
    })
    void agreesToTheIntegratorsOwnAccuracy(Topology topology, boolean synchronous, boolean constantCurrent) {
        Random random = new Random(20250101 + PlainStages.ALL.indexOf(topology));
        int compared = 0;
        int rectifierEnds = 0;
        for (int k = 0; k < STAGES; k++) {
            StageSpec stage = lossy(random, topology, synchronous, constantCurrent);
            TextbookStage.Run fine = new TextbookStage(stage, FINE).run(PERIODS);
            if (fine.interrupted()) {
                assertInterrupted(stage);
                continue;
            }
            compared++;
            rectifierEnds += fine.rectifierEnds().size();
            double own = Math.max(
                    difference(stage, new TextbookStage(stage, MEDIUM).run(PERIODS), fine),
                    difference(stage, new TextbookStage(stage, BETWEEN).run(PERIODS), fine));
            double ours = difference(stage, libraryRun(stage), fine);
            assertThat(ours)
                    .as(stage.toString())
                    .isLessThanOrEqualTo(3 * own + ROUNDING)
                    .isLessThan(1e-9);
        }
        assertThat(compared).isGreaterThan(STAGES / 2);
        assertThat(rectifierEnds > PERIODS).as("rectifier ends").isEqualTo(!synchronous);
    }

    /** A current that the transistor interrupts without a path is refused by both. */
    private static void assertInterrupted(StageSpec stage) {
        assertThatThrownBy(() -> stage.converter().startUp(PERIODS * stage.period()))
                .as(stage.toString())
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("L1")
                .hasMessageContaining("Q1");
    }

    private static TextbookStage.Run libraryRun(StageSpec stage) {
        ConverterTransient run = stage.converter().startUp(PERIODS * stage.period());
        List<double[]> ends = new ArrayList<>();
        List<Double> rectifierEnds = new ArrayList<>();
        Interval before = null;
        for (Interval interval : run.run().trajectory().intervals()) {
            if (before != null && interval.sinceTick() == 0) {
                ends.add(before.endState());
            }
            boolean open = !run.run().circuit().conducts(interval.phase(), "Q1");
            boolean blocking = !stage.synchronous() && !run.run().circuit().conducts(interval.phase(), "D1");
            if (open && blocking && interval.sinceTick() > stage.dutyCycle() * stage.period()) {
                rectifierEnds.add(interval.sinceTick() / stage.period());
            }
            before = interval;
        }
        ends.add(run.run().finalState());
        return new TextbookStage.Run(ends, rectifierEnds, false);
    }

    /** Largest difference of two states in energy, relative to the largest state, or of two event times in periods. */
    private static double difference(StageSpec stage, TextbookStage.Run first, TextbookStage.Run second) {
        assertThat(first.ends()).as(stage.toString()).hasSameSizeAs(second.ends());
        assertThat(first.rectifierEnds()).as(stage.toString()).hasSameSizeAs(second.rectifierEnds());
        double ofTimes = 0;
        for (int k = 0; k < first.rectifierEnds().size(); k++) {
            double apart = first.rectifierEnds().get(k) - second.rectifierEnds().get(k);
            ofTimes = Math.max(ofTimes, Math.abs(apart));
        }
        double zi = Math.sqrt(stage.inductance());
        double zv = Math.sqrt(stage.capacitance());
        double largest = 0;
        double ofStates = 0;
        for (int k = 0; k < first.ends().size(); k++) {
            double[] a = first.ends().get(k);
            double[] b = second.ends().get(k);
            largest = Math.max(largest, Math.hypot(zi * a[0], zv * a[1]));
            ofStates = Math.max(ofStates, Math.hypot(zi * (a[0] - b[0]), zv * (a[1] - b[1])));
        }
        return Math.max(ofTimes, ofStates / largest);
    }

    /** A stage with every loss there is, and no time constant so short that the integrator would crawl. */
    private static StageSpec lossy(Random random, Topology topology, boolean synchronous, boolean constantCurrent) {
        double input = log(random, 3, 50);
        double frequency = log(random, 1e4, 2e6);
        double period = 1 / frequency;
        double ohm = log(random, 0.5, 200);
        // K = 2L/(RT) from deep discontinuous to deep continuous conduction, C of a few to some hundred T/R
        double inductance = log(random, 0.01, 5) * ohm * period / 2;
        double capacitance = log(random, 3, 300) * period / ohm;
        return new StageSpec(
                topology,
                synchronous,
                constantCurrent,
                input,
                inductance,
                log(random, 1e-3, 0.1) * ohm,
                capacitance,
                log(random, 1e-3, 0.1) * ohm,
                log(random, 1e-3, 0.05) * ohm,
                synchronous ? 0 : log(random, 0.05, 1),
                log(random, 1e-3, 0.05) * ohm,
                constantCurrent ? log(random, 0.05, 0.3) * input / ohm : ohm,
                0.05 + 0.85 * random.nextDouble(),
                frequency);
    }

    private static double log(Random random, double from, double to) {
        return from * Math.pow(to / from, random.nextDouble());
    }

    /** The integrator's traps: an event within a microsecond of another is placed to the last digits of the period. */
    @Test
    void oracleFindsEventsOfAFewNanoseconds() {
        StageSpec stage =
                new StageSpec(Topology.BUCK, false, false, 12, 1e-6, 0.01, 1e-7, 0.005, 0.05, 0.4, 0.02, 100, 0.3, 3e6);
        TextbookStage.Run fine = new TextbookStage(stage, FINE).run(100);
        TextbookStage.Run coarse = new TextbookStage(stage, 1e-11).run(100);
        assertThat(fine.rectifierEnds()).hasSizeGreaterThan(50).hasSameSizeAs(coarse.rectifierEnds());
        for (int k = 0; k < fine.rectifierEnds().size(); k++) {
            assertThat(Math.abs(
                            fine.rectifierEnds().get(k) - coarse.rectifierEnds().get(k)))
                    .isLessThan(1e-9);
        }
    }
}
