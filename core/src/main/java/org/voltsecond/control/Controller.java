package org.voltsecond.control;

import java.util.List;
import java.util.Set;
import org.voltsecond.units.Unit;

/**
 * What drives the switches of one circuit, as a {@link Regulator} becomes it there: a set of modes, each with the switches that it closes, and continuous states of
 * its own (an integrator, a held sample). A controller is pure: everything that it must remember is in its mode and its
 * states. Implementations are immutable.
 *
 * <pre>{@code
 * Signal input = regulated.driven().nodeVoltage("in");
 * Plant plant = new Plant("Q1", null, regulated.outputVoltage(), regulated.inductorCurrent(), input);
 * Controller controller = regulated.regulator().on(plant);
 * for (Controller.Channel channel : controller.channels()) {
 *     System.out.println(channel.name() + " in " + channel.unit().symbol());
 * }
 * Set<String> closed = controller.closedSwitches(controller.start());
 * }</pre>
 */
public interface Controller {
    /** Name of the state that {@link #withInjection()} adds. */
    String INJECTION = "injected control voltage";

    /** Name of the state that {@link #withReferenceInjection()} adds. */
    String REFERENCE_INJECTION = "injected reference";

    /** A node of the controller's discrete part. Implementations are records: equal means the same. */
    interface Mode {}

    /**
     * A continuous state of a controller.
     *
     * @param name for tables and messages
     * @param scale factor that makes it comparable to the other states, see
     *     {@link org.voltsecond.engine.SwitchingLaw#scale()}; more than 0
     * @param initial value at rest
     */
    record OwnState(String name, double scale, double initial) {}

    /**
     * Something that can be looked at, beside the circuit's voltages and currents.
     *
     * @param name for figures
     * @param unit its unit
     */
    record Channel(String name, Unit unit) {}

    /**
     * Returns the clock period; a controller without a clock returns the time scale of its switching.
     *
     * @return the period, s
     */
    double clockPeriod();

    /** {@return the period of the fastest clock of this controller, s; the clock period unless it has several clocks} */
    default double shortestPeriod() {
        return clockPeriod();
    }

    /**
     * Returns the switches that this controller drives.
     *
     * @return names of switches
     */
    Set<String> switches();

    /**
     * Returns the continuous states.
     *
     * @return the states, in the order in which {@link ControlLaw#rates()} lists their rates
     */
    List<OwnState> states();

    /**
     * Returns what can be looked at.
     *
     * @return the channels, in the order in which {@link ControlLaw#channels()} lists them
     */
    List<Channel> channels();

    /**
     * Returns the mode on the first clock edge.
     *
     * @return the mode
     */
    Mode start();

    /**
     * Returns the step into the mode in which a run begins on a clock edge. A controller whose mode on an edge depends on what was
     * before keeps that in states of its own, so that a period can be run from states alone.
     *
     * @param ownStates values of {@link #states()} just before
     * @param sensing reads own states
     * @return the step
     */
    default ControlLaw.Succession start(double[] ownStates, Sensing sensing) {
        return ControlLaw.Succession.to(start());
    }

    /**
     * Tells whether the first mode depends on the states.
     *
     * @return true if it does
     */
    default boolean startsByStates() {
        return false;
    }

    /**
     * Returns a mode that stands for all those in which the same holds, and only what follows differs: rates, channels, and the forms
     * of the rules are equal.
     *
     * @param mode a mode of this controller
     * @return the same mode, or a simpler one
     */
    default Mode shape(Mode mode) {
        return mode;
    }

    /**
     * Returns the switches that a mode closes; all others that the controller drives are open.
     *
     * @param mode the mode
     * @return names of switches
     */
    Set<String> closedSwitches(Mode mode);

    /**
     * Tells what holds in a mode.
     *
     * @param mode the mode
     * @param sensing reads the circuit in its present configuration
     * @return rates, channels, and what ends the mode
     */
    ControlLaw in(Mode mode, Sensing sensing);

    /**
     * Returns the mode in which this controller goes on where another one of the same kind, with other values, left off.
     *
     * @param mode the mode of the other controller
     * @param sinceTick time since the last clock edge, s
     * @return the mode of this one
     */
    default Mode resume(Mode mode, double sinceTick) {
        return mode;
    }

    /**
     * Tells whether this controller switches in step with a clock.
     *
     * @return false if the clock period is only a scale of time; a cycle then begins with {@link #opensCycle}
     */
    default boolean isClocked() {
        return true;
    }

    /**
     * Tells whether a mode can begin a cycle, as {@link #start()} does.
     *
     * @param mode a mode of this controller
     * @return whether a cycle begins where such a mode follows another one
     */
    default boolean opensCycle(Mode mode) {
        return mode.equals(start());
    }

    /**
     * Tells whether a mode lets a pulse through.
     *
     * @param mode a mode of this controller
     * @return whether the switch that feeds the inductor is closed
     */
    default boolean pulses(Mode mode) {
        return !closedSwitches(mode).isEmpty();
    }

    /**
     * Tells whether a mode is the pause after an overload, which ends in another start.
     *
     * @param mode a mode of this controller
     * @return whether the controller pauses
     */
    default boolean pauses(Mode mode) {
        return false;
    }

    /**
     * Returns the controller that drives the circuit once start-up is over, which is what a steady state is asked of.
     *
     * @return the controller without its soft start
     */
    default Controller running() {
        return this;
    }

    /**
     * Returns between which values the control voltage is held.
     *
     * @return the limits and where they come from
     */
    default ControlLimits controlLimits() {
        return ControlLimits.none(ControlLimits.Origin.NONE);
    }

    /**
     * Returns the values of the own states from which this controller goes on as if its start-up were over: a soft start
     * then ends at once.
     *
     * @return a value for each of {@link #states()}
     */
    default List<Double> statesAfterStart() {
        return states().stream().map(OwnState::initial).toList();
    }

    /**
     * Returns this controller with a state more, {@link #INJECTION}: a voltage, constant and zero, that is added to the
     * control voltage on its way to the comparator. The channel "control voltage" reads the sum.
     *
     * @return the controller in which the loop can be opened for a small signal
     * @throws UnsupportedOperationException if this controller has no control voltage
     */
    default Controller withInjection() {
        throw new UnsupportedOperationException(
                "this controller has no control voltage into which a signal could be injected: use a regulator, or let "
                        + "the controller override withInjection()");
    }

    /**
     * Returns this controller with a state more, {@link #REFERENCE_INJECTION}: a voltage, constant and zero, that is added to
     * the reference.
     *
     * @return the controller whose reference can be disturbed
     * @throws UnsupportedOperationException if this controller has no reference of its own
     */
    default Controller withReferenceInjection() {
        throw new UnsupportedOperationException(
                "this controller has no reference of its own: use a regulator with a compensator as transfer function, or "
                        + "disturb the source of the circuit that is the reference");
    }
}
