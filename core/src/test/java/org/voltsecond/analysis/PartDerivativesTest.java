package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.DrivenCircuitBuilder;
import org.voltsecond.waveform.Signal;

/**
 * Derivatives by every value of every part of circuits with transformers, clamps, bridges and meeting capacitors, held against
 * steady states at a little more and a little less of it.
 */
class PartDerivativesTest {
    private static final double FREQUENCY = 100e3;

    private static DrivenCircuit driven(Circuit circuit, Map<String, Drive> drives) {
        DrivenCircuitBuilder builder = DrivenCircuit.builder(circuit);
        drives.forEach(builder::gate);
        return builder.build();
    }

    private record Case(Circuit circuit, Map<String, Drive> drives, List<String> looked) {
        DrivenCircuit driven() {
            return PartDerivativesTest.driven(circuit, drives);
        }
    }

    private static Part.Winding winding(String name, String plus, String minus, double ohm) {
        return Part.Winding.of(name, plus, minus).withResistance(ohm);
    }

    private static Part coupled(double first, double second, double coupling, Part.Winding... windings) {
        double mutual = coupling * Math.sqrt(first * second);
        return new Part.CoupledInductors(
                "T1", List.of(windings), List.of(List.of(first, mutual), List.of(mutual, second)));
    }

    /** Leakage into a clamp of capacitor and resistor; with a coupling of 1 neither leakage nor clamp. */
    private static Case flyback(double coupling) {
        Circuit.Builder parts = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .part(coupled(
                        50e-6,
                        12e-6,
                        coupling,
                        winding("primary", "in", "drain", 0.05),
                        winding("secondary", "ground", "anode", 0.02)))
                .switchPart("Q1", "drain", "ground", 0.03)
                .rectifier("D1", "anode", "out", 0.4, 0.01)
                .capacitor("C1", "out", "ground", 100e-6, 0.01)
                .resistor("R1", "out", "ground", 5);
        if (coupling < 1) {
            parts.rectifier("D2", "drain", "clamp", 0.7, 0.05)
                    .capacitor("C2", "clamp", "in", 1e-6, 0)
                    .resistor("R2", "clamp", "in", 200);
        }
        return new Case(
                parts.build(),
                Map.of("Q1", Drive.fixedDuty(0.4, FREQUENCY)),
                List.of("out", "T1.primary", "T1.secondary", "D1"));
    }

