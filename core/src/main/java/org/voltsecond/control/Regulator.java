package org.voltsecond.control;

import java.util.List;
import java.util.OptionalDouble;

/**
 * A control method with its values (compensator, limits, protection), before it is put to a circuit: what one chooses. On a
 * {@link Plant} it becomes a {@link Controller}. Immutable.
 *
 * <pre>{@code
 * Compensator compensator = Compensator.type2(1500, 4557, kilo(100));
 * Regulator clocked = VoltageMode.of(kilo(300), 1, 0.2, compensator).withRamp(0, 1);
 * Regulator free = Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(0.3));
 * for (Regulator regulator : List.of(clocked, free)) {
 *     System.out.println(stage.drive(regulator.withReference(0.66)).steadyState()); // 3.3 V
 * }
 * }</pre>
 */
public interface Regulator {
    /**
     * Returns everything that is wrong with the values of this regulator.
     *
     * @return one line for each fault; empty if all is well
     */
    List<String> faults();

    /**
     * Returns everything that is wrong with this regulator for switches that are driven in a pattern.
     *
     * @param pattern how pulses reach the switches
     * @return one line for each fault; empty if all is well
     */
    default List<String> faultsIn(SwitchPattern pattern) {
        return faults();
    }

    /**
     * Puts the regulator to a circuit.
     *
     * @param plant the switches that it drives and the signals that it senses
     * @return the controller
     * @throws IllegalArgumentException listing all faults, if there are any
     */
    Controller on(Plant plant);

    /**
     * Returns how long a period lasts.
     *
     * @return the switching period, s; of a regulator without clock about how long one lasts, a scale of time
     */
    double clockPeriod();

    /**
     * Returns whether a clock sets the switching frequency. Without one it follows from the circuit, and there is no
     * steady state of one clock period.
     *
     * @return true unless it runs freely
     */
    boolean isClocked();

    /**
     * Returns what this regulator compares to make its pulses.
     *
     * @return the inputs of the comparator, in the words of the trade
     */
    Comparison comparison();

    /**
     * Returns this regulator with another aim, as for a step of the reference.
     *
     * @param reference V; of a regulator to which the inductor current is commanded this command, A; more than 0
     * @return a new regulator
     */
    Regulator withReference(double reference);

    /**
     * Returns the reference.
     *
     * @return V; empty where the inductor current is commanded, or the circuit holds the reference
     */
    OptionalDouble reference();

    /**
     * Returns what it senses of the output.
     *
     * @return sensed voltage over output voltage; empty where there is no {@link #reference()}
     */
    OptionalDouble divider();

    /**
     * Returns this regulator with another divider.
     *
     * @param divider sensed voltage over output voltage; more than 0 and at most 1
     * @return a new regulator
     * @throws IllegalStateException if it has none
     */
    Regulator withDivider(double divider);

    /**
     * Returns the output voltage that this regulator aims at.
     *
     * @return its magnitude, V; empty where the inductor current is commanded, or the circuit holds the reference
     */
    OptionalDouble target();

    /**
     * One period of an open stage whose output has just the mean that is aimed at: what a regulator senses of it, as polynomials by
     * rising power over intervals that each go from 0 to 1. The first of them are the pulse, which the clock begins.
     */
    interface SensedPeriod {
        /** The highest degree of a polynomial. */
        int HIGHEST_DEGREE = 40;

        /** {@return how many intervals the period has} */
        int intervals();

        /** {@return how many of them are the pulse, the first ones} */
        int pulse();

        /**
         * Returns how long an interval is.
         *
         * @param interval its number, from 0
         * @return its duration, s
         */
        double duration(int interval);

        /**
         * Tells the output voltage.
         *
         * @param interval its number, from 0
         * @param into takes the coefficients of its magnitude, V
         * @return the degree
         */
        int output(int interval, double[] into);

        /**
         * Tells the inductor current in an interval of the pulse.
         *
         * @param interval its number, from 0
         * @param into takes the coefficients, A
         * @return the degree
         */
        int current(int interval, double[] into);

        /** {@return the mean of that magnitude, V} */
        double mean();

        /** {@return the input voltage, V} */
        double inputVoltage();

        /** {@return sensed voltage over output voltage} */
        double divider();

        /** {@return the reference, V} */
        double reference();
    }

    /**
     * Tells whether this regulator is certain to make the pulses of an orbit of the open stage. With an integrator the mean error
     * is zero in every steady state but those at a limit, and the level of the control voltage is free: it comes to where the
     * comparator acts just at the end of the pulse. So the orbit of the open stage is one of the regulated stage where the
     * comparator acts then alone, and neither a limit nor a protection acts at all.
     *
     * @param plant the circuit
     * @param period the orbit
     * @return true if it does; false if it does not, and where that is not certain
     */
    default boolean keeps(Plant plant, SensedPeriod period) {
        return false;
    }

    /**
     * Returns between which values the control voltage is held once this regulator is put to a circuit: those that were given
     * or else those within which the modulator can use it.
     *
     * @param plant the circuit
     * @return the limits, and where they come from
     */
    ControlLimits controlLimits(Plant plant);

    /**
     * Returns what surrounds this regulator.
     *
     * @return the protection
     */
    Protection protection();

    /**
     * Returns this regulator with what surrounds it.
     *
     * @param protection limits of time and current, lock-out, synchronous rectification
     * @return a regulator that drives through the protection
     */
    Regulator withProtection(Protection protection);
}
