package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.DrivenCircuitBuilder.ScheduledChange;
import org.voltsecond.control.DrivenLaw.Epoch;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.SwitchingLaw;
import org.voltsecond.waveform.Signal;

/**
 * A circuit whose switches are driven: what a simulation runs. Changes of values, sources and drives may be scheduled.
 * Immutable and safe to use from any thread; simulations of one driven circuit share what has been compiled.
 *
 * <pre>{@code
 * DrivenCircuit driven = DrivenCircuit.builder(rail.circuit())
 *         .gate("Q1", Drive.fixedDuty(0.45, kilo(300)))
 *         .change(micro(500), rail.circuit().withResistance("R1", 1.5)) // ohm
 *         .build();
 * double lowest = Transient.fromRest(driven, milli(1)).of(driven.nodeVoltage("out")).at(milli(1)); // 4.920 V
 * }</pre>
 */
public final class DrivenCircuit {
    private final Circuit circuit;
    private final Map<String, Drive> gates;
    private final List<ScheduledChange> scheduled;
    private final double clockPeriod;
    private final List<String> stateNames;
    private final List<String> sourceStates;
    private final double[] restState;
    private final Network network;
    private final CircuitSignals signals;
    private final @Nullable Controller controller;
    private final List<Controller.Channel> controlChannels;
    private final int circuitChannels;
    private final Controller driving;
    private final SwitchingLaw law;
    private final boolean isLockedOut;

    DrivenCircuit(DrivenCircuitBuilder builder, double clockPeriod, List<String> sourceStates, List<Epoch> epochs) {
        circuit = builder.circuit;
        gates = Map.copyOf(builder.gates);
        scheduled = List.copyOf(builder.changes);
        this.clockPeriod = clockPeriod;
        network = epochs.get(0).network();
        signals = new CircuitSignals(network);
        controller = builder.controller;
        Controller first = epochs.get(0).controller();
        driving = first;
        controlChannels = first.channels();
        circuitChannels = network.channelCount();
        this.sourceStates = List.copyOf(sourceStates);
        List<String> names = new ArrayList<>(circuit.stateNames());
        names.addAll(sourceStates);
        int circuitStates = names.size();
        first.states().forEach(state -> names.add(state.name()));
        stateNames = List.copyOf(names);
        double[] rest = network.withSources(Arrays.copyOf(circuit.initialState(), circuitStates));
        restState = Arrays.copyOf(rest, names.size());
        for (int i = circuitStates; i < restState.length; i++) {
            restState[i] = first.states().get(i - circuitStates).initial();
        }
        law = new DrivenLaw(epochs);
        isLockedOut = epochs.size() == 1
                && first instanceof RegulatedController regulated
                && regulated.isLockedOut(((CircuitPhase) law.first(restState).phase()).law(), restState);
    }

    /**
     * {@return a builder of a driven circuit}
     *
     * @param circuit the circuit, as it is at the start
     */
    public static DrivenCircuitBuilder builder(Circuit circuit) {
        return new DrivenCircuitBuilder(circuit);
    }

    /** {@return the piecewise-affine system that a simulation runs; its phases are {@link CircuitPhase}s} */
    public SwitchingLaw law() {
        return law;
    }

    /** The controller at the start; that of fixed drives is made of them. */
    Controller driving() {
        return driving;
    }

    /** {@return the circuit as it is at the start} */
    public Circuit circuit() {
        return circuit;
    }

    /**
     * {@return the circuit with the values that it has in a phase}
     *
     * @param phase a phase of {@link #law()}
     */
    public Circuit circuit(Phase phase) {
        return ((CircuitPhase) phase).circuit();
    }

    /** {@return the parts of the circuit as they are at the start} */
    public List<Part> parts() {
        return circuit.parts();
    }

    /** {@return the drive of each switch at the start} */
    public Map<String, Drive> gates() {
        return gates;
    }

