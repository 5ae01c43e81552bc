package org.voltsecond.control;

/**
 * From the pulses that a modulator asks for to what the transistors do: minimum on-time, dead time, count of limited
 * pulses.
 *
 * @param protection its values
 * @param synchronous whether there is a transistor that stands in for the rectifier
 */
record GateLogic(Protection protection, boolean synchronous) {

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

    /**
     * Where the gates are between the modulator and the switches.
     *
     * @param stage what the transistors do
     * @param deciding whether a pulse has been asked for in this very instant and has yet to be allowed
     * @param limited whether the current limit has ended the last pulse
     * @param limitedPulses how many pulses in a row it has ended, where that is counted
     */
    record State(Stage stage, boolean deciding, boolean limited, int limitedPulses) {
        static State of(Stage stage) {
            return new State(stage, false, false, 0);
        }

        State to(Stage next) {
            return new State(next, false, limited && !next.on(), limitedPulses);
        }

        State decidingNow() {
            return new State(stage, true, limited, limitedPulses);
        }

        State notLimited() {
            return new State(stage, deciding, false, 0);
        }

        /** The current limit ends a pulse. */
        State limitedNow(boolean counted) {
            return new State(stage, false, true, counted ? limitedPulses + 1 : 0);
        }
    }

    /** The gates when a regulator starts, before the modulator has asked for anything. */
    State start() {
        return State.of(idle());
    }

    private Stage idle() {
        return synchronous ? Stage.SYNCHRONOUS : Stage.OFF;
    }

    private boolean hasDeadTime() {
        return synchronous && protection.synchronous().deadTime() > 0;
    }

    private boolean decides() {
        return protection.minimumOnTime() > 0 || protection.skipsPulses() || hasDeadTime();
    }

    boolean needsTimer() {
        return protection.minimumOnTime() > 0
                || hasDeadTime()
                || protection.hiccup().exists()
                || (protection.limitsCurrent() && protection.currentLimit().blankingTime() > 0);
    }

    /** How long a stage lasts at most, by the timer. */
    double timeOf(Stage stage) {
        return switch (stage) {
            case DEAD_BEFORE_ON, DEAD_AFTER_ON -> protection.synchronous().deadTime();
            case HELD -> protection.minimumOnTime();
            case BLANKED -> protection.currentLimit().blankingTime();
            case PAUSED -> protection.hiccup().pause();
            case OFF, SYNCHRONOUS, ON, LOCKED_OUT, READY -> Double.POSITIVE_INFINITY;
        };
    }

    /** The modulator goes from one state to another. */
    State follow(State state, boolean pulseBefore, boolean pulse) {
        State same = pulseBefore && !pulse ? state.notLimited() : state;
        return switch (state.stage()) {
            case ON, BLANKED -> pulse ? same : turnOff(same);
            case DEAD_BEFORE_ON -> pulse ? same : same.to(idle());
            case OFF, SYNCHRONOUS, DEAD_AFTER_ON -> {
                if (!pulse) {
                    yield same.to(same.stage());
                }
                yield decides() ? same.decidingNow() : proceed(same);
            }
            case HELD, LOCKED_OUT, PAUSED, READY -> same;
        };
    }

    /** A pulse is allowed. Its dead time counts from here even if the synchronous transistor is off already. */
    State proceed(State state) {
        return hasDeadTime() && state.stage() != Stage.DEAD_AFTER_ON
                ? state.to(Stage.DEAD_BEFORE_ON)
                : state.to(turnedOn());
    }

    private Stage turnedOn() {
        if (protection.minimumOnTime() > 0) {
            return Stage.HELD;
        }
        return blanks() ? Stage.BLANKED : Stage.ON;
    }

    private boolean blanks() {
        return protection.limitsCurrent() && protection.currentLimit().blankingTime() > protection.minimumOnTime();
    }

    private State turnOff(State state) {
        return state.to(hasDeadTime() ? Stage.DEAD_AFTER_ON : idle());
    }

    /** The timer has reached the time of the stage. */
    State timeOver(State state, boolean pulse) {
        return switch (state.stage()) {
            case DEAD_BEFORE_ON -> state.to(turnedOn());
            case DEAD_AFTER_ON -> state.to(idle());
            case HELD -> pulse ? state.to(blanks() ? Stage.BLANKED : Stage.ON) : turnOff(state);
            case BLANKED -> state.to(Stage.ON);
            case PAUSED -> State.of(Stage.READY);
            case OFF, SYNCHRONOUS, ON, LOCKED_OUT, READY -> state;
        };
    }

    /** The current limit ends a pulse. */
    State limited(State state) {
        State limited = state.limitedNow(protection.hiccup().exists());
        return protection.hiccup().exists()
                        && limited.limitedPulses() >= protection.hiccup().pulses()
                ? State.of(Stage.PAUSED)
                : turnOff(limited);
    }
}
