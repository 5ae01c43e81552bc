package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/** Where the control voltage comes from. Implementations are records: equal means the same. */
interface ControlPath {
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

    /** The output voltage that is aimed at, by magnitude, V; empty where none is, or where the circuit holds it. */
    OptionalDouble target();

    /**
     * The limits of the control voltage.
     *
     * @param usable those within which the modulator can use it
     */
    ControlLimits limits(ControlLimits usable);

    /** This path with its control voltage held within limits. */
    ControlPath within(ControlLimits limits);

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

    /** Refuses a plant in which something that this path needs is missing. */
    default void requireIn(Plant plant) {}

    Present in(State state, Sensing sensing, Plant plant);

    /**
     * A path with a voltage more, held by a state of its own after those of the path: in series with the control voltage, or
     * on top of the reference.
     *
     * @param path where the control voltage comes from
     * @param onReference whether the voltage is added to the reference of a {@link ControlLoop}
     */
    record Injected(ControlPath path, boolean onReference) implements ControlPath {
        @Override
        public List<String> faults() {
            return path.faults();
        }

        @Override
        public OptionalDouble target() {
            return path.target();
        }

        @Override
        public ControlLimits limits(ControlLimits usable) {
            return path.limits(usable);
        }

        @Override
        public ControlPath within(ControlLimits limits) {
            return new Injected(path.within(limits), onReference);
        }

        @Override
        public State start() {
            return path.start();
        }

        @Override
        public State resume(State other) {
            return path.resume(other);
        }

        @Override
        public ControlPath afterStart() {
            return new Injected(path.afterStart(), onReference);
        }

        @Override
        public List<Controller.OwnState> states(double clockPeriod) {
            List<Controller.OwnState> states = new ArrayList<>(path.states(clockPeriod));
            String name = onReference ? Controller.REFERENCE_INJECTION : Controller.INJECTION;
            states.add(new Controller.OwnState(name, 1, 0));
            return states;
        }

        @Override
        public List<Double> statesAfterStart(double clockPeriod) {
            List<Double> values = new ArrayList<>(path.statesAfterStart(clockPeriod));
            values.add(0.0);
            return values;
        }

        @Override
        public List<Controller.Channel> channels() {
            return path.channels();
        }

        @Override
        public Present in(State state, Sensing sensing, Plant plant) {
            Present bare = path.in(state, sensing, plant);
            AffineForm injected = sensing.own(bare.rates().size());
            Present inner =
                    onReference ? ((ControlLoop) path).in(state, sensing, plant.outputVoltage(), injected) : bare;
            List<AffineForm> rates = new ArrayList<>(inner.rates());
            rates.add(sensing.constant(0));
            AffineForm control = onReference ? inner.control() : inner.control().plus(1, injected);
            return new Present(rates, inner.rules(), control, inner.others());
        }
    }

    /**
     * A control voltage that the circuit itself makes, with an amplifier and its network as parts.
     *
     * @param control the control voltage; null for that of the plant's error amplifier
     */
    record OfCircuit(@Nullable Signal control) implements ControlPath {
        /** There is no discrete part: limits are the amplifier's own. */
        private enum Always implements State {
            PRESENT;

            @Override
            public boolean rising() {
                return false;
            }
        }

        /** A control voltage of which the plant tells where it is. */
        static OfCircuit byAmplifier() {
            return new OfCircuit(null);
        }

        @Override
        public List<String> faults() {
            return List.of();
        }

        @Override
        public OptionalDouble target() {
            return OptionalDouble.empty();
        }

        @Override
        public ControlLimits limits(ControlLimits usable) {
            return ControlLimits.none(ControlLimits.Origin.AMPLIFIER);
        }

        @Override
        public ControlPath within(ControlLimits limits) {
            return this;
        }

        @Override
        public State start() {
            return Always.PRESENT;
        }

        @Override
        public ControlPath afterStart() {
            return this;
        }

        @Override
        public List<Controller.OwnState> states(double clockPeriod) {
            return List.of();
        }

        @Override
        public List<Controller.Channel> channels() {
            return control == null ? List.of(new Controller.Channel("error voltage", Unit.VOLT)) : List.of();
        }

        @Override
        public Present in(State state, Sensing sensing, Plant plant) {
            return control == null
                    ? new Present(
                            List.of(),
                            List.of(),
                            sensing.of(required(plant.controlVoltage())),
                            List.of(sensing.of(required(plant.errorVoltage()))))
                    : new Present(List.of(), List.of(), sensing.of(control), List.of());
        }

        @Override
        public void requireIn(Plant plant) {
            if (control == null) {
                required(plant.controlVoltage());
                required(plant.errorVoltage());
            }
        }

        private static Signal required(@Nullable Signal signal) {
            if (signal == null) {
                throw new IllegalArgumentException(
                        "this regulator takes its control voltage from an error amplifier of the circuit, but there is none: "
                                + "give the stage one, or the regulator a compensator");
            }
            return signal;
        }
    }
}
