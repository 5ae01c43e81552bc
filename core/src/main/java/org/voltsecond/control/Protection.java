package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;

/**
 * What surrounds a regulator of any kind: limits of time and current, lock-out, and the drive of a synchronous
 * transistor. Immutable; {@link #none()} has none of it, every {@code with} adds one thing.
 *
 * <p>A minimum on-time holds against everything but the lock-out. The current limit ends a pulse as soon as the inductor
 * current reaches it; it is exceeded only within the blanking time or the minimum on-time at the begin of a pulse, which
 * are counted from the moment the transistor turns on. A comparator that asks for no pulse at all gets none: no
 * minimum on-time begins.
 *
 * <p>Lock-out and hiccup open all switches at once, so a current that flows needs a rectifier (a body diode) to go on in;
 * integrator and soft start go back to their beginning, and start anew on the first clock edge after.
 *
 * @param minimumOnTime shortest pulse, s; 0 for none
 * @param currentLimit inductor current that ends a pulse, A; infinite for none
 * @param blankingTime time at the begin of a pulse in which the current limit does not look, s; 0 for none
 * @param hiccupPulses number of pulses in a row, each ended by the current limit, after which the regulator pauses; 0 for
 *     never
 * @param hiccupTime how long it pauses, s
 * @param stopVoltage input voltage below which the regulator stops, V; minus infinity for no lock-out
 * @param startVoltage input voltage above which it starts, V
 * @param skipLevel control voltage below which a pulse is left out, V; minus infinity for never
 * @param rectification how a synchronous transistor is driven
 * @param deadTime for which both transistors are off at each change from one to the other, s; 0 for none
 */
