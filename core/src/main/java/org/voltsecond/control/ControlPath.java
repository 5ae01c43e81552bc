package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;

/** Where the control voltage comes from. Implementations are records: equal means the same. */
interface ControlPath {
    String MADE_BY_THE_CIRCUIT = "the control voltage of this regulator is made by the circuit: "
            + "change the circuit's reference, network or amplifier instead";

    /** The discrete part. Implementations are records. */
    interface State {
        /** Whether a soft start is under way. */
        boolean rising();
    }

    /**
     * A comparator of the path.
     *
     * @param name for error messages
     * @param form must not be negative
     * @param then what follows
     * @param statesAfter the path's own states just after; null if they stay
     */
    record PathRule(
            String name,
            AffineForm form,
            State then,
            @Nullable List<AffineForm> statesAfter) {
        static PathRule of(String name, AffineForm form, State then) {
            return new PathRule(name, form, then, null);
        }
    }

    /**
     * The path while the circuit is in one configuration.
     *
     * @param rates rate of each state
     * @param rules what ends the discrete state
     * @param control the control voltage
     * @param others what else can be looked at, in the order of {@link #channels()}
     */
    record Present(List<AffineForm> rates, List<PathRule> rules, AffineForm control, List<AffineForm> others) {}

    List<String> faults();

    State start();

    /** Where this path goes on where another one of the same kind, with other values, left off. */
    default State resume(State other) {
        return other;
    }

    /** This path once its soft start is over. */
    ControlPath afterStart();

    List<Controller.OwnState> states(double clockPeriod);

    /** The values of the states with which a soft start is over at once. */
    default List<Double> statesAfterStart(double clockPeriod) {
        return states(clockPeriod).stream().map(Controller.OwnState::initial).toList();
    }

    /** What takes the place of this path while a search holds the pulse; null if nothing can. */
    default @Nullable ControlPath held(HeldPulse.Aim aim, double clockPeriod) {
        return aim == HeldPulse.Aim.COMPARATOR ? this : null;
    }

    /** What can be looked at beside the control voltage. */
    List<Controller.Channel> channels();

    Present in(State state, Sensing sensing, Plant plant);
}
