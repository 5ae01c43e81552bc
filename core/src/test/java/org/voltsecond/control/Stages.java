package org.voltsecond.control;

import org.voltsecond.circuit.Circuit;

/** Power stages for tests of regulators. Q1 transistor, D1 rectifier, L1 inductor, C1 output capacitor, R1 load. */
final class Stages {
    private Stages() {}

    /** Values of a stage in SI units. */
    record Values(
            double input,
            double inductance,
            double capacitance,
            double load,
            double onResistance,
            double forwardDrop,
            double rectifierResistance,
            double windingResistance,
            double capacitorResistance) {
        static Values ideal(double input, double inductance, double capacitance, double load) {
            return new Values(input, inductance, capacitance, load, 0, 0, 0, 0, 0);
        }

        Values withInput(double other) {
            return new Values(
                    other,
                    inductance,
                    capacitance,
                    load,
                    onResistance,
                    forwardDrop,
                    rectifierResistance,
                    windingResistance,
                    capacitorResistance);
        }
    }

    static Circuit buck(Values v) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", v.input())
                .switchPart("Q1", "in", "sw", v.onResistance())
                .rectifier("D1", "ground", "sw", v.forwardDrop(), v.rectifierResistance())
                .inductor("L1", "sw", "out", v.inductance(), v.windingResistance())
                .capacitor("C1", "out", "ground", v.capacitance(), v.capacitorResistance())
                .resistor("R1", "out", "ground", v.load())
                .build();
    }

    /** With a path for a current that flows back where the output swings above the input. */
    static Circuit buckWithBodyDiode(Values v) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", v.input())
                .switchPart("Q1", "in", "sw", v.onResistance())
                .rectifier("D2", "sw", "in", 0.8, 0.02)
                .rectifier("D1", "ground", "sw", v.forwardDrop(), v.rectifierResistance())
                .inductor("L1", "sw", "out", v.inductance(), v.windingResistance())
                .capacitor("C1", "out", "ground", v.capacitance(), v.capacitorResistance())
                .resistor("R1", "out", "ground", v.load())
                .build();
    }

    static Circuit boost(Values v) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", v.input())
                .inductor("L1", "in", "sw", v.inductance(), v.windingResistance())
                .switchPart("Q1", "sw", "ground", v.onResistance())
                .rectifier("D1", "sw", "out", v.forwardDrop(), v.rectifierResistance())
                .capacitor("C1", "out", "ground", v.capacitance(), v.capacitorResistance())
                .resistor("R1", "out", "ground", v.load())
                .build();
    }

    /** The output is negative. */
    static Circuit inverting(Values v) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", v.input())
                .switchPart("Q1", "in", "sw", v.onResistance())
                .inductor("L1", "sw", "ground", v.inductance(), v.windingResistance())
                .rectifier("D1", "out", "sw", v.forwardDrop(), v.rectifierResistance())
                .capacitor("C1", "out", "ground", v.capacitance(), v.capacitorResistance())
                .resistor("R1", "out", "ground", v.load())
                .build();
    }

    static Plant plant(Circuit circuit) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        return new Plant("Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
    }

    static Plant plantOfInverting(Circuit circuit) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        return new Plant(
                "Q1", null, signals.nodeVoltage("out").times(-1), signals.current("L1"), signals.nodeVoltage("in"));
    }

    /** A buck or boost under a regulator. */
    static DrivenCircuit regulated(Circuit circuit, Regulator regulator) {
        return DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant(circuit)))
                .build();
    }
}
