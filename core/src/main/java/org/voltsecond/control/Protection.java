package org.voltsecond.control;

import java.util.List;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What surrounds a regulator of any kind: limits of time and current, lock-out, and the drive of a synchronous
 * transistor. Immutable; {@link #none()} has none of it, every {@code with} adds one thing.
 *
 * <p>A minimum on-time holds against everything but the lock-out. The current limit ends a pulse as soon as the inductor
 * current reaches it; it is exceeded only within the blanking time or the minimum on-time at the start of a pulse, which
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
 * @param currentLimit what ends a pulse
 * @param hiccup when it pauses
 * @param lockout below which input voltage it stops
 * @param skipLevel control voltage below which a pulse is left out, V; minus infinity for never
 * @param synchronous how a synchronous transistor is driven
 */
public record Protection(
        double minimumOnTime,
        CurrentLimit currentLimit,
        Hiccup hiccup,
        Lockout lockout,
        double skipLevel,
        SynchronousDrive synchronous) {

    private static final double NEVER = Double.NEGATIVE_INFINITY;

    /**
     * A cycle-by-cycle limit of the inductor current.
     *
     * @param current inductor current that ends a pulse, A; infinite for none
     * @param blankingTime time at the start of a pulse in which the limit does not look, s; 0 for none
     */
    public record CurrentLimit(double current, double blankingTime) {
        static final CurrentLimit NONE = new CurrentLimit(Double.POSITIVE_INFINITY, 0);

        boolean exists() {
            return current < Double.POSITIVE_INFINITY;
        }
    }

    /**
     * A pause after too many limited pulses.
     *
     * @param pulses number of pulses in a row, each ended by the current limit, after which the regulator pauses; 0 for never
     * @param pause how long, s
     */
    public record Hiccup(int pulses, double pause) {
        static final Hiccup NONE = new Hiccup(0, 0);

        /**
         * Returns whether there ever is a pause.
         *
         * @return true if so
         */
        public boolean exists() {
            return pulses > 0;
        }
    }

    /**
     * An undervoltage lock-out of the input.
     *
     * @param stop input voltage below which the regulator stops, V; minus infinity for no lock-out
     * @param start input voltage above which it starts, V
     */
    public record Lockout(double stop, double start) {
        static final Lockout NONE = new Lockout(NEVER, NEVER);

        /**
         * Returns whether the regulator ever stops.
         *
         * @return true if so
         */
        public boolean exists() {
            return stop > NEVER;
        }
    }

    /** What a synchronous transistor does while the inductor current would flow backwards. */
    public enum Rectification {
        /** It stays on: the current flows back through it. */
        FORCED,
        /** It turns off as soon as the current has come down to zero, as a diode would. */
        DIODE_EMULATION,
        /** It does so until the soft start is over, so that a charged output is not discharged, and is forced after. */
        DIODE_EMULATION_AT_START
    }

    /**
     * How a synchronous transistor is driven.
     *
     * @param rectification what it does while the current would flow backwards
     * @param deadTime for which both transistors are off before every pulse and after it, s; 0 for none
     */
    public record SynchronousDrive(Rectification rectification, double deadTime) {
        static final SynchronousDrive PLAIN = new SynchronousDrive(Rectification.FORCED, 0);
    }

    /**
     * Returns a protection that does nothing; a synchronous transistor is forced.
     *
     * @return the protection
     */
    public static Protection none() {
        return new Protection(0, CurrentLimit.NONE, Hiccup.NONE, Lockout.NONE, NEVER, SynchronousDrive.PLAIN);
    }

    /**
     * Adds a minimum on-time.
     *
     * @param seconds shortest pulse, s; 0 or more
     * @return a new protection
     */
    public Protection withMinimumOnTime(double seconds) {
        return new Protection(seconds, currentLimit, hiccup, lockout, skipLevel, synchronous);
    }

    /**
     * Adds a cycle-by-cycle limit of the inductor current.
     *
     * @param ampere current that ends a pulse, A; more than 0
     * @param blanking time at the start of a pulse in which the limit does not look, s; 0 or more
     * @return a new protection
     */
    public Protection withCurrentLimit(double ampere, double blanking) {
        return new Protection(
                minimumOnTime, new CurrentLimit(ampere, blanking), hiccup, lockout, skipLevel, synchronous);
    }

    /**
     * Adds hiccup: a pause after a number of pulses in a row that the current limit has ended, then another soft start.
     *
     * @param pulses how many; 1 or more, or 0 for none
     * @param pause how long the regulator is off, s; 0 or more
     * @return a new protection
     */
    public Protection withHiccup(int pulses, double pause) {
        return new Protection(minimumOnTime, currentLimit, new Hiccup(pulses, pause), lockout, skipLevel, synchronous);
    }

    /**
     * Adds an undervoltage lock-out of the input.
     *
     * @param stop input voltage below which the regulator stops, V
     * @param start input voltage above which it starts, V; above {@code stop}
     * @return a new protection
     */
    public Protection withUndervoltageLockout(double stop, double start) {
        return new Protection(minimumOnTime, currentLimit, hiccup, new Lockout(stop, start), skipLevel, synchronous);
    }

    /**
     * Adds pulse skipping at light load.
     *
     * @param level control voltage below which a pulse is left out, V
     * @return a new protection
     */
    public Protection withPulseSkipping(double level) {
        return new Protection(minimumOnTime, currentLimit, hiccup, lockout, level, synchronous);
    }

    /**
     * Chooses how a synchronous transistor is driven.
     *
     * @param how forced, or with diode emulation
     * @param dead for which both transistors are off before every pulse and after it, s; 0 or more; a current that flows
     *     then needs a rectifier in parallel (the body diode)
     * @return a new protection
     */
    public Protection withSynchronousRectification(Rectification how, double dead) {
        return new Protection(minimumOnTime, currentLimit, hiccup, lockout, skipLevel, new SynchronousDrive(how, dead));
    }

    /**
     * Returns everything that is wrong with the values.
     *
     * @return one line for each fault; empty if all is well
     */
    public List<String> faults() {
        Checks checks = new Checks()
                .notNegative("minimum on-time", minimumOnTime, "s")
                .require(currentLimit.current() > 0, "current limit", "more than 0 A", currentLimit.current(), "A")
                .notNegative("blanking time of the current limit", currentLimit.blankingTime(), "s")
                .require(
                        hiccup.pulses() >= 0,
                        "number of limited pulses before a hiccup",
                        "0 (never) or more",
                        hiccup.pulses(),
                        "")
                .notNegative("pause of the hiccup", hiccup.pause(), "s")
                .require(skipLevel < Double.POSITIVE_INFINITY, "level of pulse skipping", "finite", skipLevel, "V")
                .notNegative("dead time", synchronous.deadTime(), "s");
        if (hiccup.exists()) {
            checks.require(limitsCurrent(), "current limit before a hiccup", "finite", currentLimit.current(), "A");
        }
        if (locksOut() || lockout.start() > NEVER || Double.isNaN(lockout.stop())) {
            checks.require(
                            Double.isFinite(lockout.start()),
                            "start voltage of the lock-out",
                            "finite",
                            lockout.start(),
                            "V")
                    .require(
                            lockout.stop() < lockout.start(),
                            "stop voltage of the lock-out",
                            "below its start voltage of " + Quantity.brief(lockout.start(), Unit.VOLT),
                            lockout.stop(),
                            "V");
        }
        return checks.faults();
    }

    /** What is wrong with the times beside the clock. */
    List<String> faults(double clockPeriod) {
        String valid = "below the switching period of " + Quantity.brief(clockPeriod, Unit.SECOND);
        double blanking = currentLimit.blankingTime();
        double dead = synchronous.deadTime();
        return new Checks()
                .require(minimumOnTime < clockPeriod, "minimum on-time", valid, minimumOnTime, "s")
                .require(blanking < clockPeriod, "blanking time of the current limit", valid, blanking, "s")
                .require(dead < clockPeriod, "dead time", valid, dead, "s")
                .faults();
    }

    /**
     * Returns whether there are times at which both transistors of a synchronous stage are open, so that a current that
     * flows then needs a body diode.
     *
     * @return true with a dead time, diode emulation, hiccup or lock-out
     */
    public boolean opensBothTransistors() {
        return synchronous.deadTime() > 0
                || synchronous.rectification() != Rectification.FORCED
                || hiccup.exists()
                || locksOut();
    }

    boolean limitsCurrent() {
        return currentLimit.exists();
    }

    boolean locksOut() {
        return lockout.exists();
    }

    boolean skipsPulses() {
        return skipLevel > NEVER;
    }

    /**
     * Whether a steady state is certain to be as it would be without.
     *
     * @param onTime of each pulse, s
     * @param highestCurrent that the inductor current reaches in it at most, A
     * @param lowestControl the control voltage at least, V
     * @param inputVoltage V
     * @param isSynchronous whether a transistor rectifies
     */
    boolean staysOut(
            double onTime, double highestCurrent, double lowestControl, double inputVoltage, boolean isSynchronous) {
        boolean plain = synchronous.deadTime() == 0 && synchronous.rectification() != Rectification.DIODE_EMULATION;
        return onTime > minimumOnTime
                && highestCurrent < currentLimit.current()
                && lowestControl > skipLevel
                && inputVoltage > lockout.start()
                && (plain || !isSynchronous);
    }

    /** What of it shapes the pulses that a comparator makes. */
    Protection ofGatesAlone() {
        return none().withSynchronousRectification(synchronous.rectification(), synchronous.deadTime());
    }

    /** Whether the inductor current may flow backwards, through the synchronous transistor of a plant. */
    boolean letsCurrentBack(Plant plant) {
        return plant.pattern().isSynchronous() && synchronous.rectification() != Rectification.DIODE_EMULATION;
    }

    /** What is left of it once start-up is over, in a steady state. */
    Protection afterStart() {
        Rectification steady = synchronous.rectification() == Rectification.DIODE_EMULATION_AT_START
                ? Rectification.FORCED
                : synchronous.rectification();
        return withUndervoltageLockout(NEVER, NEVER)
                .withHiccup(0, 0)
                .withSynchronousRectification(steady, synchronous.deadTime());
    }
}