    private static Case coupledSepic() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 9)
                .part(coupled(
                        90e-6, 90e-6, 0.97, winding("1", "in", "drain", 0.04), winding("2", "ground", "middle", 0.05)))
                .capacitor("C2", "drain", "middle", 20e-6, 0.02)
                .switchPart("Q1", "drain", "ground", 0.05)
                .rectifier("D1", "middle", "out", 0.4, 0.02)
                .capacitor("C1", "out", "ground", 100e-6, 0.01)
                .resistor("R1", "out", "ground", 6)
                .build();
        return new Case(circuit, Map.of("Q1", Drive.fixedDuty(0.4, FREQUENCY)), List.of("out", "T1.1", "T1.2", "C2"));
    }

    /** A half bridge whose ideal transformer has resistance in its windings and an inductor beside it. */
    private static Case halfBridge() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "high", "ground", 24)
                .voltageSource("V2", "ground", "low", 24)
                .switchPart("Q1", "high", "sw", 0.05)
                .switchPart("Q2", "sw", "low", 0.05)
                .inductor("L2", "sw", "ground", 400e-6, 0.1)
                .part(new Part.IdealTransformer(
                        "T1",
                        List.of(
                                winding("primary", "sw", "ground", 0.08),
                                winding("upper", "a", "ground", 0.02),
                                winding("lower", "ground", "b", 0)),
                        List.of(4.0, 2.0, 2.0)))
                .rectifier("D1", "a", "rect", 0.5, 0.01)
                .rectifier("D2", "b", "rect", 0.5, 0.01)
                .inductor("L1", "rect", "out", 22e-6, 0.02)
                .capacitor("C1", "out", "ground", 47e-6, 0.01)
                .resistor("R1", "out", "ground", 2)
                .build();
        Drive pulse = Drive.fixedDuty(0.3, FREQUENCY);
        return new Case(
                circuit,
                Map.of("Q1", pulse, "Q2", pulse.delayedBy(0.5)),
                List.of("out", "L1", "T1.primary", "T1.upper", "D2"));
    }

    /** Two inductors in series by way of a transformer: its turns say what their currents have to do with each other. */
    private static Case seriesInductors() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.05)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .inductor("L2", "sw", "primary", 10e-6, 0.02)
                .part(new Part.IdealTransformer(
                        "T1",
                        List.of(winding("primary", "primary", "ground", 0.03), winding("secondary", "a", "b", 0.01)),
                        List.of(1.0, 2.0)))
                .inductor("L1", "a", "out", 22e-6, 0.02)
                .resistor("R2", "b", "ground", 0.1)
                .resistor("R1", "out", "ground", 3)
                .build();
        return new Case(circuit, Map.of("Q1", Drive.fixedDuty(0.4, FREQUENCY)), List.of("out", "L2", "T1.primary"));
    }

    /** A voltage doubler whose capacitors meet without resistance, and so share their charge at once. */
    private static Case doubler() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 5)
                .switchPart("Q1", "in", "top", 0)
                .switchPart("Q2", "bottom", "ground", 0)
                .switchPart("Q3", "in", "bottom", 0)
                .switchPart("Q4", "top", "out", 0)
                .capacitor("C2", "top", "bottom", 2e-6, 0)
                .capacitor("C1", "out", "ground", 10e-6, 0)
                .capacitor("C3", "out", "ground", 3e-6, 0)
                .resistor("R1", "out", "ground", 20)
                .build();
        Drive first = Drive.fixedDuty(0.4, FREQUENCY);
        Drive second = first.delayedBy(0.5);
        return new Case(
                circuit,
                Map.of("Q1", first, "Q2", first, "Q3", second, "Q4", second),
                List.of("out", "top", "R1", "C3"));
    }

    private static Case of(String name) {
        return switch (name) {
            case "flyback" -> flyback(0.98);
            case "perfect flyback" -> flyback(1);
            case "coupled sepic" -> coupledSepic();
            case "half bridge" -> halfBridge();
            case "series inductors" -> seriesInductors();
            default -> doubler();
        };
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"flyback", "perfect flyback", "coupled sepic", "half bridge", "series inductors", "doubler"})
    void derivativesAreTheSlopesOfTheFigures(String name) {
        Case one = of(name);
        DrivenCircuit circuit = one.driven();
        SteadyState steady = SteadyState.of(circuit);
        for (PartValue value : PartValue.all(one.circuit())) {
            boolean perfect = name.equals("perfect flyback")
                    && (value.quantity().equals("coupling") || value.quantity().equals("mutual_inductance"));
            if (value.value() == 0 || perfect) {
                continue; // neither a little less nor, of a perfect coupling, a little more
            }
            Sensitivity exact = steady.sensitivities().to(Parameter.of(value.name()));
            for (String looked : one.looked()) {
                hold(one, value, looked, exact.mean(signal(circuit, looked)), "mean", s -> s.mean());
                hold(one, value, looked, exact.rms(signal(circuit, looked)), "rms", s -> s.rms());
            }
        }
    }

    private static void hold(
            Case one,
            PartValue value,
            String looked,
            double exact,
            String what,
            ToDoubleFunction<org.voltsecond.waveform.Waveform> measure) {
        double nominal = value.value();
        double h = 1e-3 * Math.abs(nominal);
        Map<Double, Double> at = new LinkedHashMap<>();
        for (double x : new double[] {h, -h, h / 2, -h / 2, h / 4, -h / 4}) {
            DrivenCircuit changed = driven(value.set(nominal + x), one.drives());
            at.put(x, measure.applyAsDouble(SteadyState.of(changed).of(signal(changed, looked))));
        }
        double[] slopes = {slope(at, h), slope(at, h / 2), slope(at, h / 4)};
        // L. F. Richardson, 1911: the error of a central difference is a series in the even powers of the step
        double first = (4 * slopes[1] - slopes[0]) / 3;
        double second = (4 * slopes[2] - slopes[1]) / 3;
        double slope = (16 * second - first) / 15;
        double size =
                SteadyState.of(one.driven()).of(signal(one.driven(), looked)).rms() / Math.abs(nominal);
        assertThat(exact)
                .as("%s of %s by %s", what, looked, value.name())
                .isCloseTo(slope, within(1e-8 * (Math.abs(slope) + size)));
    }

    private static double slope(Map<Double, Double> at, double step) {
        return (at.getOrDefault(step, Double.NaN) - at.getOrDefault(-step, Double.NaN)) / (2 * step);
    }

    private static Signal signal(DrivenCircuit circuit, String name) {
        return circuit.circuit().nodes().contains(name) ? circuit.nodeVoltage(name) : circuit.current(name);
    }

    /** An ideal transformer between ideal switches: the output goes with the turns, and with nothing else. */
    @Test
    void theOutputOfAnIdealTransformerGoesWithItsTurns() {
        Case one = seriesInductors();
        DrivenCircuit circuit = one.driven();
        Sensitivities exact = SteadyState.of(circuit).sensitivities();
        Signal primary = circuit.current("T1.primary");
        Signal secondary = circuit.current("T1.secondary");
        double current = SteadyState.of(circuit).of(primary).mean();
        // n1 i1 + n2 i2 = 0 at whatever turns: its derivative by n1 is i1 + n1 i1' + n2 i2'
        Sensitivity byTurns = exact.to(Parameter.of("T1.primary.turns"));
        assertThat(current + byTurns.mean(primary) + 2 * byTurns.mean(secondary))
                .isCloseTo(0, within(1e-10));
    }

    @Test
    void thereIsNoDerivativeByAPerfectCoupling() {
        Sensitivities exact = SteadyState.of(flyback(1).driven()).sensitivities();
        assertThatThrownBy(() -> exact.to(Parameter.of("T1.coupling")))
                .hasMessageContaining("the coupling of T1 is perfect");
        assertThatThrownBy(() -> exact.to(Parameter.of("R1.turns"))).hasMessageContaining("R1 is a Resistor");
        assertThatThrownBy(() -> Parameter.of("R1.colour")).hasMessageContaining("no derivative by R1.colour");
    }
}