    /** {@return the switching period, s; of gates of several frequencies that after which all of them repeat} */
    public double clockPeriod() {
        return clockPeriod;
    }

    /** {@return how many periods of its fastest clock make a switching period: 1 unless gates of several frequencies drive it} */
    public int pulsesPerPeriod() {
        return (int) Math.rint(clockPeriod / driving.shortestPeriod());
    }

    /** {@return whether a clock switches the circuit, or nothing does; false if the clock period is only a scale of time} */
    public boolean isClocked() {
        return controller == null || controller.isClocked() || isLockedOut;
    }

    /**
     * {@return whether a phase can begin a cycle of a circuit without a clock, such as the on-time of a hysteretic regulator}
     *
     * @param phase a phase of this circuit
     */
    public boolean opensCycle(Phase phase) {
        return controller != null && controller.opensCycle(((CircuitPhase) phase).mode());
    }

    /**
     * {@return whether the switch that feeds the inductor is closed; of fixed drives whether any switch is}
     *
     * @param phase a phase of this circuit
     */
    public boolean pulses(Phase phase) {
        return driving.pulses(((CircuitPhase) phase).mode());
    }

    /**
     * {@return whether a regulator pauses in a phase, after an overload}
     *
     * @param phase a phase of this circuit
     */
    public boolean pauses(Phase phase) {
        return driving.pauses(((CircuitPhase) phase).mode());
    }

    /** {@return whether a regulator drives the switches, not fixed drives} */
    public boolean isRegulated() {
        return controller != null;
    }

    /** {@return between which values the control voltage is held, and where these limits come from; of fixed drives none} */
    public ControlLimits controlLimits() {
        return driving.controlLimits();
    }

    /** {@return the names of all states: those of {@link Circuit#stateNames()}, then the sources that ramp at any time} */
    public List<String> stateNames() {
        return stateNames;
    }

    /**
     * Returns the states of sources: one for a source that ramps at any time, two for a sine. They follow their profile,
     * whatever the circuit does.
     *
     * @return their names, which are among {@link #stateNames()}
     */
    public List<String> sourceStates() {
        return sourceStates;
    }

    /** {@return the state at the start: zero currents and voltages, or the initial values that the circuit states; A and V} */
    public double[] restState() {
        return restState.clone();
    }

    /**
     * Returns the state from which this circuit goes on where another one was: the same circuit before its scheduled
     * changes or as it is {@linkplain #running() once start-up is over}, which may have fewer states.
     *
     * @param other the circuit to which the state belongs
     * @param state a state of the other circuit, SI units
     * @return a state of this circuit: states of the same name keep their value, others are as at the start or, of a
     *     controller, as after a soft start
     */
    public double[] stateFrom(DrivenCircuit other, double[] state) {
        double[] result = restState.clone();
        Controller own = controller;
        if (own != null) {
            List<Double> started = own.statesAfterStart();
            int first = result.length - started.size();
            for (int i = 0; i < started.size(); i++) {
                result[first + i] = started.get(i);
            }
        }
        for (int i = 0; i < result.length; i++) {
            int same = other.stateNames.indexOf(stateNames.get(i));
            result[i] = same < 0 ? result[i] : state[same];
        }
        return result;
    }

    /** {@return this as it is at the start, without scheduled changes; sources that ramp or step of themselves keep doing so} */
    public DrivenCircuit withoutChanges() {
        if (scheduled.isEmpty()) {
            return this;
        }
        return unchangedBuilder(controller).build();
    }

    /**
     * {@return the same once start-up is over, of which a steady state is asked: without scheduled changes, and with the
     * controller past its soft start; it may have fewer states}
     */
    public DrivenCircuit running() {
        Controller own = controller;
        if (own == null) {
            return withoutChanges();
        }
        Controller running =
                isLockedOut && own instanceof RegulatedController locked ? locked.lockedOut() : own.running();
        return running.equals(own)
                ? withoutChanges()
                : unchangedBuilder(running).build();
    }

