package org.voltsecond.circuit;

import java.util.List;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.SwitchingException;

/**
 * A circuit compiled: the linear regime of every position of its switches and rectifiers, and which regime follows from a
 * state. Sources have the values and slopes that they have from one instant on.
 *
 * <p>Safe to use from any thread: regimes are worked out once and kept, and depend on nothing but the circuit.
 *
 * <pre>{@code
 * Network network = Network.of(rail.circuit());
 * Regime on = network.regime(network.switchBit("Q1"), 0); // the transistor conducts, the rectifier blocks
 * double voltage = on.channels().get(network.voltageChannel("D1")).valueAt(new double[] {2, 5}, 0); // -11.84 V at 2 A
 * }</pre>
 */
public final class Network {
    private final Elements elements;
    private final Supply supply;
    private final double[] scale;
    private final List<String> sourceStates;
    private final double time;
    private final double timeResolution;
    private final List<String> channelNames;
    private final ConcurrentMap<Position, Compiled> regimes = new ConcurrentHashMap<>();

    private Network(Elements elements, List<String> sourceStates, double time, double timeResolution) {
        this.elements = elements;
        this.supply = Supply.of(elements, sourceStates, time);
        this.scale = scale(elements, sourceStates);
        this.sourceStates = sourceStates;
        this.time = time;
        this.timeResolution = timeResolution;
        channelNames = elements.channelNames();
    }

    /** What a regime is found by; its own equals and hash are far quicker than those that a record is given. */
    private record Position(long closed, long conducting) {
        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Position position && position.closed == closed && position.conducting == conducting;
        }

