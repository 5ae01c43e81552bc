package org.voltsecond.control;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Leg.Gates.Stage;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Trajectory;

/**
 * What can decide the pulses of a regulator in place of its loop, and so hold the output away from its target. Where several
 * act at once, the one that ends the pulse counts: with the duty cycle at its maximum, or the current at its limit, it does not
 * matter that the control voltage stands at a limit too.
 *
 * <pre>{@code
 * Converter tooMuch = regulated.withReference(3); // 15 V from 12 V
 * OutputRegulation regulation = tooMuch.steadyState().regulation().orElseThrow();
 * String why = regulation.heldBy().orElseThrow().words(); // "the duty cycle is at its maximum"
 * }</pre>
 */
public enum Limiter {
    /** The input voltage is too low: the regulator is stopped. */
    UNDERVOLTAGE_LOCKOUT("the input voltage is below that at which the regulator starts"),
    /** The regulator pauses after too many pulses that the current limit has ended, and starts anew. */
    HICCUP("the regulator pauses after too many pulses that the current limit has ended"),
    /** The inductor current reaches its limit. */
    CURRENT_LIMIT("the current limit ends the pulses"),
    /** Pulses can get no longer. */
    MAXIMUM_DUTY_CYCLE("the duty cycle is at its maximum"),
    /** Pulses can get no shorter. */
    MINIMUM_ON_TIME("the pulses are at the minimum on-time"),
    /** The control voltage stands at one of its limits. */
    CONTROL_LIMIT("the control voltage is at its limit"),
    /** The output gets to its target, or past it, from the input without any pulse. */
    INPUT_VOLTAGE("the input alone drives the output above its target, without any pulse"),
    /** No pulse is asked for, and nothing draws the output down. */
    NO_LOAD_SKIP("no pulse is requested, and nothing discharges the output to its target");

    private final String words;

    Limiter(String words) {
        this.words = words;
    }

    /**
     * Returns the name in files.
     *
     * @return the name in lower case, such as "maximum_duty_cycle"
     */
    public String key() {
        return name().toLowerCase(Locale.ROOT);
    }

    /**
     * Returns what it does, in words.
     *
     * @return a clause, without a full stop
     */
    public String words() {
        return words;
    }

    /**
     * Returns what decides the pulses of an orbit in place of the loop. The loop decides as long as it has a say in a single
     * pulse of the orbit: its length, its begin, or whether there is one at all.
     *
     * @param circuit the circuit
     * @param orbit the record of one period of its steady state
     * @param limits of the control voltage
     * @param tooHigh whether the output lies above its target
     * @return what decides in most pulses; {@link #NO_LOAD_SKIP} where there is no pulse though the output is too high; empty
     *     where the loop decides, or the controller is none of this library's regulators
     */
    public static Optional<Limiter> decidingIn(
            DrivenCircuit circuit, Trajectory orbit, ControlLimits limits, boolean tooHigh) {
        return circuit.driving() instanceof RegulatedController controller
                ? Optional.ofNullable(new Tally(circuit, controller, orbit, limits).verdict(tooHigh))
                : Optional.empty();
    }

    /** The pulses of an orbit, those of one leg after the other, and what has decided each. */
    private static final class Tally {
        /** Two times, as shares of a period, or a control voltage and its limit are the same within this. */
        private static final double SAME = 1e-9;

        private final List<Interval> intervals;
        private final DrivenCircuit circuit;
        private final List<Leg> legs;
        private final ControlLimits limits;
        private final Map<Limiter, Integer> counts = new EnumMap<>(Limiter.class);
        private int byLoop;

        Tally(DrivenCircuit circuit, RegulatedController controller, Trajectory orbit, ControlLimits limits) {
            this.circuit = circuit;
            this.limits = limits;
            intervals = orbit.intervals();
            legs = controller.legs();
        }

        @Nullable
        Limiter verdict(boolean tooHigh) {
            if (anyStage(Stage.LOCKED_OUT)) {
                return UNDERVOLTAGE_LOCKOUT;
            }
            if (anyStage(Stage.PAUSED)) {
                return HICCUP;
            }
            boolean anyEdge = false;
            for (Leg leg : legs) {
                anyEdge |= new OfLeg(leg).count();
            }
            if (!anyEdge) {
                return withoutEdges(tooHigh);
            }
            return byLoop > 0 ? null : mostFrequent();
        }