    /**
     * {@return the same, without scheduled changes, as it starts on a clock edge, with its soft start, and starts anew after a
     * hiccup; empty if its regulator has none}
     */
    public Optional<DrivenCircuit> startingAnew() {
        return driving instanceof RegulatedController regulated
                        && regulated.protection().hiccup().exists()
                ? Optional.of(controlledBy(regulated.withoutLockout()))
                : Optional.empty();
    }

    /**
     * {@return whether the regulator starts anew, after a pause or a lock-out, where one phase follows another}
     *
     * @param before a phase of this circuit
     * @param after the next one
     */
    public boolean startsBetween(Phase before, Phase after) {
        return ((CircuitPhase) before).mode() instanceof RegulatedController.Node stopped
                && ((CircuitPhase) after).mode() instanceof RegulatedController.Node started
                && stopped.stage().stopped()
                && !started.stage().stopped();
    }

    /** {@return whether the input voltage at the start is too low for the regulator to start, with no change scheduled} */
    public boolean isLockedOut() {
        return isLockedOut;
    }

    /**
     * {@return the same drives or controller, without scheduled changes, on another circuit}
     *
     * @param other a circuit with the same parts between the same nodes; sources may follow other profiles, which may add
     *     states
     * @throws IllegalArgumentException if the circuit has another structure
     */
    public DrivenCircuit withCircuit(Circuit other) {
        if (!other.hasStructureOf(circuit)) {
            throw new IllegalArgumentException("the circuit must have the same parts between the same nodes as "
                    + circuit + ", but was " + other + "; change values only");
        }
        return unchangedBuilder(other, controller).build();
    }

    /**
     * Returns the same, without scheduled changes, with a state more by which the loop can be opened for a small signal; see
     * {@link Controller#withInjection()}.
     *
     * @return the driven circuit
     * @throws UnsupportedOperationException if no controller with a control voltage drives the circuit
     */
    public DrivenCircuit withControlInjection() {
        Controller own = controller;
        if (own == null) {
            throw new UnsupportedOperationException(
                    "the gates of this circuit have fixed drives and no control voltage "
                            + "into which a signal could be injected: use a regulator, or disturb the duty cycle instead");
        }
        return unchangedBuilder(own.withInjection()).build();
    }

    List<String> circuitChannelNames() {
        return network.channelNames();
    }

    /**
     * Returns the same, without scheduled changes, with those edges told apart that a duty cycle moves: where a pulse
     * of a switch ends, and what was given the complement of its drive begins to conduct. Its phases tell {@link
     * CircuitPhase#endMoves}. Edges of other switches at the same instant stay, in phases of no length before or after.
     *
     * @param switchName a switch with a fixed drive; empty for all switches, each with the same change of its duty cycle
     * @param later whether the edges that move come after those that stay at the same instant; else before
     * @return the driven circuit
     * @throws IllegalArgumentException if the switch has no fixed drive
     * @throws UnsupportedOperationException if a regulator drives other switches
     */
    public DrivenCircuit withMovingEdges(String switchName, boolean later) {
        if (controller != null) {
            throw new UnsupportedOperationException(
                    "a regulator drives switches of this circuit, so that the duty cycle of "
                            + "others is not disturbed: disturb the control voltage or a source instead");
        }
        return new DrivenCircuitBuilder(circuit)
                .clockPeriod(clockPeriod)
                .controlledBy(ClockedController.moving(clockPeriod, gates, switchName, later))
                .build();
    }

    /**
     * {@return the same, without scheduled changes, with a state more by which the reference can be disturbed; see
     * {@link Controller#withReferenceInjection()}}
     *
     * @throws UnsupportedOperationException if no controller with a reference of its own drives the circuit
     */
    public DrivenCircuit withReferenceInjection() {
        return unchangedBuilder(driving.withReferenceInjection()).build();
    }

