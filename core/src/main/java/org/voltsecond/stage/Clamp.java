package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.circuit.Circuit;

/**
 * What bounds the voltage of a transistor that opens on a leakage inductance: an ideal rectifier from the drain to a voltage, or to
 * a resistor and a capacitor side by side, which lead back to the plus of the input.
 *
 * <pre>{@code
 * Clamp constant = Clamp.of(60); // V over the input
 * Clamp network = Clamp.of(kilo(4.7), nano(100)); // ohm, F
 * }</pre>
 *
 * @param voltage over the input, V; more than 0, not a number for a resistor and a capacitor
 * @param resistance Ω; more than 0, not a number for a voltage
 * @param capacitance F; more than 0, not a number for a voltage
 */
public record Clamp(double voltage, double resistance, double capacitance) implements StagePart {
    /**
     * Returns a clamp to a constant voltage, as a Zener diode makes it.
     *
     * @param voltage over the input, V; more than 0
     * @return the clamp
     */
    public static Clamp of(double voltage) {
        return new Clamp(voltage, Double.NaN, Double.NaN);
    }

    /**
     * Returns a clamp to a resistor and a capacitor side by side.
     *
     * @param resistance Ω; more than 0
     * @param capacitance F; more than 0
     * @return the clamp
     */
    public static Clamp of(double resistance, double capacitance) {
        return new Clamp(Double.NaN, resistance, capacitance);
    }

    /** {@return whether it is a constant voltage} */
    public boolean isVoltage() {
        return !Double.isNaN(voltage);
    }

    /** Adds what takes up the energy between two nodes; returns its reference designator. */
    String wire(Circuit.Builder builder, String from, String to) {
        if (isVoltage()) {
            builder.voltageSource("VC", from, to, voltage);
            return "VC";
        }
        builder.capacitor("CC", from, to, capacitance);
        builder.resistor("RC", from, to, resistance);
        return "RC";
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        boolean network = !Double.isNaN(resistance) || !Double.isNaN(capacitance);
        if (isVoltage() == network) {
            faults.add("clamp: " + (network ? "both a voltage and a network are" : "neither a voltage nor a network is")
                    + " given; give one of them: a voltage, or a resistance and a capacitance");
        } else if (network) {
            StagePart.positive(faults, "clamp: resistance", resistance, "Ω");
            StagePart.positive(faults, "clamp: capacitance", capacitance, "F");
        } else {
            StagePart.positive(faults, "clamp: voltage", voltage, "V");
        }
        return faults;
    }
}
