package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Tolerance.Distribution;

class ToleranceStudyTest {
    private static final StageFigure MEAN_OUTPUT = StageFigure.of(Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);

    private static Converter buck(double load, double dutyCycle) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    private static List<Tolerance> allWithin(Converter converter, double share, Distribution distribution) {
        List<Tolerance> tolerances = new ArrayList<>();
        for (StageValue value : StageValue.of(converter)) {
            tolerances.add(Tolerance.relative(converter, value, share).withDistribution(distribution));
        }
        return tolerances;
    }

    /** With small tolerances the first order holds: 20,000 designs tell their deviation to 1 %, their mean to 1 %. */
    @Test
    void randomDesignsSpreadAsTheDerivativesSay() {
        for (Converter converter : List.of(buck(2.5, 0.45), buck(100, 0.25))) {
            for (Distribution distribution : Distribution.values()) {
                ToleranceTable table = ToleranceStudy.of(
                                converter, allWithin(converter, 0.005, distribution), Figures.usual())
                        .run(20_000, 7, Execution.onThreads(2));
                assertThat(table.failures()).isEmpty();
                for (ToleranceTable.Row row : table.rows()) {
                    double expected = table.expectedDeviation(row);
                    assertThat(row.drawn().standardDeviation())
                            .as("deviation of %s, %s", row.figure(), distribution)
                            .isCloseTo(expected, within(0.03 * expected));
                    assertThat(row.drawn().mean())
                            .as("mean of %s, %s", row.figure(), distribution)
                            .isCloseTo(row.nominal(), within(0.04 * expected));
                    assertThat(row.drawn().maximum()).isLessThan(row.nominal() + 1.05 * row.firstOrder());
                    assertThat(row.drawn().minimum()).isGreaterThan(row.nominal() - 1.05 * row.firstOrder());
                    assertThat(row.rootSumSquare()).isLessThan(row.firstOrder()).isGreaterThan(0);
                }
            }
        }
    }

    @Test
    void sameBitsOnAnyNumberOfThreads() {
        Converter converter = buck(2.5, 0.45);
        MonteCarlo plan = MonteCarlo.of(converter, allWithin(converter, 0.2, Distribution.NORMAL), Figures.usual(), 42);
        MonteCarloResult one = plan.run(3000, Execution.onThreads(1));
        MonteCarloResult three = plan.run(3000, Execution.onThreads(3));
        MonteCarloResult fewer = plan.run(700, Execution.onThreads(2));
        for (StageFigure figure : Figures.usual()) {
            assertThat(three.of(figure)).isEqualTo(one.of(figure));
            assertThat(fewer.of(figure)).isEqualTo(Arrays.copyOf(one.of(figure), 700));
        }
        MonteCarloResult otherSeed = MonteCarlo.of(
                        converter, allWithin(converter, 0.2, Distribution.NORMAL), Figures.usual(), 43)
                .run(3000);
        assertThat(otherSeed.of(MEAN_OUTPUT)).isNotEqualTo(one.of(MEAN_OUTPUT));
    }

    @Test
    void everyDesignIsThatOfTheEngine() {
        Converter converter = buck(15, 0.3);
        List<Tolerance> tolerances = allWithin(converter, 0.2, Distribution.UNIFORM);
        MonteCarlo plan = MonteCarlo.of(converter, tolerances, Figures.usual(), 5);
        MonteCarloResult found = plan.run(50);
        for (int design = 0; design < 50; design++) {
            Converter changed = converter;
            for (int k = 0; k < tolerances.size(); k++) {
                StageValue value = tolerances.get(k).value();
                changed = value.set(changed, plan.value(design, k));
                assertThat(plan.value(design, k)).isCloseTo(value.in(converter), within(0.2 * value.in(converter)));
            }
            for (StageFigure figure : Figures.usual()) {
                double exact = figure.in(changed.steadyState());
                assertThat(found.of(figure)[design])
                        .as("%s of %s", figure, changed)
                        .isCloseTo(exact, within(1e-11 * Math.abs(exact)));
            }
        }
    }

