package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.control.Leg.Gates.Stage;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.waveform.Signal;

/**
 * A leg of a regulated controller: a modulator with a clock of its own, the gates that its pulses reach, and the current that it
 * senses. Its clock runs in step with that of the controller, later by a share of its period, and one or more times as fast.
 *
 * <p>A leg whose clock lags is in the middle of a period when the clock of the controller ticks. What it does there is written
 * down in a state of the controller, as a number ({@link #code}), so that a period can be run from states alone.
 *
 * @param number its place in the pattern
 * @param switches those that its pulses close, and those between
 * @param current what its comparator and its limit look at, A
 * @param modulator makes its pulses
 * @param protection what surrounds them
 * @param delay by how much its clock lags, in its periods; 0 to below 1
 * @param turns how many of its periods make one of the controller
 * @param firstState where its states begin among those of the controller: of the modulator, then the timer of the gates
 */
record Leg(
        int number,
        SwitchPattern.Leg switches,
        Signal current,
        Modulator modulator,
        Protection protection,
        double delay,
        int turns,
        int firstState) {
    private static final List<Stage> STAGES = List.of(Stage.values());

    /**
     * Where a leg is.
     *
     * @param pulse of the modulator
     * @param gates of the switches
     * @param turn which of its periods is under way: the first that begins after the controller's clock edge is 0, one that has
     *     begun before it -1
     */
    record State(Modulator.Pulse pulse, Gates.Setting gates, int turn) {
        State with(Modulator.Pulse next, Gates.Setting gatesThen) {
            return new State(next, gatesThen, turn);
        }

        State later(int periods) {
            return periods == 0 ? this : new State(pulse, gates, turn + periods);
        }
    }

    Gates logic() {
        return new Gates(protection, !switches.complementary().isEmpty());
    }

    double period() {
        return modulator.clockPeriod();
    }

    /** Whether the controller's clock ticks while a period of this leg is under way. */
    boolean spansEdge() {
        return delay > 0;
    }

    List<OwnState> states() {
        List<OwnState> states = new ArrayList<>();
        modulator.states().forEach(state -> states.add(numbered(state)));
        if (logic().needsTimer()) {
            states.add(numbered(new OwnState("timer of the gates", 0x1p-8 / period(), 0)));
        }
        return states;
    }

    private OwnState numbered(OwnState state) {
        return number == 0
                ? state
                : new OwnState(state.name() + " of leg " + (number + 1), state.scale(), state.initial());
    }

    int timer() {
        return firstState + modulator.states().size();
    }

    // -------------------------------------------------------------------------------------------- its own clock

    /** When the present period of a leg began, s since the controller's clock edge. */
    double begin(State state) {
        return (state.turn() + delay) * period();
    }

    /** A form over the time since the leg's own clock edge, as one over the time since that of the controller. */
    AffineForm onClock(AffineForm form, State state) {
        double begin = begin(state);
        return begin == 0 || form.slope() == 0 ? form : form.plus(-form.slope() * begin);
    }

    /** When a stretch of its period ends, s since the controller's clock edge; may lie after the next one. */
    double end(Modulator.Present present, State state) {
        return begin(state) + present.endSinceTick();
    }

    /** What follows when a stretch of the period is over. */
    State after(Modulator.Present present, State state) {
        Modulator.Pulse next = present.atEnd().pulse();
        boolean onEdge = present.endSinceTick() == period();
        return pulsed(state, next).later(onEdge ? 1 : 0);
    }

    /** The modulator goes to another pulse state. */
    State pulsed(State state, Modulator.Pulse next) {
        return state.with(next, logic().follow(state.gates(), state.pulse().on(), next.on()));
    }

    // ------------------------------------------------------------------------------------------------ its states

    /** Where it is when the controller starts: at the start of its period, or at rest until there. */
    State started() {
        if (spansEdge()) {
            return new State(modulator.resting(), logic().start(), -1);
        }
        Modulator.Pulse begin = modulator.start();
        return new State(begin, logic().follow(logic().start(), false, begin.on()), 0);
    }

    State stopped(Stage stage) {
        return new State(modulator.start(), Gates.Setting.of(stage), spansEdge() ? -1 : 0);
    }

    /** How many numbers {@link #code} may give. */
    int codes() {
        return modulator.pulses().size() * STAGES.size() * 2;
    }

    /** A number for what the leg does, beside its turn; 0 to below {@link #codes()}. */
    int code(State state) {
        Gates.Setting gates = state.gates();
        int pulse = modulator.pulses().indexOf(state.pulse());
        return (pulse * STAGES.size() + STAGES.indexOf(gates.stage())) * 2 + (gates.limited() ? 1 : 0);
    }

    /** What a leg whose clock lags does on the controller's clock edge, by its number. */
    State ofCode(int code) {
        Modulator.Pulse pulse = modulator.pulses().get(code / (2 * STAGES.size()));
        Stage stage = STAGES.get(code / 2 % STAGES.size());
        Stage runs = stage.stopped() ? logic().start().stage() : stage;
        return new State(pulse, new Gates.Setting(runs, false, code % 2 == 1, 0), -1);
    }

    /** What follows at once where the clock has ended a stretch of the leg's period just on the controller's clock edge. */
    State onEdge(State before) {
        State state = before;
        while (begin(state) + modulator.end(state.pulse()) <= RegulatedLaw.ON_THE_EDGE * turns * period()) {
            boolean onEdge = modulator.end(state.pulse()) == period();
            state = pulsed(state, modulator.next(state.pulse())).later(onEdge ? 1 : 0);
        }
        return state;
    }

    /** The switches that are closed; each once. */
    List<String> closed(State state) {
        Stage stage = state.gates().stage();
        return stage.on() ? switches.switches() : stage == Stage.SYNCHRONOUS ? switches.complementary() : List.of();
    }

    /**
     * From the pulses that a modulator asks for to what the transistors do: minimum on-time, dead time, count of limited
     * pulses.
     *
     * @param protection its values
     * @param synchronous whether there is a transistor that stands in for the rectifier
     */
    record Gates(Protection protection, boolean synchronous) {

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
                return this == DEAD_BEFORE_ON
                        || this == DEAD_AFTER_ON
                        || this == HELD
                        || this == BLANKED
                        || this == PAUSED;
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
        record Setting(Stage stage, boolean deciding, boolean limited, int limitedPulses) {
            static Setting of(Stage stage) {
                return new Setting(stage, false, false, 0);
            }

            Setting to(Stage next) {
                return new Setting(next, false, limited && !next.on(), limitedPulses);
            }

            Setting decidingNow() {
                return new Setting(stage, true, limited, limitedPulses);
            }

            Setting notLimited() {
                return new Setting(stage, deciding, false, 0);
            }

            /** The current limit ends a pulse. */
            Setting limitedNow(boolean counted) {
                return new Setting(stage, false, true, counted ? limitedPulses + 1 : 0);
            }
        }

        /** The gates when a regulator starts, before the modulator has asked for anything. */
        Setting start() {
            return Setting.of(idle());
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
        Setting follow(Setting state, boolean pulseBefore, boolean pulse) {
            Setting same = pulseBefore && !pulse ? state.notLimited() : state;
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
        Setting proceed(Setting state) {
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

        private Setting turnOff(Setting state) {
            return state.to(hasDeadTime() ? Stage.DEAD_AFTER_ON : idle());
        }

        /** The timer has reached the time of the stage. */
        Setting timeOver(Setting state, boolean pulse) {
            return switch (state.stage()) {
                case DEAD_BEFORE_ON -> state.to(turnedOn());
                case DEAD_AFTER_ON -> state.to(idle());
                case HELD -> pulse ? state.to(blanks() ? Stage.BLANKED : Stage.ON) : turnOff(state);
                case BLANKED -> state.to(Stage.ON);
                case PAUSED -> Setting.of(Stage.READY);
                case OFF, SYNCHRONOUS, ON, LOCKED_OUT, READY -> state;
            };
        }

        /** The current limit ends a pulse. */
        Setting limited(Setting state) {
            Setting limited = state.limitedNow(protection.hiccup().exists());
            return protection.hiccup().exists()
                            && limited.limitedPulses() >= protection.hiccup().pulses()
                    ? Setting.of(Stage.PAUSED)
                    : turnOff(limited);
        }
    }
}
