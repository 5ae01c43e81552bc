package org.voltsecond.analysis;

import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.voltsecond.control.DrivenCircuit;

/**
 * The derivatives of a periodic steady state with respect to the values of parts and the times of the drive, worked out
 * from that one orbit: no nearby circuit is simulated and nothing is differenced.
 *
 * <p>Where the order of events is about to change (at the boundary of conduction, say) the derivative jumps; the one
 * given is that of the order that the orbit has. Safe to use from any thread.
 *
 * <pre>{@code
 * Sensitivities derivatives = steady.periodic().sensitivities();
 * Sensitivity byDutyCycle = derivatives.to(Parameter.dutyCycle());
 * double output = byDutyCycle.mean(rail.outputVoltage()); // 11.91 V for a duty cycle from 0 to 1
 * }</pre>
 */
public final class Sensitivities {
    private final SteadyState steady;
    private final ConcurrentMap<Parameter, Sensitivity> known = new ConcurrentHashMap<>();

    private Sensitivities(SteadyState steady) {
        this.steady = steady;
    }

    /**
     * Prepares the derivatives of a steady state.
     *
     * @param steady the steady state of a circuit whose gates have fixed drives or a controller, and whose sources are
     *     constant
     * @return the derivatives; where a controller drives the circuit, its own values stay as they are
     * @throws IllegalArgumentException if nothing drives the circuit, or a source changes with time
     */
    public static Sensitivities of(SteadyState steady) {
        DrivenCircuit driven = steady.circuit();
        boolean isDriven =
                !driven.gates().isEmpty() || !driven.controlChannels().isEmpty();
        if (!isDriven || !driven.sourceStates().isEmpty()) {
            throw new IllegalArgumentException(
                    "derivatives by part values are those of a circuit with driven switches and constant sources; its "
                            + "driven gates were " + driven.gates().keySet() + ", its sources that change with time "
                            + driven.sourceStates() + "; leave the ripple out, or drive a switch");
        }
        return new Sensitivities(steady);
    }

    /**
     * Returns the derivatives by one parameter.
     *
     * @param parameter the value of a part, or a time of the drive
     * @return the derivatives of everything that can be measured
     * @throws IllegalArgumentException if the circuit has no such part, or the part no such value, or a controller decides
     *     on the times of the drive
     * @throws UnsupportedOperationException if the parameter is one of the controller and there is none with such a value
     * @throws NoSteadyStateException if some state never comes back of itself, so that a change of the value has no steady
     *     state of its own
     */
    public Sensitivity to(Parameter parameter) {
        boolean ofDrive = parameter.kind() == Parameter.Kind.DUTY_CYCLE || parameter.kind() == Parameter.Kind.FREQUENCY;
        if (ofDrive && steady.circuit().gates().isEmpty()) {
            throw new IllegalArgumentException(
                    "there is no derivative by the " + parameter
                            + " since a controller decides on it; give the switch a fixed drive, or choose the value of a part");
        }
        return known.computeIfAbsent(parameter, key -> new OrbitDerivative(steady, key, true).sensitivity());
    }

    /**
     * Returns the derivatives by one parameter towards smaller values. They are those of {@link #to} but where edges that move with
     * the duty cycle fall upon edges that stay, as at a duty cycle of one half of interleaved phases: then the figures may
     * have a kink there, with one derivative towards larger values and another one towards smaller ones.
     *
     * @param parameter the value of a part, or a time of the drive
     * @return the derivatives of everything that can be measured
     * @throws IllegalArgumentException as {@link #to}
     * @throws NoSteadyStateException as {@link #to}
     */
    public Sensitivity downwards(Parameter parameter) {
        return parameter.kind() == Parameter.Kind.DUTY_CYCLE
                        && !steady.circuit().gates().isEmpty()
                ? new OrbitDerivative(steady, parameter, false).sensitivity()
                : to(parameter);
    }
}