    @Test
    void designsThatFailAreKeptBesideTheOthers() {
        Converter converter = buck(2.5, 0.45);
        List<Tolerance> tooWide = List.of(Tolerance.relative(converter, StageValue.INDUCTANCE, 1.5));
        MonteCarloResult found =
                MonteCarlo.of(converter, tooWide, Figures.usual(), 1).run(300);
        double share = found.failures().size() / 300.0;
        assertThat(share).as("inductances below zero").isBetween(0.1, 0.24);
        assertThat(found.failures().get(0).reason()).contains("inductance");
        assertThat(found.of(MEAN_OUTPUT)[found.failures().get(0).design()]).isNaN();
        assertThat(found.spread(MEAN_OUTPUT).mean()).isBetween(3.0, 6.0);
    }

    @Test
    void distributionsKeepWithinTheirToleranceAndSpreadAsStated() {
        for (Distribution distribution : Distribution.values()) {
            int count = 200_000;
            double sum = 0;
            double squares = 0;
            for (int k = 0; k < count; k++) {
                double drawn = distribution.draw(k * 0x9E3779B97F4A7C15L);
                assertThat(Math.abs(drawn)).isLessThanOrEqualTo(1);
                sum += drawn;
                squares += drawn * drawn;
            }
            double deviation = distribution.standardDeviation();
            assertThat(sum / count).isCloseTo(0, within(4 * deviation / Math.sqrt(count)));
            assertThat(Math.sqrt(squares / count)).isCloseTo(deviation, within(0.005 * deviation));
        }
    }

    @Test
    void textAndCsvCarryEveryFigure() {
        Converter converter = buck(2.5, 0.45);
        ToleranceTable table = ToleranceStudy.of(
                        converter, allWithin(converter, 0.1, Distribution.UNIFORM), Figures.usual())
                .run(100, 3, Execution.onThreads(1));
        for (StageFigure figure : Figures.usual()) {
            assertThat(table.toText()).contains(figure.toString());
            assertThat(table.toCsv()).contains('"' + figure.toString() + '"');
        }
        assertThat(table.toText()).contains("100 designs drawn, seed 3, 0 without a steady state");
        String[] lines = table.toCsv().split("\n", -1);
        int columns = lines[0].split(",", -1).length;
        ToleranceTable.Row first = table.rows().get(0);
        String[] cells = lines[1].substring(lines[1].lastIndexOf('"') + 2).split(",", -1);
        assertThat(cells).hasSize(columns - 1);
        assertThat(Double.parseDouble(cells[1])).isEqualTo(first.nominal());
        assertThat(Double.parseDouble(cells[2])).isEqualTo(first.firstOrder());
    }

    @Test
    void wrongTolerancesAreRefusedAllAtOnce() {
        Converter converter = buck(2.5, 0.45);
        List<Tolerance> wrong = List.of(
                new Tolerance(StageValue.LOAD_CURRENT, 1, Distribution.UNIFORM),
                new Tolerance(StageValue.INDUCTANCE, 1e-6, Distribution.UNIFORM),
                new Tolerance(StageValue.INDUCTANCE, 1e-6, Distribution.UNIFORM));
        assertThatThrownBy(() -> ToleranceStudy.of(converter, wrong, Figures.usual()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("load current")
                .hasMessageContaining("inductance: given twice");
        assertThatThrownBy(() -> new Tolerance(StageValue.INDUCTANCE, Double.NaN, Distribution.UNIFORM))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("inductance")
                .hasMessageContaining("NaN");
    }

    private static Converter regulated(Regulator regulator) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(100), milli(20))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(regulator);
    }

