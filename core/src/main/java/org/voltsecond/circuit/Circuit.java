package org.voltsecond.circuit;

import java.util.List;
import java.util.Objects;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;

/**
 * Nodes and the parts between them. Parts bear reference designators as the trade writes them (IEEE 315: R, L, C, D, Q,
 * V). Values in SI units. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Circuit buck = Circuit.builder()
 *         .voltageSource("V1", "in", Circuit.GROUND, 12)
 *         .switchPart("Q1", "in", "sw", 0.08)
 *         .rectifier("D1", Circuit.GROUND, "sw", 0.4, 0.02)
 *         .inductor("L1", "sw", "out", 22e-6)
 *         .capacitor("C1", "out", Circuit.GROUND, 47e-6)
 *         .resistor("R1", "out", Circuit.GROUND, 2.5)
 *         .build();
 * }</pre>
 */
public final class Circuit {
    /** The node that all voltages are measured against. */
    public static final String GROUND = "ground";

    private final List<Part> parts;
    final Terminals terminals;
    private final Elements elements;
    /** What {@link Network#of} made of this last, for drives of all kinds; of the same bits whichever thread has set it. */
    volatile @Nullable Network network;

    /** Of parts that were checked. */
    Circuit(List<Part> parts, Terminals terminals) {
        this.parts = parts;
        this.terminals = terminals;
        this.elements = new Elements(parts, terminals);
    }

    /**
     * Starts a circuit.
     *
     * @return an empty builder
     */
    public static Builder builder() {
        return new Builder();
    }

    /**
     * Returns the parts.
     *
     * @return the parts, in the order in which they were added
     */
    public List<Part> parts() {
        return parts;
    }

    /**
     * Returns one part.
     *
     * @param name its reference designator
     * @return the part
     * @throws IllegalArgumentException if there is no such part
     */
    public Part part(String name) {
        for (Part part : parts) {
            if (part.name().equals(name)) {
                return part;
            }
        }
        throw new IllegalArgumentException("there is no part " + name + "; parts are "
                + String.join(", ", parts.stream().map(Part::name).toList()));
    }

    /**
     * Returns the nodes.
     *
     * @return all nodes except ground, in the order in which the parts first name them
     */
    public List<String> nodes() {
        return terminals.nodes();
    }

    /**
     * Returns the pairs of terminals of all parts.
     *
     * @return the ports, in the order of the parts
     */
    public List<Port> ports() {
        return terminals.ports();
    }

    /**
     * Returns the names of the states that store energy: the current of each inductor, the voltage of each capacitance,
     * in the order of the parts; among them those of rectifiers that recover: the current that is in balance with their stored
     * charge, which is no energy. Coupled inductors have a state for each winding that is not perfectly coupled to those
     * before it: the current of that winding, and of the later ones as far as they share its flux. In these the energies
     * add up: for two windings the first state is the magnetizing current, the second the current through the leakage
     * inductance.
     *
     * @return the port names
     */
    public List<String> stateNames() {
        return elements.stateNames();
    }

    /**
     * Returns the state at the start.
     *
     * @return the initial currents, A, and voltages, V, in the order of {@link #stateNames()}
     */
    public double[] initialState() {
        return elements.initialState();
    }

    /**
     * Returns the energy that is stored in inductors and capacitors.
     *
     * @param state the state; entries beyond those of {@link #stateNames()} are ignored
     * @return the energy, J
     */
    public double storedEnergy(double[] state) {
        double[] storage = elements.storage();
        elements.charges().forEach(charge -> storage[charge.state()] = 0);
        double energy = 0;
        for (int j = 0; j < storage.length; j++) {
            energy += 0.5 * storage[j] * state[j] * state[j];
        }
        for (int k = 0; k < elements.bends().count(); k++) {
            if (elements.bends().part(k) instanceof Bends.Storing part) {
                double x = state[part.state()];
                energy += part.energy(x) - 0.5 * part.value() * x * x;
            }
        }
        return energy;
    }

    /**
     * Returns the inductance or capacitance of each state; of a part that bends, that below its first bend; of a rectifier that
     * recovers the lifetime of its charge.
     *
     * @return H for a current, F for a voltage, s for a stored charge, in the order of {@link #stateNames()}
     */
    public double[] storage() {
        return elements.storage().clone();
    }

