package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ControlLaw.ByState;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.waveform.Signal;

/** Turns the control voltage into pulses. Implementations are records: equal means the same. */
interface Modulator {
    /** Where in its pulse a modulator is. Implementations are records or enumerations. */
    interface Pulse {
        /** Whether the transistor is on. */
        boolean on();
    }

    /**
     * The step into another pulse state.
     *
     * @param pulse the pulse state that begins
     * @param ownStatesAfter value of each of the modulator's states just after, by all states just before; null if they
     *     stay
     * @param byState the same where it depends on the state in more than an affine way; else null
     */
    record Next(
            Pulse pulse,
            @Nullable List<AffineForm> ownStatesAfter,
            @Nullable ByState byState) {
        static Next to(Pulse pulse) {
            return new Next(pulse, null, null);
        }

        static Next to(Pulse pulse, List<AffineForm> ownStatesAfter) {
            return new Next(pulse, ownStatesAfter, null);
        }
    }

    /** A comparator of the modulator and what follows it. */
    record PulseRule(String name, AffineForm form, Next then) {}

    /**
     * The modulator while the circuit is in one configuration. A time that passes without the clock is a state of the
     * modulator and ends with a rule, since a pulse state begins anew whenever a rectifier or a scheduled change puts the
     * circuit into another configuration.
     *
     * @param rates rate of each of the modulator's states, per second
     * @param rules what ends the pulse state
     * @param endSinceTick time since the clock edge at which it ends, s; infinite for none
     * @param atEnd what follows then
     * @param ramp what the control voltage is compared with
     */
    record Present(List<AffineForm> rates, List<PulseRule> rules, double endSinceTick, Next atEnd, AffineForm ramp) {}

    /** The clock period, s; without a clock the time scale of the pulses. */
    double clockPeriod();

    /** Whether pulses begin or end with the clock. */
    default boolean isClocked() {
        return true;
    }

    List<String> faults();

    /**
     * What is compared, in words.
     *
     * @param commanded whether the control is the command of a current, at 1 V/A
     */
    default Comparison comparison(boolean commanded) {
        return Comparison.WITH_RAMP;
    }

    /** The largest share of a period that pulses can take. */
    default double highestDutyCycle() {
        double[] range = dutyCycles();
        return range == null ? 1 : range[1];
    }

    /** The smallest share of a period that a pulse takes once it has begun. */
    default double lowestDutyCycle() {
        double[] range = dutyCycles();
        return range == null ? 0 : range[0];
    }

    /** Whether the clock ends the pulses and the control voltage begins them. */
    default boolean clockEndsPulses() {
        return false;
    }

    /** Between which values a control voltage has something to say, and so where it is held unless limits are given. */
    ControlLimits usableControl(Plant plant, Protection protection);

    /**
     * What of a current command can be used, as a control voltage. The upper limit lies a millionth above the current limit,
     * so that of the two it is always the current limit that acts.
     *
     * @param sense control voltage over current command, V/A
     */
    static ControlLimits currentCommand(double sense, Plant plant, Protection protection) {
        if (protection.limitsCurrent()) {
            double above = protection.currentLimit().current() * (1 + 0x1p-20);
            return new ControlLimits(0, sense * above, ControlLimits.Origin.CURRENT_LIMIT);
        }
        double most = plant.fullLoadCurrent();
        return most < Double.POSITIVE_INFINITY
                ? new ControlLimits(0, 2 * sense * most, ControlLimits.Origin.FULL_LOAD)
                : new ControlLimits(0, Double.POSITIVE_INFINITY, ControlLimits.Origin.UNKNOWN_LOAD);
    }

    /** The modulator's continuous states, such as a timer or a held sample. */
    default List<OwnState> states() {
        return List.of();
    }

    /** The state on the first clock edge. */
    Pulse start();

    /** A state that is off until the next clock edge, of a modulator that can make pulses for one of several legs. */
    default Pulse resting() {
        return start();
    }

    /** All states, of a modulator that can make pulses for one of several legs. */
    default List<Pulse> pulses() {
        return List.of(start());
    }

    /** When the clock ends a state, s since its edge, of a modulator that can make pulses for one of several legs. */
    default double end(Pulse pulse) {
        return Double.POSITIVE_INFINITY;
    }

    /** What the clock makes of a state that it ends. */
    default Pulse next(Pulse pulse) {
        return pulse;
    }

    /** What is wrong with this modulator for the legs of a pattern; empty if all is well. */
    default List<String> faultsIn(SwitchPattern pattern) {
        return pattern.legs().size() == 1
                ? List.of()
                : List.of(
                        "the switches must be driven together, from one train of pulses, by a regulator without ramp and "
                                + "clocked comparator, but they were driven " + pattern.timing()
                                + "; valid for these: voltage mode, peak or valley current mode, average current mode");
    }

    /** This modulator as it makes the pulses of a leg of a pattern, for which nothing is wrong with it. */
    default Modulator ofLeg(SwitchPattern pattern, int leg) {
        return this;
    }

    /** This modulator without what it regulates of itself: its pulses can have any length. */
    default Modulator ofPulsesAlone() {
        return this;
    }

    /** Within which control voltages any leg of a plant changes its pulses. */
    default ControlLimits usableOfLegs(Plant plant, Protection protection) {
        int last = plant.pattern().legs().size() - 1;
        ControlLimits first = ofLeg(plant.pattern(), 0).usableControl(plant, protection);
        return first.with(
                first.low(),
                ofLeg(plant.pattern(), last).usableControl(plant, protection).high());
    }

    /**
     * When in the period a comparator acts where pulses have a given length: at {@code begin + share D} periods after the
     * clock, with the duty cycle D. A comparator that begins a pulse acts the sooner the longer the pulse.
     */
    record Instant(double begin, double share) {}

    /** When the comparator of a pulse state acts; null if the state has none, or acts a second time. */
    default @Nullable Instant instant(Pulse pulse) {
        return null;
    }

    /** The shortest and the longest pulse that a comparator can make, in periods; null if none decides within a period. */
    default double @Nullable [] dutyCycles() {
        return null;
    }

    /**
     * What the control voltage is compared with in a pulse that the clock begins and a comparator ends, once it has come up to the
     * control voltage: coefficients over 0 to 1, for a part of the pulse. Null where pulses are made otherwise.
     *
     * @param begin of the part, s after the clock
     * @param duration of the part, s
     * @param current the inductor current in it, A, as coefficients
     */
    default double @Nullable [] rampOfPulse(double begin, double duration, double[] current) {
        return null;
    }

    /** What follows where a pulse is cut short from outside. */
    Next cut(Pulse pulse, Sensing sensing);

    /**
     * Tells what holds in a pulse state.
     *
     * @param pulse the pulse state
     * @param sensing reads the circuit, and as its own states those of the modulator
     * @param control the control voltage
     * @param current the inductor current that it may look at
     */
    Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current);
}
