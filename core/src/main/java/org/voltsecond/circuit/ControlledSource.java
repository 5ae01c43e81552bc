package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.characteristic.Faults;

/**
 * A source that a voltage or a current elsewhere in the circuit controls. Immutable.
 *
 * <pre>{@code
 * ControlledSource doubled = new ControlledSource.VoltageByVoltage("E1", "x", Circuit.GROUND, "out", Circuit.GROUND, 2);
 * Circuit sensed = Circuit.builder()
 *         .voltageSource("V1", "out", Circuit.GROUND, 5)
 *         .part(doubled) // 10 V at node x
 *         .resistor("R2", "x", Circuit.GROUND, 100)
 *         .build();
 * }</pre>
 */
public sealed interface ControlledSource extends Part {
    /**
     * A source whose voltage is a factor times the voltage between two nodes.
     *
     * @param name reference designator
     * @param plus positive node
     * @param minus negative node
     * @param controlPlus node whose voltage controls the source
     * @param controlMinus node against which it is measured
     * @param factor V/V
     */
    record VoltageByVoltage(
            String name, String plus, String minus, String controlPlus, String controlMinus, double factor)
            implements ControlledSource {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, plus, minus));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).finite("factor", factor, "V/V").list();
        }
    }

    /**
     * A source whose current is a factor times the voltage between two nodes.
     *
     * @param name reference designator
     * @param from node that the current leaves
     * @param to node that the current enters, having passed through the source
     * @param controlPlus node whose voltage controls the source
     * @param controlMinus node against which it is measured
     * @param factor A/V
     */
    record CurrentByVoltage(String name, String from, String to, String controlPlus, String controlMinus, double factor)
            implements ControlledSource {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, from, to));
        }

        /** Whether its own voltage controls it, so that it is a conductance. */
        boolean drawsByItself() {
            return from.equals(controlPlus) && to.equals(controlMinus);
        }

        @Override
        public List<String> faults() {
            return new Faults(name).finite("factor", factor, "A/V").list();
        }
    }

    /**
     * A source whose voltage is a factor times the current of another part.
     *
     * @param name reference designator
     * @param plus positive node
     * @param minus negative node
     * @param controlPort the port whose current controls the source
     * @param factor V/A
     */
    record VoltageByCurrent(String name, String plus, String minus, String controlPort, double factor)
            implements ControlledSource {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, plus, minus));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).finite("factor", factor, "V/A").list();
        }
    }

    /**
     * A source whose current is a factor times the current of another part.
     *
     * @param name reference designator
     * @param from node that the current leaves
     * @param to node that the current enters, having passed through the source
     * @param controlPort the port whose current controls the source
     * @param factor A/A
     */
    record CurrentByCurrent(String name, String from, String to, String controlPort, double factor)
            implements ControlledSource {
        @Override
        public List<Port> ports() {
            return List.of(new Port(name, name, from, to));
        }

        @Override
        public List<String> faults() {
            return new Faults(name).finite("factor", factor, "A/A").list();
        }
    }
}