    /**
     * Returns this circuit with another resistance: of a resistor, the on-resistance of a switch, or the series resistance
     * of a rectifier, an inductor or a capacitor.
     *
     * @param name reference designator
     * @param ohm Ω; 0 or more
     * @return the changed circuit
     * @throws IllegalArgumentException if there is no such part, it has no resistance, or the value is out of range
     */
    public Circuit withResistance(String name, double ohm) {
        return with(name, part -> {
            if (part instanceof Part.Resistor r) {
                return new Part.Resistor(name, r.a(), r.b(), ohm);
            }
            if (part instanceof Part.Switch q) {
                return new Part.Switch(name, q.a(), q.b(), ohm, q.forwardDrop());
            }
            if (part instanceof Part.Rectifier d) {
                return new Part.Rectifier(name, d.anode(), d.cathode(), d.forwardDrop(), ohm, d.junction());
            }
            if (part instanceof Part.Inductor l) {
                return new Part.Inductor(name, l.a(), l.b(), l.inductance(), ohm, l.initialCurrent(), l.saturation());
            }
            if (part instanceof Part.Capacitor c) {
                return new Part.Capacitor(name, c.a(), c.b(), c.capacitance(), ohm, c.initialVoltage(), c.bias());
            }
            throw new IllegalArgumentException(name + " has no resistance that could be changed");
        });
    }

    /**
     * Returns this circuit with another voltage of a voltage source.
     *
     * @param name reference designator
     * @param volt V
     * @return the changed circuit
     * @throws IllegalArgumentException if there is no such source or the value is not finite
     */
    public Circuit withVoltage(String name, double volt) {
        return withVoltage(name, Profile.constant(volt));
    }

    /**
     * Returns this circuit with another voltage of a voltage source.
     *
     * @param name reference designator
     * @param volt V over time
     * @return the changed circuit
     * @throws IllegalArgumentException if there is no such source or a value is not finite
     */
    public Circuit withVoltage(String name, Profile volt) {
        return with(name, part -> {
            if (part instanceof Part.VoltageSource v) {
                return new Part.VoltageSource(name, v.plus(), v.minus(), volt);
            }
            throw new IllegalArgumentException(name + " is not a voltage source");
        });
    }

    /**
     * Returns this circuit with another current of a current source.
     *
     * @param name reference designator
     * @param ampere A
     * @return the changed circuit
     * @throws IllegalArgumentException if there is no such source or the value is not finite
     */
    public Circuit withCurrent(String name, double ampere) {
        return withCurrent(name, Profile.constant(ampere));
    }

    /**
     * Returns this circuit with another current of a current source.
     *
     * @param name reference designator
     * @param ampere A over time
     * @return the changed circuit
     * @throws IllegalArgumentException if there is no such source or a value is not finite
     */
    public Circuit withCurrent(String name, Profile ampere) {
        return with(name, part -> {
            if (part instanceof Part.CurrentSource i) {
                return new Part.CurrentSource(name, i.from(), i.to(), ampere);
            }
            throw new IllegalArgumentException(name + " is not a current source");
        });
    }

    private Circuit with(String name, UnaryOperator<Part> change) {
        return with(change.apply(part(name)));
    }

    /** With another part in place of the one of its name. */
    Circuit with(Part changed) {
        int at = parts.indexOf(part(changed.name()));
        Part old = parts.get(at);
        if (old.equals(changed)) {
            return this;
        }
        Part[] others = parts.toArray(Part[]::new);
        others[at] = changed;
        List<Part> all = List.of(others);
        // between the same terminals nothing but the part's own values can be wrong
        boolean sameTerminals =
                old.getClass() == changed.getClass() && old.ports().equals(changed.ports()) && !isControlled(changed);
        if (!sameTerminals) {
            CircuitCheck.check(all);
            return new Circuit(all, Terminals.of(all));
        }
        List<String> faults = changed.faults();
        if (!faults.isEmpty()) {
            throw new InvalidCircuitException(faults);
        }
        return new Circuit(all, terminals);
    }

    private static boolean isControlled(Part part) {
        return part instanceof ControlledSource.VoltageByVoltage
                || part instanceof ControlledSource.VoltageByCurrent
                || part instanceof ControlledSource.CurrentByVoltage
                || part instanceof ControlledSource.CurrentByCurrent;
    }

    /**
     * Returns whether another circuit has the same parts between the same nodes and the same states, whatever the values.
     *
     * @param other another circuit
     * @return true if a run can change from one to the other
     */
    public boolean hasStructureOf(Circuit other) {
        boolean sameParts = parts.size() == other.parts.size() && ports().equals(other.ports());
        for (int i = 0; sameParts && i < parts.size(); i++) {
            sameParts = kind(parts.get(i)) == kind(other.parts.get(i));
        }
        return sameParts && stateNames().equals(other.stateNames());
    }

    /** A load may change its kind on the way: a resistor, whatever its curve, stores nothing and does not switch. */
    private static Class<?> kind(Part part) {
        boolean resists = part instanceof NonlinearResistor
                || (part instanceof ControlledSource.CurrentByVoltage source && source.drawsByItself());
        return resists ? Part.Resistor.class : part.getClass();
    }

