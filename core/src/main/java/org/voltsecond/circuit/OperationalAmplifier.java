package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.characteristic.Faults;

/**
 * An operational amplifier with one pole: a transconductor into a resistance and a capacitance (the pole), two ideal
 * rectifiers to voltage sources that limit the voltage there, and a buffer with an output resistance. It becomes these
 * parts, so that it saturates and recovers as exactly as everything else in a circuit. Immutable.
 *
 * <p>Its inputs draw no current and it takes its power from nowhere: the few milliwatts inside are entered in an energy
 * audit as delivered by its sources.
 *
 * <pre>{@code
 * OperationalAmplifier amplifier = OperationalAmplifier.of(1e5, mega(10), 0, 3); // gain, Hz, V, V
 * Circuit follower = Circuit.builder()
 *         .voltageSource("V1", "reference", Circuit.GROUND, 1)
 *         .operationalAmplifier("U1", "reference", "buffered", "buffered", amplifier)
 *         .resistor("R1", "buffered", Circuit.GROUND, kilo(10))
 *         .build();
 * }</pre>
 *
 * @param gain at zero frequency, V/V; more than 0
 * @param gainBandwidth frequency at which the gain would be 1, Hz; more than 0
 * @param low lowest output voltage, V
 * @param high highest output voltage, V; above the lowest
 * @param outputResistance Ω; 0 or more
 */
public record OperationalAmplifier(
        double gain, double gainBandwidth, double low, double high, double outputResistance) {
    /** The capacitance of the pole, F; it only sets the level of the currents inside. */
    private static final double POLE_CAPACITANCE = 100e-12;

    /**
     * Returns an amplifier without output resistance.
     *
     * @param gain at zero frequency, V/V; more than 0
     * @param gainBandwidth frequency at which the gain would be 1, Hz; more than 0
     * @param low lowest output voltage, V
     * @param high highest output voltage, V; above the lowest
     * @return the amplifier
     */
    public static OperationalAmplifier of(double gain, double gainBandwidth, double low, double high) {
        return new OperationalAmplifier(gain, gainBandwidth, low, high, 0);
    }

    /**
     * Returns the parts that make up the amplifier.
     *
     * @param name reference designator, such as "U1"; parts and inner nodes are named "U1.pole" and so on
     * @param nonInverting node of the input that raises the output
     * @param inverting node of the input that lowers the output
     * @param output node of the output
     * @return the parts
     * @throws InvalidCircuitException listing everything that is wrong with the values
     */
    public List<Part> parts(String name, String nonInverting, String inverting, String output) {
        check(name);
        String inside = name + ".inside";
        double transconductance = 2 * Math.PI * gainBandwidth * POLE_CAPACITANCE;
        double start = Math.min(high, Math.max(low, 0));
        List<Part> parts = new ArrayList<>();
        parts.add(new ControlledSource.CurrentByVoltage(
                name + ".transconductor", Circuit.GROUND, inside, nonInverting, inverting, transconductance));
        parts.add(new Part.Resistor(name + ".gain", inside, Circuit.GROUND, gain / transconductance));
        parts.add(new Part.Capacitor(name + ".pole", inside, Circuit.GROUND, POLE_CAPACITANCE, 0, start));
        parts.addAll(AmplifierLimits.parts(name, inside, low, high));
        String buffered = outputResistance > 0 ? name + ".buffered" : output;
        parts.add(new ControlledSource.VoltageByVoltage(
                name + ".buffer", buffered, Circuit.GROUND, inside, Circuit.GROUND, 1));
        if (outputResistance > 0) {
            parts.add(new Part.Resistor(name + ".output", buffered, output, outputResistance));
        }
        return parts;
    }

    private void check(String name) {
        Faults faults = new Faults(name)
                .positive("gain", gain, "V/V")
                .positive("gain-bandwidth", gainBandwidth, "Hz")
                .notNegative("output resistance", outputResistance, "Ω");
        AmplifierLimits.check(faults, low, high);
    }
}
