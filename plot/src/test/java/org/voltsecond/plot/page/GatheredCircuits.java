package org.voltsecond.plot.page;

import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.mega;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.circuit.Part.Winding;

/** Converters of all kinds as custom circuits. */
final class GatheredCircuits {
    private GatheredCircuits() {}

    private static Circuit.Builder from(double volt) {
        return Circuit.builder().voltageSource("V1", "in", GROUND, volt);
    }

    private static Circuit loaded(Circuit.Builder builder) {
        return builder.capacitor("C9", "out", GROUND, micro(100), milli(5))
                .resistor("R9", "out", GROUND, 5)
                .build();
    }

    static Map<String, Circuit> all() {
        Map<String, Circuit> all = new LinkedHashMap<>();
        all.putAll(withoutTransformer());
        all.putAll(withTransformer());
        all.putAll(others());
        return all;
    }

    private static Map<String, Circuit> withoutTransformer() {
        Map<String, Circuit> all = new LinkedHashMap<>();
        all.put(
                "buck",
                loaded(from(12).switchPart("Q1", "in", "sw", milli(80))
                        .rectifier("D1", GROUND, "sw", 0.4, milli(20))
                        .inductor("L1", "sw", "out", micro(22), milli(30))));
        all.put(
                "synchronous buck with snubber",
                loaded(from(12).switchPart("Q1", "in", "sw", milli(80))
                        .switchPart("Q2", "sw", GROUND, milli(20))
                        .rectifier("D2", GROUND, "sw")
                        .resistor("R1", "sw", "snub", 4.7)
                        .capacitor("C1", "snub", GROUND, 1e-9)
                        .inductor("L1", "sw", "out", micro(22))));
        all.put(
                "boost",
                loaded(from(12).inductor("L1", "in", "sw", micro(47))
                        .switchPart("Q1", "sw", GROUND, 0)
                        .rectifier("D1", "sw", "out")));
        all.put(
                "inverting",
                loaded(from(12).switchPart("Q1", "in", "sw", 0)
                        .inductor("L1", "sw", GROUND, micro(47))
                        .rectifier("D1", "out", "sw")));
        all.put(
                "sepic",
                loaded(from(9).inductor("L1", "in", "a", micro(90))
                        .switchPart("Q1", "a", GROUND, 0)
                        .capacitor("C1", "a", "b", micro(80))
                        .inductor("L2", GROUND, "b", micro(90))
                        .rectifier("D1", "b", "out")));
        all.put(
                "coupled sepic",
                loaded(from(9).switchPart("Q1", "drain", GROUND, 0)
                        .coupledInductors(
                                "T1",
                                Winding.of("first", "in", "drain"),
                                micro(90),
                                Winding.of("second", GROUND, "middle"),
                                micro(90),
                                0.97)
                        .capacitor("C1", "drain", "middle", micro(80))
                        .rectifier("D1", "middle", "out")));
        all.put(
                "cuk",
                loaded(from(12).inductor("L1", "in", "a", micro(432))
                        .switchPart("Q1", "a", GROUND, 0)
                        .capacitor("C1", "a", "b", micro(17.8))
                        .rectifier("D1", "b", GROUND)
                        .inductor("L2", "out", "b", micro(648))));
        all.put(
                "zeta",
                loaded(from(9).switchPart("Q1", "in", "a", 0)
                        .inductor("L1", "a", GROUND, micro(90))
                        .capacitor("C1", "b", "a", micro(80))
                        .rectifier("D1", GROUND, "b")
                        .inductor("L2", "b", "out", micro(90))));
        all.put(
                "four-switch",
                loaded(from(12).switchPart("Q1", "in", "a", 0)
                        .switchPart("Q2", "a", GROUND, 0)
                        .inductor("L1", "a", "b", micro(10))
                        .switchPart("Q3", "b", GROUND, 0)
                        .switchPart("Q4", "b", "out", 0)));
        Circuit.Builder phases = from(12);
        for (int k = 1; k <= 3; k++) {
            phases.switchPart("Q" + k, "in", "sw" + k, milli(10))
                    .rectifier("D" + k, GROUND, "sw" + k)
                    .inductor("L" + k, "sw" + k, "out", micro(10));
        }
        all.put("three phases", loaded(phases));
        all.put(
                "three-level buck",
                loaded(from(48).switchPart("Q1", "in", "a", 0)
                        .switchPart("Q2", "a", "sw", 0)
                        .switchPart("Q3", "sw", "b", 0)
                        .switchPart("Q4", "b", GROUND, 0)
                        .capacitor("C1", "a", "b", micro(10))
                        .inductor("L1", "sw", "out", micro(10))));
        all.put(
                "quadratic boost",
                loaded(from(12).inductor("L1", "in", "a", micro(100))
                        .rectifier("D1", "a", "b")
                        .rectifier("D2", "a", "sw")
                        .capacitor("C1", "b", GROUND, micro(10))
                        .inductor("L2", "b", "sw", micro(100))
                        .switchPart("Q1", "sw", GROUND, 0)
                        .rectifier("D3", "sw", "out")));
        all.put(
                "charge pump",
                loaded(from(5).switchPart("Q1", "in", "a", 1)
                        .switchPart("Q2", "a", GROUND, 1)
                        .rectifier("D1", "in", "b")
                        .capacitor("C1", "b", "a", micro(1))
                        .rectifier("D2", "b", "out")));
        all.put(
                "watkins-johnson",
                loaded(from(12).switchPart("Q1", "in", "out", 0)
                        .coupledInductors(
                                "T1", Winding.of("a", "in", "x"), micro(50), Winding.of("b", GROUND, "y"), micro(50), 1)
                        .rectifier("D1", "y", "out")
                        .switchPart("Q2", "x", GROUND, 0)));
        return all;
    }

