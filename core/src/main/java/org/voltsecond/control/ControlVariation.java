package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ControlLaw.Rule;
import org.voltsecond.control.ControlLaw.Succession;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Cause;

/**
 * By how much everything that a controller says in a phase changes where what it senses changes: its rates, its comparators,
 * what can be looked at in it, and the jumps of its states. A controller is an affine function of what it senses, so it is
 * asked once more with the change in states of their own, and what depends on these is the change: exact, with no difference
 * of nearby controllers. The values of the controller itself stay, but for the one that is asked for. Immutable.
 *
 * <pre>{@code
 * SteadyState orbit = regulated.steadyState().periodic();
 * CircuitPhase phase = (CircuitPhase) orbit.trajectory().interval(0).phase();
 * List<AffineForm> grown = phase.regime().channels(); // all that is sensed grows by its own size for each unit
 * ControlVariation change = ControlVariation.of(orbit.circuit(), phase, grown);
 * List<AffineForm> rates = change.rates(); // one for each state of the controller, for each unit
 * }</pre>
 */
public final class ControlVariation {
    private final CircuitPhase phase;
    private final ControlLaw law;
    private final int states;
    private final int circuitStates;
    /** Index of an own state of the controller asked that the phase does not have; -1 if there is none. */
    private final int added;
    /** By how much that state changes for each unit of the parameter. */
    private final AffineForm strength;

    private ControlVariation(
            CircuitPhase phase, ControlLaw law, int states, int circuitStates, int added, AffineForm strength) {
        this.phase = phase;
        this.law = law;
        this.states = states;
        this.circuitStates = circuitStates;
        this.added = added;
        this.strength = strength;
    }

    /**
     * Asks a controller.
     *
     * @param driven the driven circuit
     * @param phase one of its phases
     * @param changes by how much each channel of the circuit changes for each unit of some parameter, in the order of
     *     {@link org.voltsecond.circuit.Regime#channels()}, as forms over the states of the circuit
     * @return the change of what the controller says for each unit of the parameter
     */
    public static ControlVariation of(DrivenCircuit driven, CircuitPhase phase, List<AffineForm> changes) {
        int states = driven.stateNames().size();
        List<AffineForm> channels = phase.regime().channels();
        int circuitStates = channels.get(0).dimension();
        int dimension = states + circuitStates + 1;
        List<AffineForm> both = new ArrayList<>();
        for (int c = 0; c < channels.size(); c++) {
            AffineForm value = channels.get(c);
            AffineForm change = changes.get(c);
            double[] factors = new double[dimension];
            for (int j = 0; j < circuitStates; j++) {
                factors[j] = value.coefficient(j);
                factors[states + j] = change.coefficient(j);
            }
            factors[dimension - 1] = change.constant();
            both.add(AffineForm.of(factors, value.constant(), value.slope()));
        }
        Sensing sensing = new Sensing(both, driven.circuitChannelNames(), circuitStates, dimension);
        ControlLaw law = driven.driving().in(phase.mode(), sensing);
        return new ControlVariation(phase, law, states, circuitStates, -1, AffineForm.constant(states, 1));
    }

    /**
     * Asks a controller what its reference does.
     *
     * @param driven the driven circuit
     * @param phase one of its phases
     * @return the change of what the controller says for each volt of the reference
     * @throws UnsupportedOperationException if the controller has no reference of its own
     */
    public static ControlVariation ofReference(DrivenCircuit driven, CircuitPhase phase) {
        int states = driven.stateNames().size();
        return onReference(driven, phase, AffineForm.constant(states, 1));
    }

