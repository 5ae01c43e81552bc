package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;

/**
 * Adds parts one after the other, a line for each part; the first half of {@link Circuit.Builder}.
 *
 * <pre>{@code
 * Circuit filtered = Circuit.builder()
 *         .voltageSource("V1", "battery", Circuit.GROUND, 12)
 *         .inductor("L2", "battery", "in", micro(2.2), milli(15)) // H, series ohm
 *         .capacitor("C2", "in", Circuit.GROUND, micro(10), milli(3))
 *         .currentSource("I1", "in", Circuit.GROUND, 0.8) // A
 *         .build();
 * }</pre>
 *
 * @param <B> the builder that every call returns
 */
public abstract sealed class CircuitParts<B extends CircuitParts<B>> permits Circuit.Builder {
    /** The parts added so far. */
    final List<Part> parts = new ArrayList<>();

    CircuitParts() {}

    abstract B self();

    /**
     * Adds a part.
     *
     * @param part the part
     * @return this builder
     */
    public B part(Part part) {
        parts.add(part);
        return self();
    }

    /**
     * Adds a resistor.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param ohm Ω; 0 or more
     * @return this builder
     */
    public B resistor(String name, String a, String b, double ohm) {
        return part(new Part.Resistor(name, a, b, ohm));
    }

    /**
     * Adds an inductor.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param henry H; more than 0
     * @return this builder
     */
    public B inductor(String name, String a, String b, double henry) {
        return inductor(name, a, b, henry, 0);
    }

    /**
     * Adds an inductor with series resistance.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param henry H; more than 0
     * @param seriesOhm series resistance, Ω; 0 or more
     * @return this builder
     */
    public B inductor(String name, String a, String b, double henry, double seriesOhm) {
        return part(new Part.Inductor(name, a, b, henry, seriesOhm, 0));
    }

    /**
     * Adds inductors that share flux.
     *
     * @param name reference designator
     * @param windings the windings
     * @param inductances the symmetric inductance matrix, H; positive semidefinite
     * @return this builder
     */
    public B coupledInductors(String name, List<Part.Winding> windings, double[][] inductances) {
        return part(new Part.CoupledInductors(name, List.copyOf(windings), rows(inductances)));
    }

    /**
     * Adds two inductors that share flux.
     *
     * @param name reference designator
     * @param first first winding
     * @param firstHenry its inductance, H; more than 0
     * @param second second winding
     * @param secondHenry its inductance, H; more than 0
     * @param coupling coupling coefficient, -1 to 1; 1 is perfect coupling, negative turns one dot round
     * @return this builder
     */
    public B coupledInductors(
            String name,
            Part.Winding first,
            double firstHenry,
            Part.Winding second,
            double secondHenry,
            double coupling) {
        double mutual = coupling * Math.sqrt(firstHenry * secondHenry);
        return coupledInductors(
                name, List.of(first, second), new double[][] {{firstHenry, mutual}, {mutual, secondHenry}});
    }

    /**
     * Adds an ideal transformer.
     *
     * @param name reference designator
     * @param windings the windings, two or more
     * @param turns turns of each winding, in any common unit; more than 0
     * @return this builder
     */
    public B idealTransformer(String name, List<Part.Winding> windings, double... turns) {
        List<Double> list = java.util.Arrays.stream(turns).boxed().toList();
        return part(new Part.IdealTransformer(name, List.copyOf(windings), list));
    }

    /**
     * Adds a capacitor.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param farad F; more than 0
     * @return this builder
     */
    public B capacitor(String name, String a, String b, double farad) {
        return capacitor(name, a, b, farad, 0);
    }

    /**
     * Adds a capacitor with equivalent series resistance.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param farad F; more than 0
     * @param seriesOhm equivalent series resistance, Ω; 0 or more
     * @return this builder
     */
    public B capacitor(String name, String a, String b, double farad, double seriesOhm) {
        return part(new Part.Capacitor(name, a, b, farad, seriesOhm, 0));
    }