        /** Transistors that never turn off, or no pulse that lasts: one that is cut short as it begins is none. */
        private @Nullable Limiter withoutEdges(boolean tooHigh) {
            OfLeg last = new OfLeg(legs.get(legs.size() - 1));
            if (last.isOn(0)) {
                return last.leg.modulator().highestDutyCycle() >= 1 ? MAXIMUM_DUTY_CYCLE : null;
            }
            OfLeg first = new OfLeg(legs.get(0));
            if (first.isOn(0)) {
                // of two legs that take turns the first has done all it can, and the second nothing yet
                return isAtLimit(0) ? CONTROL_LIMIT : null;
            }
            if (first.gates(0).limited()) {
                return CURRENT_LIMIT;
            }
            if (tooHigh) {
                return NO_LOAD_SKIP;
            }
            return isAtLimit(0) ? CONTROL_LIMIT : null;
        }

        private @Nullable Limiter mostFrequent() {
            Limiter result = null;
            for (Map.Entry<Limiter, Integer> entry : counts.entrySet()) {
                if (result == null || entry.getValue() > counts.getOrDefault(result, 0)) {
                    result = entry.getKey();
                }
            }
            return result;
        }

        private boolean anyStage(Stage stage) {
            for (int k = 0; k < intervals.size(); k++) {
                if (node(k).stage() == stage) {
                    return true;
                }
            }
            return false;
        }

        /** Whether the control voltage stands at a limit at the end of an interval. */
        private boolean isAtLimit(int index) {
            if (limits.origin() == ControlLimits.Origin.DUTY_CYCLE) {
                return false;
            }
            Interval interval = intervals.get(index);
            AffineForm form = circuit.control("control voltage").in(interval.configuration());
            double control = interval.valueAt(form, interval.duration());
            return isSame(control, limits.low()) || isSame(control, limits.high());
        }

        private boolean isSame(double control, double limit) {
            double size = Math.max(Math.abs(limit), Math.abs(limits.high() - limits.low()));
            return Double.isFinite(limit)
                    && Math.abs(control - limit) <= SAME * (Double.isFinite(size) ? size : Math.abs(limit));
        }

        private RegulatedController.Node node(int index) {
            return (RegulatedController.Node)
                    ((CircuitPhase) intervals.get(index).phase()).mode();
        }

        private int before(int index) {
            return (index + intervals.size() - 1) % intervals.size();
        }

        private int after(int index) {
            return (index + 1) % intervals.size();
        }

        /** The pulses of one leg. */
        private final class OfLeg {
            private final Leg leg;
            private final Modulator modulator;

            OfLeg(Leg leg) {
                this.leg = leg;
                modulator = leg.modulator();
            }

            /** Whether the modulator asks for the transistor, whatever minimum on-time and dead time make of it. */
            boolean isOn(int index) {
                return node(index).legs().get(leg.number()).pulse().on();
            }

            Leg.Gates.Setting gates(int index) {
                return node(index).legs().get(leg.number()).gates();
            }

            /** Counts what has decided its pulses; false if none begins. */
            boolean count() {
                List<Integer> begins = new ArrayList<>();
                for (int k = 0; k < intervals.size(); k++) {
                    if (!isOn(before(k)) && isOn(k)) {
                        begins.add(k);
                    }
                }
                for (int p = 0; p < begins.size(); p++) {
                    count(begins.get(p), begins.get((p + 1) % begins.size()));
                }
                return !begins.isEmpty();
            }

            /** Looks at one pulse and the pause after it. */
            private void count(int begin, int next) {
                double on = 0;
                int k = begin;
                while (isOn(k)) {
                    on += intervals.get(k).duration();
                    k = after(k);
                }
                int last = before(k);
                double off = 0;
                int end = k;
                while (k != next) {
                    off += intervals.get(k).duration();
                    k = after(k);
                }
                Limiter limiter = limiter(on, off, last, end, before(begin));
                boolean skips = modulator.isClocked() && Math.rint((on + off) / leg.period()) > 1;
                boolean byCurrent = gates(before(next)).limited();
                if (limiter == null || (skips && !byCurrent)) {
                    byLoop++;
                } else {
                    counts.merge(limiter, 1, Integer::sum);
                }
            }

            /**
             * What has decided a pulse; null for the loop.
             *
             * @param last the interval in which the pulse ends
             * @param end the one after it
             * @param pause the last one before the pulse
             */
            private @Nullable Limiter limiter(double on, double off, int last, int end, int pause) {
                Leg.Gates.Setting gates = gates(end);
                if (gates.limited()) {
                    return CURRENT_LIMIT;
                }
                double share = modulator.isClocked() ? on / leg.period() : on / (on + off);
                if (share >= modulator.highestDutyCycle() * (1 - SAME)) {
                    return MAXIMUM_DUTY_CYCLE;
                }
                double shortest = modulator.lowestDutyCycle();
                if (gates.stage() == Stage.HELD || (shortest > 0 && share <= shortest * (1 + SAME))) {
                    return MINIMUM_ON_TIME;
                }
                return isAtLimit(modulator.clockEndsPulses() ? pause : last) ? CONTROL_LIMIT : null;
            }
        }
    }
}
