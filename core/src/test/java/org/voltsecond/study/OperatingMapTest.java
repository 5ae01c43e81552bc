package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CancellationException;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.ConversionRatio;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.LossModel;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.reference.IdealOrbit;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.MapLine.Spot;
import org.voltsecond.units.Unit;

class OperatingMapTest {
    private static final double PERIOD = 1 / kilo(300);
    private static final double INDUCTANCE = micro(22);

    private static Converter lossy() {
        return PowerStage.buck()
                .input(12)
                .inductor(INDUCTANCE, milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    private static Converter ideal(Topology topology, double dutyCycle, double capacitance) {
        PowerStage stage = switch (topology.key()) {
            case "buck" -> PowerStage.buck();
            case "boost" -> PowerStage.boost();
            default -> PowerStage.invertingBuckBoost();
        };
        return stage.input(12)
                .inductor(INDUCTANCE, 0)
                .outputCapacitor(capacitance, 0)
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    private static OperatingMap map(int threads) {
        return OperatingMap.of(
                lossy(),
                Axis.loadResistance(1, 200, 24),
                Axis.inputVoltage(9, 15, 7),
                Figures.usual(),
                Execution.onThreads(threads));
    }

    /**
     * The formula is that of a capacitor without end. Deviations of a finite one are a power series in 1 / C, of which four
     * halvings of 1 / C take the first four terms away (Richardson).
     */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void boundaryOfIdealPartsIsThatOfCriticalK(Topology topology) {
        for (double dutyCycle : new double[] {0.2, 0.45, 0.7}) {
            double critical = 2 * INDUCTANCE / (ConversionRatio.criticalK(topology, dutyCycle) * PERIOD);
            double[] boundary = new double[5];
            for (int k = 0; k < 5; k++) {
                double capacitance = 5 * PERIOD * PERIOD / INDUCTANCE * (1 << k);
                boundary[k] = ConductionBoundary.find(
                        ideal(topology, dutyCycle, capacitance),
                        Axis.loadResistance(1, 2, 2),
                        0.5 * critical,
                        2 * critical);
            }
            assertThat(withoutRipple(boundary) / critical - 1)
                    .as("%s at %s", topology, dutyCycle)
                    .isCloseTo(0, within(1e-12));
        }
    }

    /** What values tend to whose deviation is a power series, each with half of the deviation of the one before it. */
    private static double withoutRipple(double[] values) {
        double[] refined = values.clone();
        for (int term = 1; term < refined.length; term++) {
            for (int k = 0; k + term < refined.length; k++) {
                refined[k] = refined[k + 1] + (refined[k + 1] - refined[k]) / ((1 << term) - 1);
            }
        }
        return refined[0];
    }

    /** As above, for the boundary of a whole map, whose corners are found without compiling a stage. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void boundaryOfAMapOfIdealPartsIsThatOfCriticalK(Topology topology) {
        Axis duties = Axis.dutyCycle(0.2, 0.7, 3);
        for (int j = 0; j < duties.size(); j++) {
            double dutyCycle = duties.values().get(j);
            double critical = 2 * INDUCTANCE / (ConversionRatio.criticalK(topology, dutyCycle) * PERIOD);
            double[] boundary = new double[5];
            for (int k = 0; k < 5; k++) {
                double capacitance = 5 * PERIOD * PERIOD / INDUCTANCE * (1 << k);
                OperatingMap map = OperatingMap.of(
                        ideal(topology, dutyCycle, capacitance),
                        Axis.loadResistance(0.5 * critical, 2 * critical, 2),
                        duties,
                        List.of(),
                        Execution.onThreads(1));
                boundary[k] = map.boundary().stream()
                        .flatMap(line -> line.spots().stream())
                        .filter(spot -> spot.up() == dutyCycle)
                        .findFirst()
                        .orElseThrow()
                        .across();
            }
            assertThat(withoutRipple(boundary) / critical - 1)
                    .as("%s at %s", topology, dutyCycle)
                    .isCloseTo(0, within(1e-12));
        }
    }

    /** A custom figure sends every place to the engine. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void theQuickWayFindsWhatTheEngineFinds(Topology topology) {
        Converter stage = withBodyDiode(topology);
        Axis loads = Axis.loadCurrent(milli(20), 2, 6);
        Axis inputs = Axis.inputVoltage(9, 15, 3);
        List<Figure<ConverterSteadyState>> own = new ArrayList<>(Figures.usual());
        own.add(Figure.of("heat", Unit.WATT, steady -> steady.losses().rectifier()));
        OperatingMap quick = OperatingMap.of(stage, loads, inputs, Figures.usual(), Execution.onThreads(1));
        OperatingMap engine = OperatingMap.of(stage, loads, inputs, own, Execution.onThreads(1));
        same(quick, engine, 1e-9);
        double volt = topology == Topology.BOOST ? 24 : 5;
        quick = OperatingMap.holding(stage, volt, loads, inputs, Figures.usual(), Execution.onThreads(1));
        engine = OperatingMap.holding(stage, volt, loads, inputs, own, Execution.onThreads(1));
        same(quick, engine, 1e-8);
        assertThat(Math.abs(quick.value(0, 2, 1))).isCloseTo(volt, within(1e-11 * volt));
        assertThat(quick.boundary()).hasSize(1);
        assertThat(quick.conduction(0, 0)).contains(Conduction.DISCONTINUOUS);
        assertThat(quick.conduction(5, 0)).contains(Conduction.CONTINUOUS);
    }

    private static Converter withBodyDiode(Topology topology) {
        PowerStage stage = switch (topology.key()) {
            case "buck" -> PowerStage.buck();
            case "boost" -> PowerStage.boost();
            default -> PowerStage.invertingBuckBoost();
        };
        return stage.input(12)
                .inductor(INDUCTANCE, milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.current(1))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    private static void same(OperatingMap quick, OperatingMap engine, double tolerance) {
        assertThat(engine.failures()).isZero();
        for (int i = 0; i < quick.across().size(); i++) {
            for (int j = 0; j < quick.up().size(); j++) {
                assertThat(quick.conduction(i, j)).isEqualTo(engine.conduction(i, j));
                for (int k = 0; k < quick.figures().size(); k++) {
                    double exact = engine.value(k, i, j);
                    assertThat(quick.value(k, i, j))
                            .as("%s at %d %d", quick.figures().get(k), i, j)
                            .isCloseTo(exact, within(tolerance * Math.abs(exact)));
                }
            }
        }
        assertThat(quick.boundary()).hasSameSizeAs(engine.boundary());
        for (int k = 0; k < quick.boundary().size(); k++) {
            List<Spot> spots = quick.boundary().get(k).spots();
            for (int n = 0; n < spots.size(); n++) {
                Spot exact = engine.boundary().get(k).spots().get(n);
                assertThat(spots.get(n).across()).isCloseTo(exact.across(), within(tolerance * exact.across()));
                assertThat(spots.get(n).up()).isCloseTo(exact.up(), within(tolerance * exact.up()));
            }
        }
    }

    @Test
    void aMapOfARegulatedConverterShowsTheDutyCycleThatItsRegulatorSets() {
        Converter regulated = lossy().withRegulator(
                        VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                                .withMaximumDutyCycle(0.95));
        OperatingMap map = OperatingMap.of(
                regulated,
                Axis.loadResistance(2.5, 250, 3),
                Axis.inputVoltage(9, 15, 2),
                List.of(Figures.OUTPUT_VOLTAGE, Figures.DUTY_CYCLE),
                Execution.onThreads(2));
        assertThat(map.failures()).isZero();
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 2; j++) {
                assertThat(map.value(0, i, j)).isCloseTo(5, within(2e-3));
                Converter there = regulated
                        .withInput(map.up().values().get(j))
                        .withLoad(Load.resistor(map.across().values().get(i)));
                assertThat(map.value(1, i, j)).isCloseTo(there.steadyState().dutyCycle(), within(1e-9));
            }
        }
        assertThat(map.conduction(2, 0)).contains(Conduction.DISCONTINUOUS);
        assertThat(map.boundary()).isNotEmpty();
        assertThatThrownBy(() -> OperatingMap.holding(
                        regulated,
                        5,
                        Axis.loadResistance(1, 2, 2),
                        Axis.inputVoltage(9, 15, 2),
                        List.of(),
                        Execution.onThreads(1)))
                .hasMessageContaining("its regulator holds the output already");
    }

    /** Against the root of the exact current in 40-digit arithmetic, with capacitors of any size. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void boundaryOfAnyCapacitorIsThatOfFortyDigits(Topology topology) {
        for (double capacitance : new double[] {22e-6, 1e-3, 10e-3, 100e-3}) {
            for (double dutyCycle : new double[] {0.25, 0.5, 0.7}) {
                double critical = 2 * INDUCTANCE / (ConversionRatio.criticalK(topology, dutyCycle) * PERIOD);
                double found = ConductionBoundary.find(
                        ideal(topology, dutyCycle, capacitance),
                        Axis.loadResistance(1, 2, 2),
                        0.3 * critical,
                        4 * critical);
                UnivariateFunction current = load ->
                        IdealOrbit.lastCurrent(topology, 12, INDUCTANCE, capacitance, load, dutyCycle, kilo(300));
                double expected = new BracketingNthOrderBrentSolver(1e-16, 1e-16, 5)
                        .solve(200, current, 0.3 * critical, critical * 2);
                assertThat(found / expected - 1)
                        .as("%s, %s F, %s", topology, capacitance, dutyCycle)
                        .isCloseTo(0, within(3e-13));
            }
        }
    }

    @Test
    void everyCornerOfTheBoundaryIsASteadyStateAtTheBoundary() {
        OperatingMap map = map(2);
        assertThat(map.boundary()).hasSize(1);
        List<Spot> spots = map.boundary().get(0).spots();
        assertThat(spots.stream().map(Spot::up).toList()).contains(9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0);
        for (Spot spot : spots) {
            Converter there = lossy().withInput(spot.up()).withLoad(Load.resistor(spot.across()));
            assertThat(there.steadyState().conduction()).isEqualTo(Conduction.BOUNDARY);
            assertThat(there.steadyState().conductionMargin()).isCloseTo(0, within(1e-12));
        }
    }

    @Test
    void agreesWithSteadyStatesFoundOneByOne() {
        OperatingMap map = map(1);
        assertThat(map.failures()).isZero();
        for (int i = 0; i < map.across().size(); i += 5) {
            for (int j = 0; j < map.up().size(); j += 3) {
                var steady = lossy().withInput(map.up().values().get(j))
                        .withLoad(Load.resistor(map.across().values().get(i)))
                        .steadyState();
                assertThat(map.conduction(i, j)).contains(steady.conduction());
                for (int k = 0; k < map.figures().size(); k++) {
                    double alone = map.figures().get(k).in(steady);
                    assertThat(map.value(k, i, j)).isCloseTo(alone, within(1e-9 * Math.abs(alone)));
                }
            }
        }
        assertThat(map.conduction(0, 0)).contains(Conduction.CONTINUOUS);
        assertThat(map.conduction(23, 6)).contains(Conduction.DISCONTINUOUS);
    }

    @Test
    void hasTheSameBitsOnAnyNumberOfThreads() {
        OperatingMap alone = map(1);
        for (int threads : new int[] {2, 8}) {
            OperatingMap together = map(threads);
            assertThat(together.toCsv()).isEqualTo(alone.toCsv());
            assertThat(together.boundary()).isEqualTo(alone.boundary());
        }
    }

    @Test
    void contoursRunWhereTheFigureHasTheValue() {
        OperatingMap map = map(2);
        int peak = 3;
        List<MapLine> lines = map.contours(peak, 1.5);
        assertThat(lines).isNotEmpty();
        for (MapLine line : lines) {
            for (Spot spot : line.spots()) {
                var steady = lossy().withInput(spot.up())
                        .withLoad(Load.resistor(spot.across()))
                        .steadyState();
                assertThat(Figures.INDUCTOR_PEAK.in(steady)).isCloseTo(1.5, within(0.02));
            }
        }
        assertThat(map.contours(peak, 1e6)).isEmpty();
    }

    @Test
    void keepsPointsThatFailWithTheirReason() {
        Axis failing = new Axis("step", Unit.ONE, List.of(1.0, 2.0, 3.0), false, (converter, value) -> {
            if (value == 2) {
                throw new IllegalStateException("no \"part\", no point");
            }
            return converter.withLoad(Load.resistor(value));
        });
        OperatingMap map = OperatingMap.of(
                lossy(), failing, Axis.inputVoltage(9, 15, 2), List.of(Figures.EFFICIENCY), Execution.onThreads(2));

        assertThat(map.failures()).isEqualTo(2);
        assertThat(map.result(1, 0).reason()).contains("no \"part\", no point");
        assertThat(map.value(0, 1, 0)).isNaN();
        assertThat(map.value(0, 2, 1)).isBetween(0.5, 1.0);
        assertThat(map.toCsv().lines().toList().get(2)).isEqualTo("2.0,9.0,,,,\"no \"\"part\"\", no point\"");
        assertThat(map.toJson())
                .contains("\"reason\": [\"\", \"no \\\"part\\\", no point\", \"\"", ", null, ", "\"boundary\": []");
        assertThat(map.boundary()).isEmpty();
    }

    @Test
    void cancelledGivesNoMap() {
        Cancellation cancellation = new Cancellation();
        Execution execution = Execution.onThreads(2)
                .withCancellation(cancellation)
                .withProgress((done, total) -> cancellation.cancel());
        assertThatThrownBy(() -> OperatingMap.of(
                        lossy(),
                        Axis.loadResistance(1, 200, 5),
                        Axis.inputVoltage(9, 15, 20),
                        Figures.usual(),
                        execution))
                .isInstanceOf(CancellationException.class);
    }

    @Test
    void aSynchronousRectifierHasNoBoundary() {
        Converter synchronous = PowerStage.buck()
                .input(12)
                .inductor(INDUCTANCE, milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .synchronousRectifier(milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        OperatingMap map = OperatingMap.of(
                synchronous,
                Axis.loadResistance(1, 200, 6),
                Axis.inputVoltage(9, 15, 3),
                Figures.usual(),
                Execution.onThreads(1));
        assertThat(map.failures()).isZero();
        assertThat(map.conduction(5, 0)).contains(Conduction.CONTINUOUS);
        assertThat(map.boundary()).isEmpty();
    }

    @Test
    void sweepOfEfficiencyOverLoad() {
        Axis loads = Axis.loadCurrent(milli(50), 2, 9);
        Sweep sweep = Sweep.of(lossy(), loads, Figures.usual(), Execution.onThreads(2));
        double[] efficiency = sweep.ys(5);

        assertThat(sweep.xs()).hasSize(9).startsWith(0.05).endsWith(2);
        assertThat(efficiency).doesNotContain(Double.NaN);
        double output = lossy().steadyState().of(lossy().outputVoltage()).mean();
        var last = lossy().withLoad(Load.resistor(output / 2)).steadyState();
        assertThat(efficiency[8]).isEqualTo(last.efficiency().orElseThrow());
        assertThat(sweep.toCsv())
                .startsWith("load current (A),conduction,output voltage mean (V),output voltage peak to peak (V),"
                        + "inductor current peak to peak (A),inductor current maximum (A),inductor current RMS (A),"
                        + "efficiency,duty cycle,reason\n")
                .hasLineCount(10);
        assertThat(sweep.toJson())
                .contains("{\"name\": \"load current\", \"unit\": \"A\", \"values\": [0.05, ")
                .contains("\"conduction\": [\"discontinuous\", ");
        assertThat(Sweep.of(lossy(), loads, Figures.usual(), Execution.onThreads(8))
                        .toCsv())
                .isEqualTo(sweep.toCsv());
    }

    /** A sink of 2 A and the resistor that draws 2 A at 5 V differ in ripple: the map keeps to what the design has. */
    @Test
    void loadCurrentIsDrawnByTheKindOfLoadThatTheDesignHas() {
        Axis loads = Axis.loadCurrent(0.5, 2, 2);
        Axis inputs = Axis.inputVoltage(9, 15, 2);
        for (Load load : List.of(Load.resistor(7), Load.current(0.1))) {
            Converter design = lossy().withLoad(load);
            OperatingMap map = OperatingMap.holding(
                    design, 5, loads, inputs, List.of(Figures.OUTPUT_RIPPLE), Execution.onThreads(1));
            Load full = load.isConstantCurrent() ? Load.current(2) : Load.resistor(2.5);
            ConverterSteadyState there = DutyCycleSearch.forOutput(
                            design.withInput(15).withLoad(full), 5)
                    .steadyState();
            assertThat(map.value(0, 1, 1))
                    .isCloseTo(Figures.OUTPUT_RIPPLE.in(there), within(1e-9 * Figures.OUTPUT_RIPPLE.in(there)));
            // whether asked for or not, the table tells the duty cycle that holds the output
            double dutyCycle = map.result(1, 1).get().dutyCycle();
            assertThat(dutyCycle).isCloseTo(there.dutyCycle(), within(1e-9));
            assertThat(map.toCsv()).contains("duty cycle,reason\n").contains("," + dutyCycle + ",");
        }
    }

    /** Gate charge takes most of what a light load leaves: a map without it told 96 % where the curve told 58 %. */
    @Test
    void aMapTellsTheEfficiencyOfTheCurveWithAllLosses() {
        List<LossModel> losses = List.of(new OverlapLoss(15e-9, 20e-9), new GateChargeLoss(10e-9, 5));
        Converter design = lossy();
        EfficiencyCurve curve = EfficiencyCurve.of(design, 5, losses, 0.005, 2);
        OperatingMap map = OperatingMap.holding(
                design,
                5,
                Axis.loadCurrent(0.005, 2, 2),
                Axis.inputVoltage(design.inputVoltage(), design.inputVoltage() + 1, 2),
                List.of(Figures.OUTPUT_RIPPLE, Figures.efficiency(losses), Figures.INDUCTOR_PEAK),
                Execution.onThreads(1));
        for (int i = 0; i < 2; i++) {
            double efficiency = curve.points().get(i).budget().efficiency();
            assertThat(map.value(1, i, 0)).isCloseTo(efficiency, within(1e-9));
            assertThat(map.value(2, i, 0)).isGreaterThan(map.value(0, i, 0));
        }
        assertThat(map.value(1, 0, 0)).isLessThan(0.7);
        assertThat(map.figures().get(1).words()).isEqualTo(Figures.EFFICIENCY.words());
    }

    @Test
    void axesRefuseWhatIsNoRange() {
        assertThatThrownBy(() -> Axis.inputVoltage(15, 9, 3)).hasMessageContaining("15.0 to 9.0, 3 values");
        assertThatThrownBy(() -> Axis.inputVoltage(Double.NaN, 9, 3)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> Axis.loadCurrent(0, 2, 3)).hasMessageContaining("more than 0 but it was 0.0");
        assertThatThrownBy(() -> Axis.dutyCycle(0.1, 0.9, 1)).hasMessageContaining("1 values");
        assertThatThrownBy(() -> new Axis("x", Unit.VOLT, List.of(1.0, 1.0), false, (c, v) -> c))
                .hasMessageContaining("value 2 is 1.0 V after 1.0 V");
        assertThatThrownBy(() -> new Axis("x", Unit.VOLT, List.of(), false, (c, v) -> c))
                .hasMessageContaining("no value");
    }
}
