package org.voltsecond.control;

import org.voltsecond.control.GateState.Stage;

/**
 * From the pulses that a modulator asks for to what the transistors do: minimum on-time, dead time, count of limited
 * pulses.
 *
 * @param protection its values
 * @param synchronous whether there is a transistor that stands in for the rectifier
 */
record GateLogic(Protection protection, boolean synchronous) {

    /** The gates when a regulator starts, before the modulator has asked for anything. */
    GateState start() {
        return GateState.of(idle());
    }

    private Stage idle() {
        return synchronous ? Stage.SYNCHRONOUS : Stage.OFF;
    }

    private boolean hasDeadTime() {
        return synchronous && protection.deadTime() > 0;
    }

    private boolean decides() {
        return protection.minimumOnTime() > 0 || protection.skipsPulses() || hasDeadTime();
    }

    boolean needsTimer() {
        return protection.minimumOnTime() > 0
                || hasDeadTime()
                || protection.hiccupPulses() > 0
                || (protection.limitsCurrent() && protection.blankingTime() > 0);
    }

    /** How long a stage lasts at most, by the timer. */
    double timeOf(Stage stage) {
        return switch (stage) {
            case DEAD_BEFORE_ON, DEAD_AFTER_ON -> protection.deadTime();
            case HELD -> protection.minimumOnTime();
            case BLANKED -> protection.blankingTime();
            case PAUSED -> protection.hiccupTime();
            case OFF, SYNCHRONOUS, ON, LOCKED_OUT, READY -> Double.POSITIVE_INFINITY;
        };
    }

    /** The modulator goes from one state to another. */
    GateState follow(GateState state, boolean pulseBefore, boolean pulse) {
        GateState same = pulseBefore && !pulse ? state.notLimited() : state;
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
    GateState proceed(GateState state) {
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
        return protection.limitsCurrent() && protection.blankingTime() > protection.minimumOnTime();
    }

    private GateState turnOff(GateState state) {
        return state.to(hasDeadTime() ? Stage.DEAD_AFTER_ON : idle());
    }

    /** The timer has reached the time of the stage. */
    GateState timeOver(GateState state, boolean pulse) {
        return switch (state.stage()) {
            case DEAD_BEFORE_ON -> state.to(turnedOn());
            case DEAD_AFTER_ON -> state.to(idle());
            case HELD -> pulse ? state.to(blanks() ? Stage.BLANKED : Stage.ON) : turnOff(state);
            case BLANKED -> state.to(Stage.ON);
            case PAUSED -> GateState.of(Stage.READY);
            case OFF, SYNCHRONOUS, ON, LOCKED_OUT, READY -> state;
        };
    }

    /** The current limit ends a pulse. */
    GateState limited(GateState state) {
        if (protection.hiccupPulses() == 0) {
            return turnOff(state);
        }
        int count = state.limitedPulses() + 1;
        return count >= protection.hiccupPulses()
                ? GateState.of(Stage.PAUSED)
                : turnOff(new GateState(state.stage(), false, count));
    }
}