        @Override
        public int hashCode() {
            return 31 * Long.hashCode(closed) + Long.hashCode(conducting);
        }
    }

    /** A regime with the signs of its conditions, or the reason why there is none. */
    record Compiled(@Nullable Regime regime, @Nullable FirstInstant instant, String refusal) {}

    /**
     * Compiles a circuit.
     *
     * @param circuit the circuit
     * @param sourceStates states of sources, after those of {@link Circuit#stateNames()}: at least those of
     *     {@link #sourceStates(Circuit)}
     * @param time the instant from which the sources count, s since the start of the run
     * @return the network
     */
    public static Network of(Circuit circuit, List<String> sourceStates, double time) {
        return of(circuit, sourceStates, time, 0);
    }

    /**
     * Compiles a circuit for runs whose instants are exact only to a given time: a condition that reaches zero within that
     * time counts as zero.
     *
     * @param circuit the circuit
     * @param sourceStates states of sources, as above
     * @param time the instant from which the sources count, s since the start of the run
     * @param timeResolution how exact an instant is, s; 0 or more
     * @return the network
     */
    public static Network of(Circuit circuit, List<String> sourceStates, double time, double timeResolution) {
        Network known = circuit.network;
        if (known != null && known.isOf(sourceStates, time, timeResolution)) {
            return known;
        }
        Network network = new Network(circuit.elements(), List.copyOf(sourceStates), time, timeResolution);
        if (time == 0 && timeResolution > 0) {
            circuit.network = network;
        }
        return network;
    }

    private boolean isOf(List<String> states, double from, double resolution) {
        return from == time && resolution == timeResolution && states.equals(sourceStates);
    }

    /**
     * Compiles a circuit whose sources are constant, with the values that they have at the start.
     *
     * @param circuit the circuit
     * @return the network
     */
    public static Network of(Circuit circuit) {
        return of(circuit, sourceStates(circuit), 0);
    }

    /**
     * Returns the states that the sources of a circuit need: one for a source that ramps at some time, two for a sine.
     *
     * @param circuit the circuit
     * @return reference designators
     */
    public static List<String> sourceStates(Circuit circuit) {
        return Supply.stateNames(circuit.elements());
    }

    private static double[] scale(Elements elements, List<String> sourceStates) {
        int stored = elements.stateCount();
        double[] storage = elements.storage();
        double[] scale = new double[stored + sourceStates.size()];
        double typical = 0;
        for (int j = 0; j < stored; j++) {
            scale[j] = Math.sqrt(storage[j]);
            typical = Math.max(typical, scale[j]);
        }
        for (int j = stored; j < scale.length; j++) {
            scale[j] = stored == 0 ? 1 : typical;
        }
        return scale;
    }

    /**
     * Returns the scale of every state: square root of inductance or capacitance, for the state of a source the largest of
     * these. Multiplied by it, the square of the storing states is twice the energy.
     *
     * @return one positive factor for each state
     */
    public double[] scale() {
        return scale.clone();
    }

    /**
     * Returns a state with the present values of those sources that are states.
     *
     * @param state a state; not written
     * @return a copy with the values of the sources
     */
    public double[] withSources(double[] state) {
        double[] result = state.clone();
        supply.writeTo(result);
        return result;
    }

    /**
     * Returns the bit of a switch in a set of closed switches.
     *
     * @param name reference designator of a switch
     * @return a number with that one bit set
     * @throws IllegalArgumentException if there is no such switch
     */
    public long switchBit(String name) {
        List<Part.Switch> switches = elements.switches();
        for (int i = 0; i < switches.size(); i++) {
            if (switches.get(i).name().equals(name)) {
                return 1L << i;
            }
        }
        List<String> names = switches.stream().map(Part.Switch::name).toList();
        throw new IllegalArgumentException("there is no switch " + name + "; switches are " + names);
    }

    /**
     * Returns the bit of a rectifier in a set of conducting rectifiers.
     *
     * @param name reference designator of a rectifier
     * @return a number with that one bit set
     * @throws IllegalArgumentException if there is no such rectifier
     */
    public long rectifierBit(String name) {
        List<String> names = rectifierNames();
        if (!names.contains(name)) {
            throw new IllegalArgumentException("there is no rectifier " + name + "; rectifiers are " + names);
        }
        return 1L << names.indexOf(name);
    }

    /**
     * Returns the rectifiers.
     *
     * @return reference designators in the order of their bits
     */
    public List<String> rectifierNames() {
        return elements.rectifiers().stream().map(Part.Rectifier::name).toList();
    }

    /**
     * Returns what a condition of a regime is.
     *
     * @param condition index into {@link Regime#conditions()}
     * @param conducting the position of the regime
     * @return for example "current of D1"
     */
    public String conditionName(int condition, long conducting) {
        int rectifiers = elements.rectifiers().size();
        if (condition < rectifiers) {
            boolean conducts = (conducting >>> condition & 1) != 0;
            return (conducts ? "current of " : "blocking voltage of ")
                    + elements.rectifiers().get(condition).name();
        }
        return "segment of "
                + elements.bends().part((condition - rectifiers) / 2).part();
    }

    /**
     * Returns the position of another circuit's rectifiers and parts that bend, as one of this circuit.
     *
     * @param other another network of a circuit with the same rectifiers
     * @param conducting a position there
     * @return the position here; parts that are others now are at rest
     */
    public long positionFrom(Network other, long conducting) {
        Bends bends = elements.bends();
        if (other == this || (bends.count() == 0 && other.elements.bends().count() == 0)) {
            return conducting;
        }
        int rectifiers = elements.rectifiers().size();
        long ofRectifiers = rectifiers < Long.SIZE ? conducting & (1L << rectifiers) - 1 : conducting;
        return bends.from(other.elements.bends(), conducting, ofRectifiers);
    }

    /**
     * Returns the channel of a node's voltage.
     *
     * @param node name of a node; not ground
     * @return index into {@link Regime#channels()}
     * @throws IllegalArgumentException if there is no such node
     */
    public int nodeChannel(String node) {
        int index = elements.nodeNames().indexOf(node);
        if (index < 0 || index >= elements.outerNodes()) {
            throw new IllegalArgumentException("there is no node " + node + "; nodes are "
                    + elements.nodeNames().subList(0, elements.outerNodes()));
        }
        return index;
    }

    /**
     * Returns the channel of the voltage across a part.
     *
     * @param port name of a port, which is that of its part, or "part.winding"
     * @return index into {@link Regime#channels()}
     * @throws IllegalArgumentException if there is no such port
     */
    public int voltageChannel(String port) {
        return elements.outerNodes() + 2 * elements.portIndex(port);
    }

    /**
     * Returns the channel of the current through a part.
     *
     * @param port name of a port, which is that of its part, or "part.winding"
     * @return index into {@link Regime#channels()}
     * @throws IllegalArgumentException if there is no such port
     */
    public int currentChannel(String port) {
        return voltageChannel(port) + 1;
    }

    /**
     * Returns what each channel is.
     *
     * @return the names in the order of the channels, such as "voltage of out", "voltage across L1", "current of L1"
     */
    public List<String> channelNames() {
        return channelNames;
    }

    /**
     * Returns how many channels every regime has.
     *
     * @return the number of node voltages, part voltages and part currents
     */
    public int channelCount() {
        return elements.outerNodes() + 2 * elements.portCurrents().size();
    }

    /**
     * Returns the regime of one position.
     *
     * @param closed the closed switches
     * @param conducting the conducting rectifiers
     * @return the regime; always the same object for the same position
     * @throws SwitchingException if the circuit has no sound solution in this position; the message names the parts
     */
    public Regime regime(long closed, long conducting) {
        Compiled compiled = compiled(closed, conducting);
        if (compiled.regime() == null) {
            throw new SwitchingException(compiled.refusal());
        }
        return compiled.regime();
    }

    Compiled compiled(long closed, long conducting) {
        Position position = new Position(closed, conducting);
        Compiled known = regimes.get(position);
        return known != null ? known : regimes.computeIfAbsent(position, this::compile);
    }

    private Compiled compile(Position position) {
        try {
            Regime regime = RegimeReader.read(elements, supply, position.closed(), position.conducting());
            return new Compiled(regime, new FirstInstant(regime, scale, timeResolution), "");
        } catch (RefusedException refused) {
            return new Compiled(null, null, refused.reason());
        }
    }

    /**
     * Finds the regime that follows from a state: the one that the stored energy enters without an impulse, and in which
     * every conducting rectifier's current is >= 0 and every blocking rectifier's voltage at most its forward drop in the
     * first instant. As few rectifiers change as possible; among equals those that come first in the circuit.
     *
     * <p>Only if there is none, capacitances may meet through a path without resistance: charge is kept, and what energy is
     * lost is lost in that path. An inductor's current is never interrupted.
     *
     * @param closed the closed switches
     * @param conducting the rectifiers that have conducted until now
     * @param fired the rectifier whose condition has just fallen through zero; -1 if that is not the cause
     * @param state the state before, SI units; not written
     * @return the regime, and how the state jumps into it
     * @throws SwitchingException if no regime can follow, naming the parts
     */
    public Transition resolve(long closed, long conducting, int fired, double[] state) {
        return new Resolver(this, elements, scale, closed).resolve(conducting, fired, state);
    }

    @Override
    public String toString() {
        return "network of " + elements.nodeNames();
    }
}
