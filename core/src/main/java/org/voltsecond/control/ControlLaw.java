package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;

/**
 * What holds in a mode of a controller while the circuit is in one configuration. All forms are over the states of the
 * circuit followed by those of the controller.
 *
 * <pre>{@code
 * record Relay(boolean on) implements Controller.Mode {}
 * Function<Sensing, ControlLaw> whileOn = sensing -> new ControlLaw(
 *         List.of(), // no states of its own
 *         List.of(new ControlLaw.Rule(
 *                 "5.1 V reached",
 *                 sensing.of(rail.outputVoltage()).times(-1).plus(5.1),
 *                 ControlLaw.Succession.to(new Relay(false)))),
 *         Double.POSITIVE_INFINITY, // no clock
 *         Double.POSITIVE_INFINITY, // no longest time
 *         ControlLaw.Succession.to(new Relay(true)),
 *         List.of()); // nothing to look at
 * }</pre>
 *
 * @param rates rate of each own state, per second
 * @param rules what ends the mode when it falls through zero, in the order in which simultaneous ones count
 * @param endSinceTick time since the clock edge at which the mode ends, s; one clock period for the next edge; infinite if
 *     no clock ends it
 * @param maximumDuration time since its entry after which the mode ends, s; infinite if there is none
 * @param atEnd what follows when the time is over
 * @param channels what can be looked at
 */
public record ControlLaw(
        List<AffineForm> rates,
        List<Rule> rules,
        double endSinceTick,
        double maximumDuration,
        Succession atEnd,
        List<AffineForm> channels) {

    /**
     * Copies the lists.
     *
     * @param rates rate of each own state, per second
     * @param rules what ends the mode
     * @param endSinceTick time since the clock edge at which the mode ends, s
     * @param maximumDuration time since its entry after which the mode ends, s
     * @param atEnd what follows when the time is over
     * @param channels what can be looked at
     */
    public ControlLaw {
        rates = List.copyOf(rates);
        rules = List.copyOf(rules);
        channels = List.copyOf(channels);
    }

    /**
     * A comparator: the mode lasts while the form is not negative.
     *
     * @param name for error messages, such as "PWM comparator"
     * @param form must not be negative
     * @param then what follows
     */
    public record Rule(String name, AffineForm form, Succession then) {}

    /**
     * A jump of the own states that is affine only in parts, such as one with a limit or with rounding. Implementations
     * depend on nothing but the state.
     */
    public interface ByState {
        /**
         * Returns the part of the jump that holds at a state.
         *
         * @param state all states just before, those of the circuit first
         * @return value of each own state just after, as a form over the states just before
         */
        List<AffineForm> ownStatesAfter(double[] state);
    }

    /**
     * The step into another mode.
     *
     * @param mode the mode that begins
     * @param ownStatesAfter value of each own state just after, as a form over the states just before; null if they stay
     *     or if it depends on the state
     * @param byState the same where it depends on the state; else null
     */
    public record Succession(
            Controller.Mode mode,
            @Nullable List<AffineForm> ownStatesAfter,
            @Nullable ByState byState) {
        /**
         * Returns the step into a mode that leaves the own states as they are.
         *
         * @param mode the mode that begins
         * @return the step
         */
        public static Succession to(Controller.Mode mode) {
            return new Succession(mode, null, null);
        }

        /** Returns the jump of the own states; null if they stay. */
        @Nullable
        List<AffineForm> jumpAt(double[] state) {
            return byState == null ? ownStatesAfter : byState.ownStatesAfter(state);
        }
    }
}
