package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.statistics.Statistics;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

class StageSamplerTest {
    private static final List<StageMeasurement> FIGURES = SensitivityTest.allFigures();

    private static Converter lossy(Topology topology, boolean synchronous, Load load, double dutyCycle) {
        PowerStage stage = PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .load(load);
        return (synchronous ? stage.synchronousRectifier(milli(20)) : stage.rectifier(0.4, milli(20)))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    /** The figures of the nominal stage against those of the engine; returns whether the engine was asked. */
    private static boolean compare(Converter converter, double digits) {
        StageSampler sampler = StageSampler.of(converter, StageValue.of(converter), FIGURES);
        double[] found = new double[FIGURES.size()];
        sampler.measure(sampler.nominal(), found);
        ConverterSteadyState steady = converter.steadyState();
        for (int k = 0; k < found.length; k++) {
            StageMeasurement figure = FIGURES.get(k);
            double size = SensitivityOracle.size(steady, figure);
            double time = figure.signal() == null && figure.measure() != StageMeasurement.Measure.EFFICIENCY
                    ? steady.period()
                    : size;
            if (Double.isNaN(figure.in(steady))) {
                assertThat(found[k]).isNaN();
                continue;
            }
            assertThat(found[k])
                    .as("%s of %s", figure, converter)
                    .isCloseTo(figure.in(steady), within(digits * Math.max(size, time)));
        }
        return sampler.leftToEngine() > 0;
    }

    @Test
    void everyFigureIsThatOfTheEngine() {
        for (Topology topology : PlainStages.ALL) {
            for (boolean synchronous : new boolean[] {false, true}) {
                for (Load load : List.of(Load.resistor(2.5), Load.resistor(100), Load.current(3), Load.current(0.2))) {
                    for (double dutyCycle : new double[] {0.25, 0.45}) {
                        Converter stage = lossy(topology, synchronous, load, dutyCycle);
                        boolean left = compare(stage, 1e-12);
                        assertThat(left).as("left to the engine: %s", stage).isFalse();
                    }
                }
            }
        }
    }

    @Provide
    Arbitrary<StageSpec> stages() {
        return RandomStages.settling();
    }

    @Property(tries = 500, shrinking = ShrinkingMode.OFF)
    void randomStages(@ForAll("stages") StageSpec spec) {
        try {
            Statistics.label("left to the engine").collect(compare(spec.converter(), 1e-10));
        } catch (NoSteadyStateException e) {
            Interruption.steadyState(spec);
            throw e;
        }
    }

    /** A value by the name of its part is the value by what the part does, and as quick; of a further part as sure. */
    @Test
    void aValueOfAPartIsThatOfItsRole() {
        Converter stage = lossy(Topology.BUCK, false, Load.resistor(2.5), 0.45);
        double[] byRole = new double[FIGURES.size()];
        double[] byPart = new double[FIGURES.size()];
        for (StageValue value : StageValue.of(stage)) {
            if (value.partValue(stage).isEmpty()) {
                continue;
            }
            StageValue part = StageValue.of(stage, value.partValue(stage).get());
            StageSampler sampler = StageSampler.of(stage, List.of(part), FIGURES);
            double[] other = {1.05 * value.in(stage)};
            StageSampler.of(stage, List.of(value), FIGURES).measure(other, byRole);
            sampler.measure(other, byPart);
            assertThat(byPart).as("%s", part).isEqualTo(byRole);
            assertThat(sampler.leftToEngine()).isZero();
            assertThat(part.in(part.set(stage, other[0]))).isEqualTo(other[0]);
        }
        Converter withDiode = stage.withBodyDiode(0.7, milli(20));
        assertThat(StageSampler.isQuickFor(withDiode)).isTrue();
        StageSampler further = StageSampler.of(withDiode, List.of(StageValue.of(withDiode, "D2.resistance")), FIGURES);
        further.measure(new double[] {milli(30)}, byPart);
        ConverterSteadyState engine = withDiode.with("D2.resistance", milli(30)).steadyState();
        for (int k = 0; k < byPart.length; k++) {
            double size = SensitivityOracle.size(engine, FIGURES.get(k));
            assertThat(byPart[k])
                    .as("%s", FIGURES.get(k))
                    .isCloseTo(FIGURES.get(k).in(engine), within(1e-12 * Math.max(size, engine.period())));
        }
        assertThatThrownBy(() -> StageValue.of(stage, "L1.colour")).hasMessageContaining("values of L1 are");
    }

    @Test
    void whatIsNotUsualIsLeftToTheEngine() {
        Converter whole = lossy(Topology.BUCK, false, Load.resistor(2.5), 1);
        assertThat(compare(whole, 1e-12)).isTrue();
        Converter slow = lossy(Topology.BUCK, true, Load.resistor(2.5), 0.45).withDrive(Drive.fixedDuty(0.45, kilo(3)));
        assertThat(compare(slow, 1e-12)).isTrue();
    }

    @Test
    void aValueOutOfItsRangeIsRefusedByName() {
        StageSampler sampler = StageSampler.of(
                lossy(Topology.BUCK, false, Load.resistor(2.5), 0.45), List.of(StageValue.INDUCTANCE), FIGURES);
        assertThatThrownBy(() -> sampler.measure(new double[] {-micro(1)}, new double[FIGURES.size()]))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("inductance");
    }

    /** A large load of constant current pulls the output to the wrong side of ground, where it feeds the stage. */
    @Test
    void aLoadThatDeliversMakesTheEfficiencyNegative() {
        for (Topology topology : List.of(Topology.BUCK, Topology.INVERTING_BUCK_BOOST)) {
            Converter stage = lossy(topology, false, Load.current(20), 0.05);
            assertThat(stage.steadyState().efficiency().orElseThrow()).isNegative();
            assertThat(compare(stage, 1e-12))
                    .as("left to the engine: %s", stage)
                    .isFalse();
        }
    }

    /**
     * Volt-second and charge balance of an ideal boost stage in discontinuous conduction, with a load of constant current:
     * V = V_i + V_i^2 D^2 / (2 L f I), whose ripple a capacitor of 50 mF makes smaller than the rounding of the voltage.
     */
    @Test
    void aRippleBelowTheRoundingOfTheOutputCostsNoDigits() {
        Converter stage = PowerStage.boost()
                .input(20)
                .inductor(micro(150))
                .outputCapacitor(milli(50))
                .load(Load.current(milli(1)))
                .drive(Drive.fixedDuty(0.82, kilo(900)));
        StageSampler sampler = StageSampler.of(
                stage,
                List.of(),
                List.of(StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE)));
        double[] found = new double[1];
        sampler.measure(sampler.nominal(), found);
        double exact = 20 + 20 * 20 * 0.82 * 0.82 / (2 * micro(150) * kilo(900) * milli(1));
        assertThat(sampler.leftToEngine()).isZero();
        assertThat(found[0]).isCloseTo(exact, within(1e-12 * exact));
    }

    @Test
    void theMarginIsThatOfTheEngineWhereTheCurrentPeaksAfterTheTransistorOpens() {
        Converter stage = lossy(Topology.BOOST, false, Load.current(5), 0.3)
                .withInductor(micro(10), milli(30))
                .withOutputCapacitor(micro(0.2), milli(5));
        ConverterSteadyState steady = stage.steadyState();
        assertThat(steady.of(stage.rectifierCurrent()).maximum())
                .isGreaterThan(1.04 * steady.of(stage.transistorCurrent()).maximum());
        StageSampler sampler = StageSampler.of(stage, List.of(), FIGURES);
        sampler.measure(sampler.nominal(), new double[FIGURES.size()]);
        assertThat(sampler.leftToEngine()).isZero();
        assertThat(sampler.margin()).isCloseTo(steady.conductionMargin(), within(1e-12));
    }
}