    /**
     * Returns this circuit with inductors and capacitors that bend less.
     *
     * @param share how much of each bend is left, from 0 (straight parts) to 1 (this circuit)
     * @return the changed circuit
     */
    public Circuit withBends(double share) {
        return new Circuit(parts.stream().map(part -> straightened(part, share)).toList(), terminals);
    }

    private static Part straightened(Part part, double share) {
        if (part instanceof Part.Inductor l && !l.saturation().isEmpty()) {
            List<Bend> less = Bend.straightened(l.saturation(), l.inductance(), share);
            return new Part.Inductor(
                    l.name(), l.a(), l.b(), l.inductance(), l.seriesResistance(), l.initialCurrent(), less);
        }
        if (part instanceof Part.Capacitor c && !c.bias().isEmpty()) {
            List<Bend> less = Bend.straightened(c.bias(), c.capacitance(), share);
            return new Part.Capacitor(
                    c.name(), c.a(), c.b(), c.capacitance(), c.seriesResistance(), c.initialVoltage(), less);
        }
        return part;
    }

    /**
     * Returns the segment on which a part stands that bends.
     *
     * @param part reference designator
     * @param regime a regime of this circuit
     * @return 0 for the segment with zero in it, then one more for each bend above, one less for each below; 0 for other parts
     */
    public int segment(String part, Regime regime) {
        Bends bends = elements.bends();
        int index = bends.indexOf(part);
        return index < 0
                ? 0
                : bends.segment(index, regime.conducting()) - bends.part(index).rest();
    }

    /**
     * Returns whether a part consists of segments.
     *
     * @param part reference designator
     * @return true if it saturates, fades or has a curve
     */
    public boolean bends(String part) {
        return elements.bends().indexOf(part) >= 0;
    }

    /**
     * Returns where what is left to the upper end of a segment stands among the conditions of a regime; what it is above the lower
     * end follows.
     *
     * @param part reference designator of a part that bends
     * @return index into {@link Regime#conditions()}
     */
    public int upperEnd(String part) {
        return elements.rectifiers().size() + 2 * elements.bends().indexOf(part);
    }

    Elements elements() {
        return elements;
    }

    @Override
    public boolean equals(Object other) {
        return other == this || (other instanceof Circuit circuit && parts.equals(circuit.parts));
    }

    @Override
    public int hashCode() {
        return Objects.hashCode(parts);
    }

    @Override
    public String toString() {
        return "circuit of " + String.join(", ", parts.stream().map(Part::name).toList());
    }

    /** Collects parts; {@link #build()} checks them all. */
    public static final class Builder extends CircuitParts<Builder> {
        private Builder() {}

        @Override
        Builder self() {
            return this;
        }

        /**
         * Sets the current of an inductor at the start.
         *
         * @param inductor reference designator of an inductor that was added before
         * @param ampere A, from its first node to its second
         * @return this builder
         * @throws IllegalArgumentException if there is no such inductor
         */
        public Builder initialCurrent(String inductor, double ampere) {
            return replace(
                    inductor,
                    "inductor",
                    part -> part instanceof Part.Inductor l
                            ? new Part.Inductor(
                                    l.name(),
                                    l.a(),
                                    l.b(),
                                    l.inductance(),
                                    l.seriesResistance(),
                                    ampere,
                                    l.saturation())
                            : part);
        }

        /**
         * Sets the voltage of a capacitor at the start.
         *
         * @param capacitor reference designator of a capacitor that was added before
         * @param volt V, of its first node against its second
         * @return this builder
         * @throws IllegalArgumentException if there is no such capacitor
         */
        public Builder initialVoltage(String capacitor, double volt) {
            return replace(
                    capacitor,
                    "capacitor",
                    part -> part instanceof Part.Capacitor c
                            ? new Part.Capacitor(
                                    c.name(), c.a(), c.b(), c.capacitance(), c.seriesResistance(), volt, c.bias())
                            : part);
        }

        private Builder replace(String name, String kind, UnaryOperator<Part> change) {
            for (int i = 0; i < parts.size(); i++) {
                Part old = parts.get(i);
                Part changed = old.name().equals(name) ? change.apply(old) : old;
                if (changed != old) {
                    parts.set(i, changed);
                    return this;
                }
            }
            throw new IllegalArgumentException(
                    "there is no " + kind + " " + name + " yet: add it before its initial value");
        }

        /**
         * Checks and builds the circuit.
         *
         * @return the circuit
         * @throws InvalidCircuitException listing everything that is wrong: values out of range, names that are missing or
         *     used twice, nodes without a path to ground, loops of voltage sources, nodes fed by current sources alone
         */
        public Circuit build() {
            List<Part> all = List.copyOf(parts);
            CircuitCheck.check(all);
            return new Circuit(all, Terminals.of(all));
        }
    }
}