    private static Map<String, Circuit> withTransformer() {
        Map<String, Circuit> all = new LinkedHashMap<>();
        all.put(
                "flyback",
                loaded(from(24).inductor("L1", "in", "p", micro(5))
                        .coupledInductors(
                                "T1",
                                Winding.of("primary", "p", "a"),
                                micro(500),
                                Winding.of("secondary", GROUND, "s"),
                                micro(55),
                                0.99)
                        .switchPart("Q1", "a", GROUND, 0)
                        .rectifier("D1", "s", "out")));
        all.put(
                "flyback with clamp",
                loaded(from(24).coupledInductors(
                                "T1",
                                Winding.of("primary", "in", "a"),
                                micro(500),
                                Winding.of("secondary", GROUND, "s"),
                                micro(55),
                                0.99)
                        .switchPart("Q1", "a", GROUND, 0)
                        .rectifier("D2", "a", "clamp")
                        .resistor("R1", "clamp", "in", 1000)
                        .capacitor("C1", "clamp", "in", micro(0.1))
                        .rectifier("D1", "s", "out")));
        all.put(
                "forward",
                loaded(from(48).idealTransformer(
                                "T1",
                                List.of(
                                        Winding.of("primary", "in", "a"),
                                        Winding.of("secondary", "s", GROUND),
                                        Winding.of("reset", GROUND, "r")),
                                3,
                                1,
                                3)
                        .inductor("L1", "in", "a", milli(1))
                        .switchPart("Q1", "a", GROUND, 0)
                        .rectifier("D1", "s", "x")
                        .rectifier("D2", GROUND, "x")
                        .rectifier("D3", "r", "in")
                        .inductor("L2", "x", "out", micro(400))));
        all.put(
                "two-switch forward",
                loaded(from(48).switchPart("Q1", "in", "a", 0)
                        .switchPart("Q2", "b", GROUND, 0)
                        .rectifier("D3", "b", "in")
                        .rectifier("D4", GROUND, "a")
                        .coupledInductors(
                                "T1",
                                Winding.of("primary", "a", "b"),
                                milli(1),
                                Winding.of("secondary", "s", GROUND),
                                milli(0.25),
                                1)
                        .rectifier("D1", "s", "x")
                        .rectifier("D2", GROUND, "x")
                        .inductor("L1", "x", "out", micro(100))));
        all.put(
                "push-pull",
                loaded(from(30).switchPart("Q1", "a", GROUND, 0)
                        .switchPart("Q2", "b", GROUND, 0)
                        .idealTransformer(
                                "T1",
                                List.of(
                                        Winding.of("first", "in", "a"),
                                        Winding.of("second", "b", "in"),
                                        Winding.of("third", "sa", GROUND),
                                        Winding.of("fourth", GROUND, "sb")),
                                2,
                                2,
                                1,
                                1)
                        .rectifier("D1", "sa", "x")
                        .rectifier("D2", "sb", "x")
                        .inductor("L1", "x", "out", micro(100))));
        all.put(
                "half bridge",
                loaded(from(48).capacitor("C1", "in", "mid", micro(10))
                        .capacitor("C2", "mid", GROUND, micro(10))
                        .switchPart("Q1", "in", "sw", 0)
                        .switchPart("Q2", "sw", GROUND, 0)
                        .idealTransformer(
                                "T1",
                                List.of(
                                        Winding.of("primary", "sw", "mid"),
                                        Winding.of("third", "sa", GROUND),
                                        Winding.of("fourth", GROUND, "sb")),
                                2,
                                1,
                                1)
                        .inductor("L2", "sw", "mid", milli(1))
                        .rectifier("D1", "sa", "x")
                        .rectifier("D2", "sb", "x")
                        .inductor("L1", "x", "out", micro(100))));
        all.put(
                "full bridge",
                loaded(from(48).switchPart("Q1", "in", "a", 0)
                        .switchPart("Q2", "a", GROUND, 0)
                        .switchPart("Q3", "in", "b", 0)
                        .switchPart("Q4", "b", GROUND, 0)
                        .idealTransformer(
                                "T1",
                                List.of(
                                        Winding.of("primary", "a", "b"),
                                        Winding.of("third", "sa", GROUND),
                                        Winding.of("fourth", GROUND, "sb")),
                                2,
                                1,
                                1)
                        .inductor("L2", "a", "b", milli(1))
                        .rectifier("D1", "sa", "x")
                        .rectifier("D2", "sb", "x")
                        .inductor("L1", "x", "out", micro(100))));
        all.put(
                "series resonant",
                loaded(from(48).switchPart("Q1", "in", "sw", 0)
                        .switchPart("Q2", "sw", GROUND, 0)
                        .capacitor("C1", "sw", "r", micro(0.1))
                        .inductor("L1", "r", "p", micro(20))
                        .coupledInductors(
                                "T1",
                                Winding.of("primary", "p", GROUND),
                                micro(200),
                                Winding.of("secondary", "sa", "sb"),
                                micro(50),
                                1)
                        .rectifier("D1", "sa", "out")
                        .rectifier("D2", "sb", "out")
                        .rectifier("D3", GROUND, "sa")
                        .rectifier("D4", GROUND, "sb")));
        return all;
    }

