package org.voltsecond.converter;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.stage.RoleNaming;

/** How a {@link Converter} runs, and what it comes to. */
abstract sealed class ConverterRuns extends ConverterSignals permits Converter {
    ConverterRuns(Blueprint values, @Nullable DrivenCircuit driven) {
        super(values, driven);
    }

    abstract Converter finished();

    /**
     * Finds the periodic steady state; that of a regulated converter is the one after its soft start. Where no clock drives
     * the regulator, its period is that of the cycle in which it runs freely, from the start of a pulse to the next. Under a
     * line ripple it is a whole number of switching periods and of periods of the ripple.
     *
     * @return the steady state, which may be unstable
     * @throws NoSteadyStateException if there is none, or none was found; the message says why
     */
    public final ConverterSteadyState steadyState() {
        return new ConverterSteadyState(finished(), OrbitOfStage.of(values, driven()));
    }

    /**
     * Finds a steady state that takes several periods of the clock, as there is after a period doubling: what the converter
     * settles to from rest is followed until it comes back to the same state after that many periods and not before.
     *
     * @param periods how many periods of the clock, or cycles where there is none; under a line ripple, how many times the
     *     period of {@link #steadyState()}; at least 1
     * @return the steady state, which may be unstable; its period is that of the whole orbit
     * @throws NoSteadyStateException if none was found; the message says what the converter does instead
     * @throws IllegalArgumentException if the number is not at least 1
     */
    public final ConverterSteadyState steadyState(int periods) {
        return new ConverterSteadyState(finished(), OrbitOfStage.of(values, driven(), periods));
    }

    /**
     * Finds the periodic steady state close to one of a converter that hardly differs, such as the same at another load:
     * quicker than {@link #steadyState()}, and of several steady states the one next to the other.
     *
     * @param neighbour the steady state from which the search starts, of a converter of the same kind
     * @return the steady state, which may be unstable; if the search from there fails, that of {@link #steadyState()}
     * @throws NoSteadyStateException if there is none, or none was found; the message says why
     */
    public final ConverterSteadyState steadyStateNear(ConverterSteadyState neighbour) {
        return new ConverterSteadyState(finished(), OrbitOfStage.near(values, driven(), neighbour.periodic()));
    }

    /**
     * Runs from rest: no current in the inductor, no voltage at the output.
     *
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public final ConverterTransient startUp(double duration, Change... changes) {
        return transientFrom(driven().restState(), duration, List.of(changes));
    }

    /**
     * Runs from rest into an output that is charged already.
     *
     * @param outputVoltage voltage of the output capacitor at the start, V; negative of an inverting stage
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public final ConverterTransient startUpFrom(double outputVoltage, double duration, Change... changes) {
        double[] state = driven().restState();
        String charged = requiredRole(roles().outputCapacitor(), RoleNaming.Role.CAPACITOR);
        state[driven().stateNames().indexOf(charged)] = outputVoltage;
        return transientFrom(state, duration, List.of(changes));
    }

    /**
     * Runs from the periodic steady state, to see what steps do to it.
     *
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws NoSteadyStateException if there is no steady state to start from
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public final ConverterTransient transientFromSteadyState(double duration, Change... changes) {
        return transientFrom(steadyState(), duration, List.of(changes));
    }

    /**
     * Runs from the periodic steady state that was found before.
     *
     * @param start the steady state of this converter
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public final ConverterTransient transientFrom(ConverterSteadyState start, double duration, List<Change> changes) {
        SteadyState from = start.periodic();
        Converter running = values.started().equals(values) ? finished() : new Converter(values.started());
        return ConverterTransient.of(running, run -> run.stateFrom(from.circuit(), from.state()), duration, changes);
    }

    /**
     * Runs from any state.
     *
     * @param state the state at the start: currents, A, and voltages, V, in the order of the circuit's
     *     {@link Circuit#stateNames()}, inductor and output capacitor of a ready-made stage; a regulator then
     *     starts from rest, unless its states are given too, as {@link DrivenCircuit#stateNames()} lists them
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public final ConverterTransient transientFrom(double[] state, double duration, List<Change> changes) {
        return ConverterTransient.of(finished(), run -> completed(run, state), duration, changes);
    }

    /** A run may have states more, which are at rest at its start: those of sources that ramp. */
    private double[] completed(DrivenCircuit run, double[] state) {
        int stored = values.power().stateNames().size();
        if (state.length != stored && state.length != driven().stateNames().size()) {
            throw new IllegalArgumentException("the state at the start must have " + stored + " entries, or one for "
                    + "each of " + driven().stateNames() + ", but had " + state.length);
        }
        double[] result = run.restState();
        for (int i = 0; i < state.length; i++) {
            result[run.stateNames().indexOf(driven().stateNames().get(i))] = state[i];
        }
        return result;
    }
}
