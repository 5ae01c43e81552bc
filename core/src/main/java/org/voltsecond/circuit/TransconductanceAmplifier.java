package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.characteristic.Faults;

/**
 * A transconductance amplifier: a current in proportion to the voltage between its inputs, an output resistance and an
 * output capacitance, and two ideal rectifiers to voltage sources that limit the output voltage. It becomes these parts,
 * so that it saturates and recovers as exactly as everything else in a circuit. Immutable.
 *
 * <pre>{@code
 * TransconductanceAmplifier amplifier =
 *         new TransconductanceAmplifier(milli(1), mega(1), pico(10), 0, 3); // A/V, ohm, F, V, V
 * Circuit compensated = Circuit.builder()
 *         .voltageSource("V1", "error", Circuit.GROUND, milli(5))
 *         .transconductanceAmplifier("U1", "error", Circuit.GROUND, "control", amplifier)
 *         .capacitor("C1", "control", Circuit.GROUND, nano(10), kilo(5))
 *         .build();
 * }</pre>
 *
 * @param transconductance output current over input voltage, A/V; more than 0
 * @param outputResistance Ω; more than 0; times the transconductance it is the gain at zero frequency
 * @param outputCapacitance F; 0 or more; the transconductance over it is the angular gain-bandwidth without a load
 * @param low lowest output voltage, V
 * @param high highest output voltage, V; above the lowest
 */
public record TransconductanceAmplifier(
        double transconductance, double outputResistance, double outputCapacitance, double low, double high) {

    /**
     * Returns the parts that make up the amplifier.
     *
     * @param name reference designator, such as "U1"; parts and inner nodes are named "U1.transconductor" and so on
     * @param nonInverting node of the input that raises the output
     * @param inverting node of the input that lowers the output
     * @param output node of the output
     * @return the parts
     * @throws InvalidCircuitException listing everything that is wrong with the values
     */
    public List<Part> parts(String name, String nonInverting, String inverting, String output) {
        Faults faults = new Faults(name)
                .positive("transconductance", transconductance, "A/V")
                .positive("output resistance", outputResistance, "Ω")
                .notNegative("output capacitance", outputCapacitance, "F");
        AmplifierLimits.check(faults, low, high);
        double start = Math.min(high, Math.max(low, 0));
        List<Part> parts = new ArrayList<>();
        parts.add(new ControlledSource.CurrentByVoltage(
                name + ".transconductor", Circuit.GROUND, output, nonInverting, inverting, transconductance));
        parts.add(new Part.Resistor(name + ".gain", output, Circuit.GROUND, outputResistance));
        if (outputCapacitance > 0) {
            parts.add(new Part.Capacitor(name + ".pole", output, Circuit.GROUND, outputCapacitance, 0, start));
        }
        parts.addAll(AmplifierLimits.parts(name, output, low, high));
        return parts;
    }
}
