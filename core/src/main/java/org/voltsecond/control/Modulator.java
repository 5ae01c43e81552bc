package org.voltsecond.control;

import java.util.List;
import org.voltsecond.engine.AffineForm;

/** Turns the control voltage into pulses. Implementations are records: equal means the same. */
interface Modulator {
    /** Where in its pulse a modulator is. Implementations are records or enumerations. */
    interface Pulse {
        /** Whether the transistor is on. */
        boolean on();
    }

    /** A comparator of the modulator and what follows it. */
    record PulseRule(String name, AffineForm form, Pulse then) {}

    /**
     * The modulator while the circuit is in one configuration.
     *
     * @param rules what ends the pulse state
     * @param endSinceTick time since the clock edge at which it ends, s; infinite for none
     * @param maximumDuration time since its entry at which it ends, s; infinite for none
     * @param atEnd what follows then
     * @param ramp what the control voltage is compared with
     */
    record Present(List<PulseRule> rules, double endSinceTick, double maximumDuration, Pulse atEnd, AffineForm ramp) {}

    /** The clock period, s; without a clock the time scale of the pulses. */
    double clockPeriod();

    List<String> faults();

    /** The state on the first clock edge. */
    Pulse start();

    /** What follows where a pulse is cut short from outside. */
    Pulse cut(Pulse pulse);

    Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant);
}