    private static Map<String, Circuit> others() {
        Map<String, Circuit> all = new LinkedHashMap<>();
        all.put(
                "bridge rectifier with boost",
                loaded(Circuit.builder()
                        .voltageSource("V1", "l", "n", 24)
                        .rectifier("D1", "l", "p")
                        .rectifier("D2", "n", "p")
                        .rectifier("D3", GROUND, "l")
                        .rectifier("D4", GROUND, "n")
                        .capacitor("C1", "p", GROUND, micro(1))
                        .inductor("L1", "p", "sw", micro(500))
                        .switchPart("Q1", "sw", GROUND, 0)
                        .rectifier("D5", "sw", "out")));
        all.put(
                "bridge of resistors",
                Circuit.builder()
                        .voltageSource("V1", "a", GROUND, 1)
                        .resistor("R1", "a", "b", 1)
                        .resistor("R2", "b", "c", 1)
                        .resistor("R3", "a", "c", 1)
                        .resistor("R4", "c", GROUND, 1)
                        .build());
        all.put(
                "buck with amplifier",
                loaded(from(12).switchPart("Q1", "in", "sw", 0)
                        .rectifier("D1", GROUND, "sw")
                        .inductor("L1", "sw", "out", micro(22))
                        .resistor("R1", "out", "fb", kilo(10))
                        .resistor("R2", "fb", GROUND, kilo(2.5))
                        .voltageSource("V2", "ref", GROUND, 1)
                        .operationalAmplifier(
                                "U1", "ref", "fb", "control", OperationalAmplifier.of(1e5, mega(10), 0, 3))
                        .resistor("R3", "fb", "z", kilo(4.7))
                        .capacitor("C3", "z", "control", 1e-9)));
        all.put(
                "input filter with damping",
                loaded(from(12).inductor("L2", "in", "f", micro(1), milli(10))
                        .capacitor("C2", "f", GROUND, micro(10))
                        .resistor("R1", "f", "d", 0.5)
                        .capacitor("C3", "d", GROUND, micro(47))
                        .switchPart("Q1", "f", "sw", 0)
                        .rectifier("D1", GROUND, "sw")
                        .inductor("L1", "sw", "out", micro(22))));
        all.put(
                "parallel parts in series",
                loaded(from(12).inductor("L2", "in", "f", micro(1))
                        .resistor("R2", "in", "f", 10)
                        .switchPart("Q1", "f", "sw", 0)
                        .rectifier("D2", "sw", "f")
                        .rectifier("D1", GROUND, "sw")
                        .inductor("L1", "sw", "out", micro(22))
                        .resistor("R3", "sw", "out", 1000)));
        return all;
    }
}
