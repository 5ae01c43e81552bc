package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.characteristic.Faults;

/**
 * A part whose current follows from its voltage by a piecewise-linear curve: a load of constant power, light-emitting diodes, a
 * battery. Immutable.
 *
 * <pre>{@code
 * Part lamp = new NonlinearResistor("R1", "out", Circuit.GROUND, CurrentCurve.lightEmittingDiodes(3, 3.0, 0.4));
 * Circuit lit = Circuit.builder().voltageSource("V1", "out", Circuit.GROUND, 10).part(lamp).build();
 * }</pre>
 *
 * @param name reference designator
 * @param a first node
 * @param b second node
 * @param curve its current from a to b over the voltage of a against b
 */
public record NonlinearResistor(String name, String a, String b, CurrentCurve curve) implements Part {
    @Override
    public List<Port> ports() {
        return List.of(new Port(name, name, a, b));
    }

    @Override
    public List<String> faults() {
        Faults faults = new Faults(name);
        curve.values().forEach(value -> value.check(faults));
        return faults.list();
    }
}