public record Protection(
        double minimumOnTime,
        double currentLimit,
        double blankingTime,
        int hiccupPulses,
        double hiccupTime,
        double stopVoltage,
        double startVoltage,
        double skipLevel,
        SynchronousRectification rectification,
        double deadTime) {

    private static final double NEVER = Double.NEGATIVE_INFINITY;

    /**
     * Returns a protection that does nothing; a synchronous transistor is forced.
     *
     * @return the protection
     */
    public static Protection none() {
        return new Protection(
                0, Double.POSITIVE_INFINITY, 0, 0, 0, NEVER, NEVER, NEVER, SynchronousRectification.FORCED, 0);
    }

    /**
     * Adds a minimum on-time.
     *
     * @param seconds shortest pulse, s; 0 or more
     * @return a new protection
     */
    public Protection withMinimumOnTime(double seconds) {
        return new Protection(
                seconds,
                currentLimit,
                blankingTime,
                hiccupPulses,
                hiccupTime,
                stopVoltage,
                startVoltage,
                skipLevel,
                rectification,
                deadTime);
    }

    /**
     * Adds a cycle-by-cycle limit of the inductor current.
     *
     * @param ampere current that ends a pulse, A; more than 0
     * @param blanking time at the begin of a pulse in which the limit does not look, s; 0 or more
     * @return a new protection
     */
    public Protection withCurrentLimit(double ampere, double blanking) {
        return new Protection(
                minimumOnTime,
                ampere,
                blanking,
                hiccupPulses,
                hiccupTime,
                stopVoltage,
                startVoltage,
                skipLevel,
                rectification,
                deadTime);
    }

    /**
     * Adds hiccup: a pause after a number of pulses in a row that the current limit has ended, then another soft start.
     *
     * @param pulses how many; 1 or more, or 0 for none
     * @param pause how long the regulator is off, s; 0 or more
     * @return a new protection
     */
    public Protection withHiccup(int pulses, double pause) {
        return new Protection(
                minimumOnTime,
                currentLimit,
                blankingTime,
                pulses,
                pause,
                stopVoltage,
                startVoltage,
                skipLevel,
                rectification,
                deadTime);
    }

    /**
     * Adds an undervoltage lock-out of the input.
     *
     * @param stop input voltage below which the regulator stops, V
     * @param start input voltage above which it starts, V; above {@code stop}
     * @return a new protection
     */
    public Protection withUndervoltageLockout(double stop, double start) {
        return new Protection(
                minimumOnTime,
                currentLimit,
                blankingTime,
                hiccupPulses,
                hiccupTime,
                stop,
                start,
                skipLevel,
                rectification,
                deadTime);
    }

    /**
     * Adds pulse skipping at light load.
     *
     * @param level control voltage below which a pulse is left out, V
     * @return a new protection
     */
    public Protection withPulseSkipping(double level) {
        return new Protection(
                minimumOnTime,
                currentLimit,
                blankingTime,
                hiccupPulses,
                hiccupTime,
                stopVoltage,
                startVoltage,
                level,
                rectification,
                deadTime);
    }

    /**
     * Chooses how a synchronous transistor is driven.
     *
     * @param how forced, or with diode emulation
     * @param dead for which both transistors are off at each change from one to the other, s; 0 or more; a current that
     *     flows then needs a rectifier in parallel (the body diode)
     * @return a new protection
     */
    public Protection withSynchronousRectification(SynchronousRectification how, double dead) {
        return new Protection(
                minimumOnTime,
                currentLimit,
                blankingTime,
                hiccupPulses,
                hiccupTime,
                stopVoltage,
                startVoltage,
                skipLevel,
                how,
                dead);
    }

    /**
     * Returns everything that is wrong with the values.
     *
     * @return one line for each fault; empty if all is well
     */
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        checkTime(faults, "minimum on-time", minimumOnTime);
        checkTime(faults, "blanking time", blankingTime);
        checkTime(faults, "dead time", deadTime);
        checkTime(faults, "pause of the hiccup", hiccupTime);
        if (!(currentLimit > 0)) {
            faults.add("the current limit must be more than 0 A but was " + currentLimit + " A");
        }
        if (!(hiccupPulses >= 0)) {
            faults.add("the number of limited pulses before a hiccup must be 0 (never) or more but was " + hiccupPulses);
        }
        if (hiccupPulses > 0 && currentLimit == Double.POSITIVE_INFINITY) {
            faults.add("a hiccup after " + hiccupPulses + " limited pulses needs a current limit; set one");
        }
        if (!(stopVoltage < startVoltage || (stopVoltage == NEVER && startVoltage == NEVER))
                || !(startVoltage < Double.POSITIVE_INFINITY)) {
            faults.add("the lock-out must stop at a lower input voltage than it starts at, but it was to stop at "
                    + stopVoltage + " V and to start at " + startVoltage + " V");
        }
        if (!(skipLevel < Double.POSITIVE_INFINITY)) {
            faults.add("the level of pulse skipping must be finite but was " + skipLevel + " V");
        }
        return faults;
    }

    private static void checkTime(List<String> faults, String what, double value) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add("the " + what + " must be 0 s or more and finite but was " + value + " s");
        }
    }

    /** The faults, with those that show only beside the clock. */
    List<String> faults(double clockPeriod) {
        List<String> faults = new ArrayList<>(faults());
        checkBelow(faults, "minimum on-time", minimumOnTime, clockPeriod);
        checkBelow(faults, "blanking time", blankingTime, clockPeriod);
        checkBelow(faults, "dead time", deadTime, clockPeriod);
        return faults;
    }

    private static void checkBelow(List<String> faults, String what, double value, double clockPeriod) {
        if (value >= clockPeriod && value < Double.POSITIVE_INFINITY) {
            faults.add("the " + what + " must be below the switching period of " + clockPeriod + " s but was " + value
                    + " s");
        }
    }

    boolean limitsCurrent() {
        return currentLimit < Double.POSITIVE_INFINITY;
    }

    boolean locksOut() {
        return stopVoltage > NEVER;
    }

    boolean skipsPulses() {
        return skipLevel > NEVER;
    }

    /** What is left of it once start-up is over, in a steady state. */
    Protection afterStart() {
        SynchronousRectification steady = rectification == SynchronousRectification.DIODE_EMULATION_AT_START
                ? SynchronousRectification.FORCED
                : rectification;
        return withUndervoltageLockout(NEVER, NEVER)
                .withHiccup(0, 0)
                .withSynchronousRectification(steady, deadTime);
    }
}