    /**
     * {@return the same, without scheduled changes, with its regulator silent: the transistor is open for ever, a synchronous one
     * closed; empty if none of this library's regulators drives it}
     */
    public Optional<DrivenCircuit> withoutPulses() {
        if (!(driving instanceof RegulatedController regulated)) {
            return Optional.empty();
        }
        DrivenCircuitBuilder builder = new DrivenCircuitBuilder(circuit);
        gates.forEach(builder::gate);
        SwitchPattern pattern = regulated.plant().pattern();
        Drive open = Drive.fixedDuty(0, 1 / clockPeriod);
        pattern.drives(open, 0).forEach(builder::gate);
        return Optional.of(builder.build());
    }

    /** The same, without scheduled changes, driven by another controller. */
    DrivenCircuit controlledBy(Controller other) {
        return unchangedBuilder(other).build();
    }

    private DrivenCircuitBuilder unchangedBuilder(@Nullable Controller by) {
        return unchangedBuilder(circuit, by);
    }

    private DrivenCircuitBuilder unchangedBuilder(Circuit of, @Nullable Controller by) {
        DrivenCircuitBuilder builder = new DrivenCircuitBuilder(of).clockPeriod(clockPeriod);
        gates.forEach(builder::gate);
        return by == null ? builder : builder.controlledBy(by);
    }

    /** {@return the names of what can be looked at in the controller; empty if the clock alone drives the gates} */
    public List<String> controlChannels() {
        return controlChannels.stream().map(Controller.Channel::name).toList();
    }

    /**
     * {@return a quantity of the controller, such as its control voltage}
     *
     * @param name one of {@link #controlChannels()}
     * @throws IllegalArgumentException if there is no such channel
     */
    public Signal control(String name) {
        for (int i = 0; i < controlChannels.size(); i++) {
            if (controlChannels.get(i).name().equals(name)) {
                return Signal.ofChannel(name, controlChannels.get(i).unit(), circuitChannels + i);
            }
        }
        throw new IllegalArgumentException(
                "the controller has no channel '" + name + "'; its channels are " + controlChannels());
    }

    /**
     * {@return whether a switch is closed or a rectifier conducts in a phase}
     *
     * @param phase a phase of {@link #law()}
     * @param part reference designator of a switch or rectifier
     * @throws IllegalArgumentException if there is no such switch or rectifier
     */
    public boolean conducts(Phase phase, String part) {
        CircuitPhase present = (CircuitPhase) phase;
        return circuit.part(part) instanceof Part.Switch
                ? (present.regime().closed() & network.switchBit(part)) != 0
                : (present.regime().conducting() & network.rectifierBit(part)) != 0;
    }

    /**
     * {@return the voltage of a node against ground}
     *
     * @param node name of a node; not ground
     * @throws IllegalArgumentException if there is no such node
     */
    public Signal nodeVoltage(String node) {
        return signals.nodeVoltage(node);
    }

    /**
     * {@return the voltage between two nodes}
     *
     * @param plus a node or ground
     * @param minus another node or ground
     * @throws IllegalArgumentException if there is no such node or both are the same
     */
    public Signal voltage(String plus, String minus) {
        return signals.voltage(plus, minus);
    }

    /**
     * {@return the voltage across a part, of its first terminal against its second}
     *
     * @param part reference designator; "part.winding" for a part with several windings
     * @throws IllegalArgumentException if there is no such part
     */
    public Signal voltageAcross(String part) {
        return signals.voltageAcross(part);
    }

    /**
     * {@return the current through a part, from its first terminal to its second}
     *
     * @param part reference designator; "part.winding" for a part with several windings
     * @throws IllegalArgumentException if there is no such part
     */
    public Signal current(String part) {
        return signals.current(part);
    }

    @Override
    public String toString() {
        return circuit + " driven at " + 1 / clockPeriod + " Hz";
    }
}
