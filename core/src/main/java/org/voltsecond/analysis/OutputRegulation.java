package org.voltsecond.analysis;

import java.util.Optional;
import org.voltsecond.control.ControlLimits;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Limiter;
import org.voltsecond.waveform.Signal;

/**
 * Whether a regulated circuit holds its output in a steady state. It does where the loop decides: where the control voltage has a
 * say in the length, the start or the presence of at least one pulse of the orbit. The mean of the output is then where the loop
 * wants it: with an integrator at the target to the last digits; without one, or where a comparator looks at a crest or a valley
 * of the ripple, beside it by an error that is of the design and no loss of regulation. It does not where something else
 * decides every pulse, unless the output is at its target all the same. Immutable.
 *
 * <pre>{@code
 * OutputRegulation asked = regulated.steadyState().regulation().orElseThrow();
 * boolean held = asked.inRegulation(); // true
 * OutputRegulation tooMuch = regulated.withReference(3).steadyState().regulation().orElseThrow(); // 15 V from 12 V
 * String limiter = tooMuch.heldBy().orElseThrow().key(); // "maximum_duty_cycle"
 * }</pre>
 *
 * @param target output voltage that is aimed at, by magnitude, V
 * @param error mean output voltage less the target, by magnitude of the output, V
 * @param heldBy what holds the output away from its target; empty where the loop decides
 * @param controlLimits between which values the control voltage is held, and where they come from
 */
public record OutputRegulation(double target, double error, Optional<Limiter> heldBy, ControlLimits controlLimits) {
    /** An output that is off its target by less than this share is there: what a settled search leaves is far below. */
    private static final double THERE = 1e-9;

    /**
     * Looks at a steady state.
     *
     * @param orbit the steady state of a regulated circuit
     * @param output the voltage that is regulated, positive
     * @param target what is aimed at, V
     * @param limits of the control voltage
     * @return what became of the output
     */
    public static OutputRegulation of(SteadyState orbit, Signal output, double target, ControlLimits limits) {
        double error = orbit.of(output).mean() - target;
        Optional<Limiter> limiter = Math.abs(error) <= THERE * target
                ? Optional.empty()
                : Limiter.decidingIn(orbit.circuit(), orbit.trajectory(), limits, error > 0)
                        .map(found -> isFed(found, error) && passes(orbit.circuit(), output, target)
                                ? Limiter.INPUT_VOLTAGE
                                : found);
        return new OutputRegulation(target, error, limiter, limits);
    }

    /** Whether what was found makes pulses as short as can be, or none, and the output is too high all the same. */
    private static boolean isFed(Limiter found, double error) {
        return switch (found) {
            case NO_LOAD_SKIP, MINIMUM_ON_TIME, CONTROL_LIMIT -> error > 0;
            case UNDERVOLTAGE_LOCKOUT, HICCUP, CURRENT_LIMIT, MAXIMUM_DUTY_CYCLE, INPUT_VOLTAGE -> false;
        };
    }

    /** Whether the input alone brings the output to its target, as that of a boost that is asked to go below it. */
    private static boolean passes(DrivenCircuit circuit, Signal output, double target) {
        Optional<DrivenCircuit> silent = circuit.withoutPulses();
        try {
            return silent.isPresent() && SteadyState.of(silent.get()).of(output).mean() > target * (1 - THERE);
        } catch (NoSteadyStateException e) {
            // nothing draws down what is stored, so there is no one output without pulses
            return false;
        }
    }

    /**
     * Returns whether the output is held.
     *
     * @return true unless something other than the loop holds it away from its target
     */
    public boolean inRegulation() {
        return heldBy.isEmpty();
    }

    @Override
    public String toString() {
        return heldBy.map(limiter -> "out of regulation: " + limiter.words()).orElse("in regulation");
    }
}
