package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.engine.Interval;

/** Buck stages for tests of what surrounds a regulator. */
final class Bench {
    static final double FREQUENCY = 300e3;
    static final double PERIOD = 1 / FREQUENCY;

    private Bench() {}

    /** 12 V to 5 V with a rectifier. */
    static Circuit buck(double load) {
        return buck(Profile.constant(12), load, 0);
    }

    static Circuit buck(Profile input, double load, double initialVoltage) {
        return parts(input, load, initialVoltage)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .build();
    }

    /** The same with a second transistor, and body diodes of both. */
    static Circuit synchronousBuck(double load, double initialVoltage) {
        return parts(Profile.constant(12), load, initialVoltage)
                .switchPart("Q2", "ground", "sw", 0.02)
                .rectifier("D1", "ground", "sw", 0.7, 0.02)
                .rectifier("D2", "sw", "in", 0.7, 0.02)
                .build();
    }

    private static Circuit.Builder parts(Profile input, double load, double initialVoltage) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", input)
                .switchPart("Q1", "in", "sw", 0.08)
                .inductor("L1", "sw", "out", 22e-6, 0.03)
                .part(new Part.Capacitor("C1", "out", "ground", 47e-6, 0.005, initialVoltage))
                .resistor("R1", "out", "ground", load);
    }

    static Plant plant(Circuit circuit, boolean synchronous) {
        return plant(circuit, synchronous ? "Q2" : null);
    }

    private static Plant plant(Circuit circuit, @Nullable String synchronous) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        return new Plant(
                "Q1", synchronous, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
    }

    /** 5 V from a reference of 1 V, crossover at some kilohertz. */
    static VoltageMode regulator() {
        return VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, 4557, 100e3))
                .withMaximumDutyCycle(0.95);
    }

    static DrivenCircuitBuilder driven(Circuit circuit, Regulator regulator, boolean synchronous) {
        return DrivenCircuit.builder(circuit).controlledBy(regulator.on(plant(circuit, synchronous)));
    }

    /**
     * A time in which a switch is closed.
     *
     * @param start s
     * @param end s
     */
    record Pulse(double start, double end) {
        double length() {
            return end - start;
        }
    }

    /** The pulses of a switch that begin and end within a run. */
    static List<Pulse> pulses(Transient run, String part) {
        List<Pulse> pulses = new ArrayList<>();
        double start = Double.NaN;
        boolean before = false;
        for (Interval interval : run.trajectory().intervals()) {
            boolean on = run.circuit().conducts(interval.phase(), part);
            if (interval.duration() > 0 && on != before) {
                if (on) {
                    start = interval.start();
                } else {
                    pulses.add(new Pulse(start, interval.start()));
                }
                before = on;
            }
        }
        return pulses;
    }

    /** The sum of times in which a condition on the conducting parts holds. */
    static boolean on(Transient run, Interval interval, String part) {
        return run.circuit().conducts(interval.phase(), part);
    }
}