    /**
     * Adds a constant voltage source.
     *
     * @param name reference designator
     * @param plus positive node
     * @param minus negative node
     * @param volt V
     * @return this builder
     */
    public B voltageSource(String name, String plus, String minus, double volt) {
        return voltageSource(name, plus, minus, Profile.constant(volt));
    }

    /**
     * Adds a voltage source.
     *
     * @param name reference designator
     * @param plus positive node
     * @param minus negative node
     * @param volt V over time
     * @return this builder
     */
    public B voltageSource(String name, String plus, String minus, Profile volt) {
        return part(new Part.VoltageSource(name, plus, minus, volt));
    }

    /**
     * Adds a constant current source.
     *
     * @param name reference designator
     * @param from node that the current leaves
     * @param to node that the current enters, having passed through the source
     * @param ampere A
     * @return this builder
     */
    public B currentSource(String name, String from, String to, double ampere) {
        return currentSource(name, from, to, Profile.constant(ampere));
    }

    /**
     * Adds a current source.
     *
     * @param name reference designator
     * @param from node that the current leaves
     * @param to node that the current enters, having passed through the source
     * @param ampere A over time
     * @return this builder
     */
    public B currentSource(String name, String from, String to, Profile ampere) {
        return part(new Part.CurrentSource(name, from, to, ampere));
    }

    /**
     * Adds a switch.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param onOhm on-resistance, Ω; 0 or more
     * @return this builder
     */
    public B switchPart(String name, String a, String b, double onOhm) {
        return switchPart(name, a, b, onOhm, 0);
    }

    /**
     * Adds a switch with a forward drop.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param onOhm on-resistance, Ω; 0 or more
     * @param forwardVolt voltage in series with it from the first node to the second, V; 0 or more
     * @return this builder
     */
    public B switchPart(String name, String a, String b, double onOhm, double forwardVolt) {
        return part(new Part.Switch(name, a, b, onOhm, forwardVolt));
    }

    /**
     * Adds a rectifier.
     *
     * @param name reference designator
     * @param anode node that the current comes from
     * @param cathode node that the current goes to
     * @param forwardVolt forward drop, V; 0 or more
     * @param ohm resistance while conducting, Ω; 0 or more
     * @return this builder
     */
    public B rectifier(String name, String anode, String cathode, double forwardVolt, double ohm) {
        return part(new Part.Rectifier(name, anode, cathode, forwardVolt, ohm));
    }

    /**
     * Adds an ideal rectifier: no forward drop, no resistance.
     *
     * @param name reference designator
     * @param anode node that the current comes from
     * @param cathode node that the current goes to
     * @return this builder
     */
    public B rectifier(String name, String anode, String cathode) {
        return rectifier(name, anode, cathode, 0, 0);
    }

    /**
     * Adds an operational amplifier.
     *
     * @param name reference designator, such as "U1"
     * @param nonInverting node of the input that raises the output
     * @param inverting node of the input that lowers the output
     * @param output node of the output
     * @param amplifier its values
     * @return this builder
     * @throws InvalidCircuitException listing everything that is wrong with the values
     */
    public B operationalAmplifier(
            String name, String nonInverting, String inverting, String output, OperationalAmplifier amplifier) {
        parts.addAll(amplifier.parts(name, nonInverting, inverting, output));
        return self();
    }

    /**
     * Adds a transconductance amplifier.
     *
     * @param name reference designator, such as "U1"
     * @param nonInverting node of the input that raises the output
     * @param inverting node of the input that lowers the output
     * @param output node of the output
     * @param amplifier its values
     * @return this builder
     * @throws InvalidCircuitException listing everything that is wrong with the values
     */
    public B transconductanceAmplifier(
            String name, String nonInverting, String inverting, String output, TransconductanceAmplifier amplifier) {
        parts.addAll(amplifier.parts(name, nonInverting, inverting, output));
        return self();
    }

    private static List<List<Double>> rows(double[][] matrix) {
        List<List<Double>> rows = new ArrayList<>();
        for (double[] row : matrix) {
            rows.add(java.util.Arrays.stream(row).boxed().toList());
        }
        return List.copyOf(rows);
    }
}
