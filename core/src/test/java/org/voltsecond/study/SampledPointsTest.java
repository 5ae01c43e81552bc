package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.Figures;
import org.voltsecond.stage.Clamp;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Transformer;

/** Maps of stages whose equations are in no kernel, point by point against the engine. */
class SampledPointsTest {
    private static final Axis CURRENT = Axis.loadCurrent(0.05, 2, 7);
    private static final Axis INPUT = Axis.inputVoltage(9, 15, 4);
    private static final Transformer CORE = Transformer.of(2, 1, 200e-6);

    private static Converter regulated(PowerStage stage, double output) {
        return stage.input(12)
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(30))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(5))
                .drive(VoltageMode.of(kilo(200), 1, 1 / output, Compensator.type2(100, 300, kilo(50)))
                        .withMaximumDutyCycle(0.7));
    }

    private static Converter flyback() {
        return regulated(PowerStage.flyback().with(CORE.withLeakage(micro(1))).with(Clamp.of(20)), 5);
    }

    private static Converter sepic() {
        return regulated(
                PowerStage.sepic()
                        .inductor(micro(47))
                        .with(new SecondInductor(micro(47), milli(30), 0))
                        .with(new CouplingCapacitor(micro(10), milli(5))),
                5);
    }

    static Stream<Arguments> stages() {
        return Stream.of(
                Arguments.of("SEPIC", sepic()),
                Arguments.of("flyback with leakage and clamp", flyback()),
                Arguments.of(
                        "forward",
                        regulated(PowerStage.forward().inductor(micro(22)).with(CORE.withReset(2)), 1.5)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("stages")
    void placesAndBoundaryAreThoseOfTheEngine(String name, Converter converter) {
        MapRequest request = new MapRequest(converter, CURRENT, INPUT, List.copyOf(Figures.usual()), Double.NaN);
        MapSolver quick = request.solvers().get();
        MapSolver engine = new EnginePoints(request);
        assertThat(quick).isInstanceOf(SampledPoints.class);
        List<Double> across = request.across().values();
        int crossings = 0;
        for (double up : request.up().values()) {
            quick.begin();
            engine.begin();
            OperatingPoint last = null;
            for (int i = 0; i < across.size(); i++) {
                OperatingPoint found = quick.at(across.get(i), up);
                OperatingPoint expected = engine.at(across.get(i), up);
                assertThat(found.conduction()).isEqualTo(expected.conduction());
                assertThat(found.margin()).isCloseTo(expected.margin(), within(1e-10));
                for (int k = 0; k < found.values().size(); k++) {
                    double value = expected.values().get(k);
                    assertThat(found.values().get(k)).isCloseTo(value, within(1e-10 * Math.abs(value) + 1e-14));
                }
                if (last != null && last.margin() * found.margin() < 0) {
                    crossings++;
                    MapSolver.Edge edge = new MapSolver.Edge(false, up, across.get(i - 1), across.get(i));
                    MapSolver.NodeMargin margin = new MapSolver.NodeMargin(last.margin(), found.margin());
                    double boundary = engine.boundary(edge, margin);
                    assertThat(quick.boundary(edge, margin)).isCloseTo(boundary, within(1e-9 * boundary));
                }
                last = found;
            }
        }
        assertThat(crossings).isEqualTo(request.up().values().size());
    }

    /** A row says the same whichever rows were worked out before it, so that the number of threads does not matter. */
    @Test
    void aRowIsTheSameToTheBitWhateverWasAskedBefore() {
        MapRequest request = new MapRequest(sepic(), CURRENT, INPUT, List.copyOf(Figures.usual()), Double.NaN);
        MapSolver fresh = request.solvers().get();
        MapSolver used = request.solvers().get();
        for (double up : request.up().values()) {
            used.begin();
            request.across().values().forEach(across -> used.at(across, up));
        }
        double up = request.up().values().get(1);
        fresh.begin();
        used.begin();
        for (double across : request.across().values()) {
            assertThat(used.at(across, up)).isEqualTo(fresh.at(across, up));
        }
    }

    /** The leakage inductance makes the current of the rectifier fall to zero after the transistor has turned on; the margin tells what it was then. */
    @Test
    void theMarginIsThatOfTheCurrentAsTheTransistorTurnsOn() {
        ConverterSteadyState steady = flyback().steadyState();
        double current = steady.of(steady.converter().rectifierCurrent()).at(0);
        double peak = steady.of(steady.converter().rectifierCurrent()).maximum();
        assertThat(steady.conductionMargin())
                .isCloseTo(current / peak, within(1e-9))
                .isGreaterThan(0.5);
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
    }
}
