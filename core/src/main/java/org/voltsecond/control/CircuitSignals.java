package org.voltsecond.control;

import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * The voltages and currents of a circuit as signals, whatever drives it. Immutable.
 *
 * <pre>{@code
 * CircuitSignals signals = CircuitSignals.of(rail.circuit());
 * Signal choke = signals.voltage("sw", "out"); // V, of the one node against the other
 * double largest = steady.of(choke).maximum(); // 6.834 V
 * }</pre>
 */
public final class CircuitSignals {
    private final Network network;

    CircuitSignals(Network network) {
        this.network = network;
    }

    /**
     * Returns the signals of a circuit.
     *
     * @param circuit the circuit
     * @return its signals
     */
    public static CircuitSignals of(Circuit circuit) {
        return new CircuitSignals(Network.of(circuit));
    }

    /**
     * Returns the voltage of a node against ground.
     *
     * @param node name of a node; not ground
     * @return the signal, V
     * @throws IllegalArgumentException if there is no such node
     */
    public Signal nodeVoltage(String node) {
        return signal(Unit.VOLT, network.nodeChannel(node));
    }

    /**
     * Returns the voltage between two nodes.
     *
     * @param plus a node or ground
     * @param minus another node or ground
     * @return the signal, V
     * @throws IllegalArgumentException if there is no such node or both are the same
     */
    public Signal voltage(String plus, String minus) {
        if (plus.equals(minus)) {
            throw new IllegalArgumentException("a voltage lies between two different nodes but both were " + plus);
        }
        String name = "voltage of " + plus + " against " + minus;
        if (minus.equals(Circuit.GROUND)) {
            return nodeVoltage(plus).named(name);
        }
        if (plus.equals(Circuit.GROUND)) {
            return nodeVoltage(minus).times(-1).named(name);
        }
        return nodeVoltage(plus).minus(nodeVoltage(minus)).named(name);
    }

    /**
     * Returns the voltage across a part, of its first terminal against its second.
     *
     * @param part reference designator; "part.winding" for a part with several windings
     * @return the signal, V
     * @throws IllegalArgumentException if there is no such part
     */
    public Signal voltageAcross(String part) {
        return signal(Unit.VOLT, network.voltageChannel(part));
    }

    /**
     * Returns the current through a part, from its first terminal to its second.
     *
     * @param part reference designator; "part.winding" for a part with several windings
     * @return the signal, A
     * @throws IllegalArgumentException if there is no such part
     */
    public Signal current(String part) {
        return signal(Unit.AMPERE, network.currentChannel(part));
    }

    private Signal signal(Unit unit, int channel) {
        return Signal.ofChannel(network.channelNames().get(channel), unit, channel);
    }
}
