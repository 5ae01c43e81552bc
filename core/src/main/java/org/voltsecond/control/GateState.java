package org.voltsecond.control;

/**
 * Where the gates are between the modulator and the switches.
 *
 * @param stage what the transistors do
 * @param deciding whether a pulse has been asked for in this very instant and has yet to be allowed
 * @param limitedPulses how many pulses in a row the current limit has ended
 */
record GateState(Stage stage, boolean deciding, int limitedPulses) {
    /** What the transistors do. */
    enum Stage {
        /** Neither transistor is on. */
        OFF,
        /** The synchronous transistor is on. */
        SYNCHRONOUS,
        /** Both off, before a pulse. */
        DEAD_BEFORE_ON,
        /** On, whatever the modulator asks: minimum on-time. */
        HELD,
        /** On, the current limit does not look yet. */
        BLANKED,
        ON,
        /** Both off, after a pulse. */
        DEAD_AFTER_ON,
        /** Stopped: the input voltage is too low. */
        LOCKED_OUT,
        /** Stopped: a pause after too many limited pulses. */
        PAUSED,
        /** Stopped, starts on the next clock edge. */
        READY;

        boolean stopped() {
            return this == LOCKED_OUT || this == PAUSED || this == READY;
        }

        /** Whether the transistor that drives the inductor is on. */
        boolean on() {
            return this == HELD || this == BLANKED || this == ON;
        }

        /** Whether the timer runs. */
        boolean timed() {
            return this == DEAD_BEFORE_ON || this == DEAD_AFTER_ON || this == HELD || this == BLANKED || this == PAUSED;
        }

        /** Whether the timer starts anew when this stage follows another. */
        boolean restartsTimer(Stage before) {
            return this != before && timed() && !(this == BLANKED && before == HELD);
        }
    }

    static GateState of(Stage stage) {
        return new GateState(stage, false, 0);
    }

    GateState to(Stage next) {
        return new GateState(next, false, limitedPulses);
    }

    GateState decidingNow() {
        return new GateState(stage, true, limitedPulses);
    }

    GateState notLimited() {
        return new GateState(stage, deciding, 0);
    }
}
