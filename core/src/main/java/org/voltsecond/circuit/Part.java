package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Faults;
import org.voltsecond.characteristic.Junction;

/**
 * A part of a circuit. Values in SI units. Immutable.
 *
 * <pre>{@code
 * Part choke = new Part.Inductor("L1", "sw", "out", micro(22), milli(30), 1.2); // 1.2 A at the start
 * Circuit circuit = Circuit.builder()
 *         .voltageSource("V1", "sw", Circuit.GROUND, 5)
 *         .part(choke)
 *         .resistor("R1", "out", Circuit.GROUND, 2.5)
 *         .build();
 * String described = circuit.part("L1").name(); // "L1"
 * }</pre>
 */
public sealed interface Part
        permits ControlledSource,
                NonlinearResistor,
                Part.Resistor,
                Part.Inductor,
                Part.CoupledInductors,
                Part.IdealTransformer,
                Part.Capacitor,
                Part.VoltageSource,
                Part.CurrentSource,
                Part.Switch,
                Part.Rectifier {
    /**
     * Returns the reference designator.
     *
     * @return the name, unique within the circuit
     */
    String name();

    /**
     * Returns the pairs of terminals.
     *
     * @return one port, or one for each winding
     */
    List<Port> ports();

    /**
     * Returns what is wrong with the values of this part.
     *
     * @return one line for each fault; empty if all is well
     */
    List<String> faults();

    /**
     * A resistor; 0 Ω is a short.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param resistance Ω; 0 or more
     */
    record Resistor(String name, String a, String b, double resistance) implements Part {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, a, b));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).notNegative("resistance", resistance, "Ω").list();
        }
    }

    /**
     * An inductor.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param inductance H; more than 0
     * @param seriesResistance Ω; 0 or more
     * @param initialCurrent current from a to b at the start, A
     * @param saturation where its incremental inductance changes, in ascending order; empty if it does not
     */
    record Inductor(
            String name,
            String a,
            String b,
            double inductance,
            double seriesResistance,
            double initialCurrent,
            List<Bend> saturation)
            implements Part {
        /**
         * Copies the list.
         *
         * @param name reference designator
         * @param a first node
         * @param b second node
         * @param inductance H; more than 0
         * @param seriesResistance Ω; 0 or more
         * @param initialCurrent current from a to b at the start, A
         * @param saturation where its incremental inductance changes
         */
        public Inductor {
            saturation = List.copyOf(saturation);
        }

        /**
         * An inductor that does not saturate.
         *
         * @param name reference designator
         * @param a first node
         * @param b second node
         * @param inductance H; more than 0
         * @param seriesResistance Ω; 0 or more
         * @param initialCurrent current from a to b at the start, A
         */
        public Inductor(
                String name, String a, String b, double inductance, double seriesResistance, double initialCurrent) {
            this(name, a, b, inductance, seriesResistance, initialCurrent, List.of());
        }

        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, a, b));
        }

        @Override
        public List<String> faults() {
            Faults faults = new Faults(name)
                    .positive("inductance", inductance, "H")
                    .notNegative("series resistance", seriesResistance, "Ω")
                    .finite("initial current", initialCurrent, "A");
            Bend.check(faults, saturation, "saturation", "inductance", "H", "A");
            return faults.list();
        }
    }

    /**
     * A winding of coupled inductors or of a transformer. Its current counts positive into the plus node, which is the
     * one with the dot.
     *
     * @param name name within the part, such as "primary"
     * @param plus node at the dot
     * @param minus the other node
     * @param seriesResistance Ω; 0 or more
     * @param initialCurrent current from plus to minus at the start, A; coupled inductors only
     */
    record Winding(String name, String plus, String minus, double seriesResistance, double initialCurrent) {
        /**
         * Returns a winding without resistance and initial current.
         *
         * @param name name within the part
         * @param plus node at the dot
         * @param minus the other node
         * @return the winding
         */
        public static Winding of(String name, String plus, String minus) {
            return new Winding(name, plus, minus, 0, 0);
        }

        /**
         * Returns this winding with a series resistance.
         *
         * @param ohm Ω; 0 or more
         * @return the winding
         */
        public Winding withResistance(double ohm) {
            return new Winding(name, plus, minus, ohm, initialCurrent);
        }

        /**
         * Returns this winding with a current at the start.
         *
         * @param ampere A
         * @return the winding
         */
        public Winding withInitialCurrent(double ampere) {
            return new Winding(name, plus, minus, seriesResistance, ampere);
        }
    }

    /**
     * Inductors that share flux.
     *
     * @param name reference designator
     * @param windings the windings
     * @param inductances the symmetric inductance matrix, H; positive semidefinite, so that perfect coupling is allowed
     */
    record CoupledInductors(String name, List<Winding> windings, List<List<Double>> inductances) implements Part {
        @Override
        public List<Port> ports() {
            return windingPorts(name, windings);
        }

        @Override
        public List<String> faults() {
            return WindingFactors.faults(this);
        }
    }

    /**
     * An ideal transformer: voltages in proportion to the turns, ampere-turns that add up to zero.
     *
     * @param name reference designator
     * @param windings the windings, two or more
     * @param turns turns of each winding, in any common unit; more than 0
     */
    record IdealTransformer(String name, List<Winding> windings, List<Double> turns) implements Part {
        @Override
        public List<Port> ports() {
            return windingPorts(name, windings);
        }

        @Override
        public List<String> faults() {
            Faults faults = WindingFactors.faults(name, windings);
            if (turns.size() != windings.size() || turns.size() < 2) {
                faults.add("a transformer must have two or more windings with a number of turns for each, but had "
                        + windings.size() + " windings and " + turns.size() + " numbers");
            }
            turns.forEach(count -> faults.positive("turns", count, ""));
            if (windings.stream().anyMatch(winding -> winding.initialCurrent() != 0)) {
                faults.add("an ideal transformer stores no energy: leave out the initial currents of its windings");
            }
            return faults.list();
        }
    }

    /**
     * A capacitor.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param capacitance F; more than 0
     * @param seriesResistance equivalent series resistance, Ω; 0 or more
     * @param initialVoltage voltage of the capacitance at the start, V
     * @param bias where its incremental capacitance changes with the voltage of the capacitance, in ascending order; empty if
     *     it does not
     */
    record Capacitor(
            String name,
            String a,
            String b,
            double capacitance,
            double seriesResistance,
            double initialVoltage,
            List<Bend> bias)
            implements Part {
        /**
         * Copies the list.
         *
         * @param name reference designator
         * @param a first node
         * @param b second node
         * @param capacitance F; more than 0
         * @param seriesResistance equivalent series resistance, Ω; 0 or more
         * @param initialVoltage voltage of the capacitance at the start, V
         * @param bias where its incremental capacitance changes
         */
        public Capacitor {
            bias = List.copyOf(bias);
        }

        /**
         * A capacitor that does not depend on its voltage.
         *
         * @param name reference designator
         * @param a first node
         * @param b second node
         * @param capacitance F; more than 0
         * @param seriesResistance equivalent series resistance, Ω; 0 or more
         * @param initialVoltage voltage of the capacitance at the start, V
         */
        public Capacitor(
                String name, String a, String b, double capacitance, double seriesResistance, double initialVoltage) {
            this(name, a, b, capacitance, seriesResistance, initialVoltage, List.of());
        }

        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, a, b));
        }

        @Override
        public List<String> faults() {
            Faults faults = new Faults(name)
                    .positive("capacitance", capacitance, "F")
                    .notNegative("series resistance", seriesResistance, "Ω")
                    .finite("initial voltage", initialVoltage, "V");
            Bend.check(faults, bias, "bias", "capacitance", "F", "V");
            return faults.list();
        }
    }

    /**
     * An independent voltage source.
     *
     * @param name reference designator
     * @param plus positive node
     * @param minus negative node
     * @param voltage V over time
     */
    record VoltageSource(String name, String plus, String minus, Profile voltage) implements Part {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, plus, minus));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).all("voltage: ", voltage.faults(), " V").list();
        }
    }

    /**
     * An independent current source.
     *
     * @param name reference designator
     * @param from node that the current leaves
     * @param to node that the current enters, having passed through the source
     * @param current A over time
     */
    record CurrentSource(String name, String from, String to, Profile current) implements Part {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, from, to));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).all("current: ", current.faults(), " A").list();
        }
    }

    /**
     * A switch: open, or closed with its forward drop and on-resistance in series. The drop, as a bipolar switch has one, is a
     * voltage from the first node to the second whatever the direction of the current, so that a current which flows back
     * takes energy out of it.
     *
     * @param name reference designator
     * @param a first node
     * @param b second node
     * @param onResistance Ω; 0 or more
     * @param forwardDrop V; 0 or more
     */
    record Switch(String name, String a, String b, double onResistance, double forwardDrop) implements Part {
        /**
         * A switch without forward drop.
         *
         * @param name reference designator
         * @param a first node
         * @param b second node
         * @param onResistance Ω; 0 or more
         */
        public Switch(String name, String a, String b, double onResistance) {
            this(name, a, b, onResistance, 0);
        }

        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, a, b));
        }

        @Override
        public List<String> faults() {
            return new Faults(name)
                    .notNegative("on-resistance", onResistance, "Ω")
                    .notNegative("forward drop", forwardDrop, "V")
                    .list();
        }
    }

    /**
     * A rectifier: blocking, or conducting with its forward drop and resistance, and with what its junction says.
     *
     * @param name reference designator
     * @param anode node that the current comes from
     * @param cathode node that the current goes to
     * @param forwardDrop V; 0 or more
     * @param resistance Ω; 0 or more
     * @param junction its forward curve, and how it recovers
     */
    record Rectifier(
            String name, String anode, String cathode, double forwardDrop, double resistance, Junction junction)
            implements Part {
        /**
         * A rectifier of forward drop and resistance alone.
         *
         * @param name reference designator
         * @param anode node that the current comes from
         * @param cathode node that the current goes to
         * @param forwardDrop V; 0 or more
         * @param resistance Ω; 0 or more
         */
        public Rectifier(String name, String anode, String cathode, double forwardDrop, double resistance) {
            this(name, anode, cathode, forwardDrop, resistance, Junction.IDEAL);
        }

        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, anode, cathode));
        }

        @Override
        public List<String> faults() {
            Faults faults = new Faults(name)
                    .notNegative("forward drop", forwardDrop, "V")
                    .notNegative("resistance", resistance, "Ω");
            junction.check(faults, forwardDrop);
            if (resistance == 0 && junction.beginsUpright(forwardDrop)) {
                faults.add(
                        "the forward drop must be less than the voltage of the first point of forward_curve, or a resistance "
                                + "more than 0 Ω, but was " + forwardDrop + " V");
            }
            return faults.list();
        }
    }

    private static List<Port> windingPorts(String part, List<Winding> windings) {
        return windings.stream()
                .map(winding -> new Port(part + "." + winding.name(), part, winding.plus(), winding.minus()))
                .toList();
    }
}
