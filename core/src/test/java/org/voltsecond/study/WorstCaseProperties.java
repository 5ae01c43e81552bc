package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.constraints.LongRange;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.Tolerance.Distribution;

/** No design passes the worst case, wherever the conduction has its boundary and a figure its top. */
class WorstCaseProperties {
    private static final int DRAWS = 10_000;

    /** Draws of another seed than those that the search began from. */
    @Property(tries = 25, shrinking = ShrinkingMode.OFF)
    void noDesignWithinTheTolerancesPassesTheWorstCase(@ForAll @LongRange(min = 1, max = 1_000_000_000) long key) {
        assertThat(passed(key, DRAWS)).as("stage of key %d", key).isEmpty();
    }

    /** The output of a boost stage is curved in its duty cycle, so that it goes further than its derivative says. */
    @Example
    void drawsPassTheFirstOrderButNotTheWorstCase() {
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(micro(22), 0)
                .outputCapacitor(milli(47), 0)
                .transistor(0)
                .rectifier(0, 0)
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(0.5, kilo(300)));
        List<Tolerance> tolerances = List.of(
                new Tolerance(StageValue.DUTY_CYCLE, 0.1, Distribution.UNIFORM),
                new Tolerance(StageValue.INPUT_VOLTAGE, 1, Distribution.UNIFORM));
        StageFigure output = Figures.OUTPUT_VOLTAGE;
        ToleranceTable.Row row = ToleranceStudy.of(boost, tolerances, List.of(output))
                .run(2000, 3, Execution.onThreads(1))
                .rows()
                .get(0);
        // V / (1 - D), but for a ripple of 0.14 mV: 24 / 0.5 by D, of which 0.1, and 2 by V, of which 1 V
        assertThat(row.firstOrder()).isCloseTo(4.8 + 2, within(1e-5));
        assertThat(row.drawn().maximum()).isGreaterThan(row.nominal() + row.firstOrder());
        assertThat(row.worstCase().highest()).isCloseTo(13 / 0.4, within(1e-5));
        assertThat(row.worstCase().lowest()).isCloseTo(11 / 0.6, within(1e-5));
        assertThat(row.worstCase().highestAt()).containsExactly(0.6, 13.0);
    }

    /** The ripple of a buck stage is largest at half duty, in the middle of the tolerance: V D (1 - D) / (L f). */
    @Example
    void aTopBetweenTheCornersIsFound() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(micro(22), 0)
                .outputCapacitor(milli(10), 0)
                .transistor(0)
                .rectifier(0, 0)
                .load(Load.resistor(2))
                .drive(Drive.fixedDuty(0.48, kilo(300)));
        List<Tolerance> tolerances = List.of(new Tolerance(StageValue.DUTY_CYCLE, 0.1, Distribution.NORMAL));
        WorstCase worst = ToleranceStudy.of(buck, tolerances, List.of(Figures.INDUCTOR_RIPPLE))
                .run(1, 1, Execution.onThreads(1))
                .rows()
                .get(0)
                .worstCase();
        assertThat(worst.highest()).isCloseTo(12 * 0.25 / (micro(22) * kilo(300)), within(1e-6));
        assertThat(worst.highestAt().get(0)).isBetween(0.499, 0.501);
        assertThat(worst.lowestAt()).containsExactly(0.38);
    }

    /** A regulated stage takes a search for each design, so that fewer are drawn. */
    @Example
    void noDesignOfARegulatedStagePassesTheWorstCase() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type3(4000, 4e3, 6e3, 9e4, 1.5e5))
                        .withRamp(0, 1)
                        .withControlLimits(0, 1));
        List<Tolerance> tolerances = new ArrayList<>();
        for (StageValue value : List.of(StageValue.INPUT_VOLTAGE, StageValue.INDUCTANCE, StageValue.CAPACITANCE)) {
            tolerances.add(Tolerance.relative(rail, value, 0.2));
        }
        List<StageFigure> figures = List.of(Figures.OUTPUT_RIPPLE, Figures.INDUCTOR_PEAK, Figures.EFFICIENCY);
        assertThat(passed(rail, tolerances, figures, 30, 300)).isEmpty();
    }

    static List<String> passed(long key, int draws) {
        Random random = new Random(key);
        Converter stage = stage(random);
        List<Tolerance> tolerances = new ArrayList<>();
        for (StageValue value : StageValue.of(stage)) {
            if (random.nextInt(3) > 0) {
                tolerances.add(Tolerance.relative(stage, value, between(random, 0.01, 0.3))
                        .withDistribution(random.nextBoolean() ? Distribution.UNIFORM : Distribution.NORMAL));
            }
        }
        return passed(stage, tolerances, Figures.usual(), 1000, draws);
    }

    private static List<String> passed(
            Converter stage, List<Tolerance> tolerances, List<StageFigure> figures, int known, int draws) {
        ToleranceTable table;
        try {
            table = ToleranceStudy.of(stage, tolerances, figures).run(known, 1, Execution.onThreads(1));
        } catch (NoSteadyStateException e) {
            return List.of();
        }
        MonteCarloResult drawn = MonteCarlo.of(stage, tolerances, figures, 2).run(draws, Execution.onThreads(1));
        List<String> passed = new ArrayList<>();
        for (ToleranceTable.Row row : table.rows()) {
            MonteCarloResult.Spread spread = drawn.spread(row.figure());
            WorstCase worst = row.worstCase();
            if (spread.maximum() > worst.highest() || spread.minimum() < worst.lowest()) {
                passed.add(row.figure() + " drawn from " + spread.minimum() + " to " + spread.maximum() + " beside "
                        + worst.lowest() + " to " + worst.highest() + ", " + stage + ", " + tolerances);
            }
        }
        return passed;
    }

    private static Converter stage(Random random) {
        Topology topology = PlainStages.ALL.get(random.nextInt(PlainStages.ALL.size()));
        double frequency = factor(random, 5e4, 2e6);
        double input = factor(random, 3, 60);
        double ohm = factor(random, 1, 300);
        // inductance for ripples from a twentieth of the mean to far beyond the boundary of conduction
        double inductance = ohm / frequency * factor(random, 0.05, 5);
        double capacitance = factor(random, 5, 1000) / (ohm * frequency);
        PowerStage stage = PowerStage.of(topology)
                .input(input)
                .inductor(inductance, ohm * factor(random, 1e-4, 0.02))
                .outputCapacitor(capacitance, ohm * factor(random, 1e-4, 0.03))
                .transistor(ohm * factor(random, 1e-4, 0.03))
                .load(random.nextBoolean() ? Load.resistor(ohm) : Load.current(input / ohm));
        PowerStage rectified = random.nextInt(3) == 0
                ? stage.synchronousRectifier(ohm * factor(random, 1e-4, 0.03))
                : stage.rectifier(between(random, 0, 0.05) * input, ohm * factor(random, 1e-4, 0.02));
        return rectified.drive(Drive.fixedDuty(between(random, 0.1, 0.7), frequency));
    }

    private static double between(Random random, double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    private static double factor(Random random, double low, double high) {
        return low * Math.pow(high / low, random.nextDouble());
    }
}