    /**
     * Asks a controller what the divider before it does: a divider that grows senses more of the output voltage, which is a
     * reference that falls by as much.
     *
     * @param driven the driven circuit
     * @param phase one of its phases
     * @return the change of what the controller says for each unit of the divider
     * @throws UnsupportedOperationException if the controller senses no output voltage against a reference of its own
     */
    public static ControlVariation ofDivider(DrivenCircuit driven, CircuitPhase phase) {
        if (!(driven.driving() instanceof RegulatedController regulated)
                || !(regulated.path() instanceof ControlLoop loop)
                || loop.divider() == 0) {
            throw new UnsupportedOperationException(
                    "this controller has no divider of its own: choose a regulator with a voltage loop whose compensator is a "
                            + "transfer function");
        }
        int states = driven.stateNames().size();
        Sensing sensing = new Sensing(
                phase.regime().channels(),
                driven.circuitChannelNames(),
                phase.regime().channels().get(0).dimension(),
                states);
        return onReference(
                driven, phase, sensing.of(regulated.plant().outputVoltage()).times(-1));
    }

    private static ControlVariation onReference(DrivenCircuit driven, CircuitPhase phase, AffineForm strength) {
        Controller injected = driven.driving().withReferenceInjection();
        List<AffineForm> channels = phase.regime().channels();
        int circuitStates = channels.get(0).dimension();
        int states = driven.stateNames().size();
        List<String> names =
                injected.states().stream().map(Controller.OwnState::name).toList();
        ControlLaw law = injected.in(
                phase.mode(), new Sensing(channels, driven.circuitChannelNames(), circuitStates, states + 1));
        int added = names.indexOf(Controller.REFERENCE_INJECTION);
        return new ControlVariation(phase, law, states, circuitStates, added, strength);
    }

    /**
     * Returns the change of the rates of the controller's own states.
     *
     * @return one form for each own state, over all states
     */
    public List<AffineForm> rates() {
        return changes(ownStates(law.rates()));
    }

    /**
     * Returns the change of what can be looked at in the controller.
     *
     * @return one form for each channel of the controller, over all states
     */
    public List<AffineForm> channels() {
        return changes(law.channels());
    }

    /**
     * Returns the change of a comparator.
     *
     * @param guard index of a guard of the phase, of those that follow the rectifiers' guards
     * @return the change of its form, over all states
     */
    public AffineForm guard(int guard) {
        return change(rule(guard).form());
    }

    private Rule rule(int guard) {
        return law.rules().get(guard - phase.rectifierGuards());
    }

    /**
     * Returns by how much the own states after a jump change.
     *
     * @param cause why the phase ends: a guard of the controller, or its time
     * @param state all states just before the jump
     * @return one form for each own state, over all states before; null if the own states do not jump
     */
    public @Nullable List<AffineForm> jump(Cause cause, double[] state) {
        boolean ofRectifier = cause.kind() == Cause.Kind.GUARD && cause.index() < phase.rectifierGuards();
        if (ofRectifier || cause.kind() == Cause.Kind.CHANGE) {
            return null;
        }
        Succession then = cause.kind() == Cause.Kind.GUARD ? rule(cause.index()).then() : law.atEnd();
        List<AffineForm> after = then.jumpAt(beforeJump(state));
        return after == null ? null : changes(ownStates(after));
    }

    /** The state that the controller asked would have, with what was added at zero. */
    private double[] beforeJump(double[] state) {
        if (added < 0) {
            return Arrays.copyOf(state, states + circuitStates + 1);
        }
        double[] all = new double[states + 1];
        int at = circuitStates + added;
        System.arraycopy(state, 0, all, 0, at);
        System.arraycopy(state, at, all, at + 1, states - at);
        return all;
    }

    private List<AffineForm> ownStates(List<AffineForm> forms) {
        List<AffineForm> own = new ArrayList<>(forms);
        if (added >= 0) {
            own.remove(added);
        }
        return own;
    }

    private List<AffineForm> changes(List<AffineForm> forms) {
        return forms.stream().map(this::change).toList();
    }

    private AffineForm change(AffineForm form) {
        if (added >= 0) {
            return strength.times(form.coefficient(circuitStates + added));
        }
        double[] factors = new double[states];
        for (int j = 0; j < circuitStates; j++) {
            factors[j] = form.coefficient(states + j);
        }
        return AffineForm.of(factors, form.coefficient(states + circuitStates));
    }
}