    /** The regulated stage goes the way of the engine; to first order its designs spread as its derivatives say. */
    @Test
    void regulatedDesignsSpreadAsTheirDerivativesSay() {
        Compensator compensator = Compensator.type2(300, 2e3, 60e3);
        for (Regulator regulator : List.of(
                VoltageMode.of(kilo(300), 1, 0.2, compensator),
                CurrentMode.peak(kilo(300), 1, 0.2, compensator, 0.2).withSlopeCompensation(0.3e6),
                Hysteretic.currentBand(kilo(300), 1, 0.2, compensator, 0.2, 0.8))) {
            Converter converter = regulated(regulator);
            ToleranceTable table = ToleranceStudy.of(
                            converter,
                            allWithin(converter, 0.005, Distribution.UNIFORM),
                            List.of(
                                    StageFigure.of(StageMeasurement.of(Measure.ON_TIME)),
                                    StageFigure.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE),
                                    StageFigure.of(Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT),
                                    Figures.EFFICIENCY))
                    .run(400, 3, Execution.onThreads(2));
            assertThat(table.failures()).isEmpty();
            for (ToleranceTable.Row row : table.rows()) {
                double expected = table.expectedDeviation(row);
                // the deviation of 400 draws of a sum of several uniform values is right to 1 / sqrt(2 * 400) = 3.5 %
                assertThat(row.drawn().standardDeviation())
                        .as("deviation of %s, %s", row.figure(), converter)
                        .isCloseTo(expected, within(0.12 * expected));
                assertThat(row.drawn().mean()).isCloseTo(row.nominal(), within(0.25 * expected));
                assertThat(row.firstOrder()).isGreaterThan(row.rootSumSquare());
                assertThat(row.drawn().maximum() - row.nominal()).isLessThan(1.02 * row.firstOrder());
            }
        }
    }

    /** Each value of each design is drawn on its own; a number that served twice would tie two of them together. */
    @Test
    void noDrawServesTwice() {
        Converter converter = buck(2.5, 0.45);
        List<Tolerance> tolerances = allWithin(converter, 0.1, Distribution.UNIFORM);
        MonteCarlo plan = MonteCarlo.of(converter, tolerances, List.of(MEAN_OUTPUT), 5);
        Set<Long> draws = new HashSet<>();
        for (int design = 0; design < 200; design++) {
            for (int k = 0; k < tolerances.size(); k++) {
                double nominal = tolerances.get(k).value().in(converter);
                double draw =
                        (plan.value(design, k) - nominal) / tolerances.get(k).halfWidth();
                draws.add(Math.round(1e12 * draw));
            }
        }
        assertThat(draws).hasSize(200 * tolerances.size());
    }

    /** The integrator holds the mean whatever the parts are; what is left of the derivative is below the last place. */
    @Test
    void whatARegulatorHoldsHasNoTolerance() {
        Converter converter = regulated(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(300, 2e3, 60e3)));
        List<Tolerance> tolerances = allWithin(converter, 0.2, Distribution.UNIFORM).stream()
                .filter(each ->
                        !List.of(StageValue.REFERENCE, StageValue.DIVIDER).contains(each.value()))
                .toList();
        ToleranceTable table = ToleranceStudy.of(converter, tolerances, List.of(MEAN_OUTPUT, Figures.INDUCTOR_PEAK))
                .run(2, 3, Execution.onThreads(1));
        assertThat(table.rows().get(0).firstOrder()).isZero();
        assertThat(table.rows().get(1).firstOrder()).isPositive();
    }

    @Test
    void aRegulatedDesignIsTheSteadyStateOfItsOwnValues() {
        Converter converter = regulated(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(300, 2e3, 60e3)));
        List<Tolerance> tolerances = allWithin(converter, 0.1, Distribution.UNIFORM);
        List<StageFigure> figures = Figures.usual();
        MonteCarlo plan = MonteCarlo.of(converter, tolerances, figures, 5);
        MonteCarloResult two = plan.run(20, Execution.onThreads(2));
        MonteCarloResult one = plan.run(20, Execution.onThreads(1));
        for (int design = 0; design < 20; design++) {
            Converter here = converter;
            for (int k = 0; k < tolerances.size(); k++) {
                here = tolerances.get(k).value().set(here, plan.value(design, k));
            }
            var steady = here.steadyState();
            for (StageFigure figure : figures) {
                double expected = figure.in(steady);
                assertThat(two.of(figure)[design]).isCloseTo(expected, within(1e-11 * Math.abs(expected)));
                assertThat(one.of(figure)[design]).isEqualTo(two.of(figure)[design]);
            }
        }
    }
}
