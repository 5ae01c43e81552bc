package org.voltsecond.control;

import java.util.List;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

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
 * <pre>{@code
 * Protection guarded = Protection.none()
 *         .withCurrentLimit(4, nano(100)) // A, blanking s
 *         .withHiccup(8, milli(1)) // after 8 limited pulses a pause
 *         .withUndervoltageLockout(7, 8); // V of the input
 * Converter rail = stage.drive(regulated.regulator().withProtection(guarded));
 * ConverterTransient fault = rail.transientFromSteadyState(milli(1), Change.at(micro(200)).shortCircuit(milli(20)));
 * double highest = fault.of(rail.inductorCurrent()).maximum(); // 4.00 A
 * }</pre>
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
 * @param deadTime for which both transistors are off before every pulse and after it, s; 0 for none
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
     * @param dead for which both transistors are off before every pulse and after it, s; 0 or more; a current that flows
     *     then needs a rectifier in parallel (the body diode)
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
        Checks checks = new Checks()
                .notNegative("minimum on-time", minimumOnTime, "s")
                .require(currentLimit > 0, "current limit", "more than 0 A", currentLimit, "A")
                .notNegative("blanking time of the current limit", blankingTime, "s")
                .require(
                        hiccupPulses >= 0,
                        "number of limited pulses before a hiccup",
                        "0 (never) or more",
                        hiccupPulses,
                        "")
                .notNegative("pause of the hiccup", hiccupTime, "s")
                .require(skipLevel < Double.POSITIVE_INFINITY, "level of pulse skipping", "finite", skipLevel, "V")
                .notNegative("dead time", deadTime, "s");
        if (hiccupPulses > 0) {
            checks.require(limitsCurrent(), "current limit before a hiccup", "finite", currentLimit, "A");
        }
        if (locksOut() || startVoltage > NEVER || Double.isNaN(stopVoltage)) {
            checks.require(Double.isFinite(startVoltage), "start voltage of the lock-out", "finite", startVoltage, "V")
                    .require(
                            stopVoltage < startVoltage,
                            "stop voltage of the lock-out",
                            "below its start voltage of " + Quantity.brief(startVoltage, Unit.VOLT),
                            stopVoltage,
                            "V");
        }
        return checks.faults();
    }

    /** What is wrong with the times beside the clock. */
    List<String> faults(double clockPeriod) {
        String valid = "below the switching period of " + Quantity.brief(clockPeriod, Unit.SECOND);
        return new Checks()
                .require(minimumOnTime < clockPeriod, "minimum on-time", valid, minimumOnTime, "s")
                .require(blankingTime < clockPeriod, "blanking time of the current limit", valid, blankingTime, "s")
                .require(deadTime < clockPeriod, "dead time", valid, deadTime, "s")
                .faults();
    }

    /**
     * Returns whether there are times at which both transistors of a synchronous stage are open, so that a current that
     * flows then needs a body diode.
     *
     * @return true with a dead time, diode emulation, hiccup or lock-out
     */
    public boolean opensBothTransistors() {
        return deadTime > 0 || rectification != SynchronousRectification.FORCED || hiccupPulses > 0 || locksOut();
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

    /** What of it shapes the pulses that a comparator makes. */
    Protection ofGatesAlone() {
        return none().withSynchronousRectification(rectification, deadTime);
    }

    /** What is left of it once start-up is over, in a steady state. */
    Protection afterStart() {
        SynchronousRectification steady = rectification == SynchronousRectification.DIODE_EMULATION_AT_START
                ? SynchronousRectification.FORCED
                : rectification;
        return withUndervoltageLockout(NEVER, NEVER).withHiccup(0, 0).withSynchronousRectification(steady, deadTime);
    }
}
