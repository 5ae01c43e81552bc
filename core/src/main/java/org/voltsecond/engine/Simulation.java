package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;

/**
 * Runs a piecewise-affine system from a state on a clock edge. Same input, same bits, on any thread. Immutable; every
 * call is a run of its own.
 *
 * <pre>{@code
 * DrivenCircuit driven = rail.driven();
 * Simulation simulation = Simulation.of(driven.law());
 * Trajectory run = simulation.record(driven.restState(), micro(100)); // every interval is kept
 * double[] end = simulation.finalState(driven.restState(), 0.1); // only the end is: 30,000 periods
 * }</pre>
 */
public final class Simulation {
    private final SwitchingLaw law;

    private Simulation(SwitchingLaw law) {
        this.law = law;
    }

    /**
     * Returns a simulation of a system.
     *
     * @param law the system
     * @return the simulation
     */
    public static Simulation of(SwitchingLaw law) {
        return new Simulation(law);
    }

    /**
     * Runs and records one knot for each interval.
     *
     * @param state the state before the start, one entry for each state, SI units
     * @param duration how long to run, s; positive
     * @return the trajectory
     * @throws SwitchingException if the run cannot go on
     */
    public Trajectory record(double[] state, double duration) {
        return record(Source.of(law, state), duration);
    }

    /**
     * Runs and keeps nothing but the final state.
     *
     * @param state the state before the start, one entry for each state, SI units
     * @param duration how long to run, s; positive
     * @return the state at the end, just before anything that happens at that very instant
     * @throws SwitchingException if the run cannot go on
     */
    public double[] finalState(double[] state, double duration) {
        return run(state, endOf(duration), null);
    }

    /**
     * Runs and tells a listener of every interval; keeps nothing and allocates nothing for each interval.
     *
     * @param state the state before the start, one entry for each state, SI units
     * @param duration how long to run, s; positive
     * @param listener is told of every interval
     * @return the state at the end, just before anything that happens at that very instant
     * @throws SwitchingException if the run cannot go on
     */
    public double[] stream(double[] state, double duration, IntervalListener listener) {
        return run(state, endOf(duration), listener);
    }

    /**
     * Runs and tells a listener of every interval, those of no length included: phases that are entered and left in the
     * same instant, each with its jump. What leads from one state to the next is then told without a gap.
     *
     * @param state the state before the start, one entry for each state, SI units
     * @param duration how long to run, s; positive
     * @param listener is told of every interval
     * @return the state at the end, just before anything that happens at that very instant
     * @throws SwitchingException if the run cannot go on
     */
    public double[] streamAll(double[] state, double duration, IntervalListener listener) {
        return go(state, endOf(duration), new Run(law, listener, true, false));
    }

    Trajectory record(Source source, double duration) {
        ClockTime end = endOf(duration);
        Trajectory.Recorder recorder = new Trajectory.Recorder(source);
        return recorder.finish(end, go(source.initialState(), end, source.run(recorder)));
    }

    private ClockTime endOf(double duration) {
        if (!(duration > 0)) {
            throw new IllegalArgumentException("the duration of a run must be > 0 s but was " + duration + " s");
        }
        return ClockTime.from(duration, law.clockPeriod());
    }

    /** With a run of one's own. */
    double[] finalState(Run run, double[] state, double duration) {
        return go(state, endOf(duration), run);
    }

    private double[] run(double[] state, ClockTime end, @Nullable IntervalListener listener) {
        return go(state, end, new Run(law, listener, false, false));
    }

    private static double[] go(double[] state, ClockTime end, Run run) {
        run.start(state);
        run.until(end);
        double[] last = new double[state.length];
        run.copyStartState(last);
        return last;
    }

    /**
     * What a record is made from.
     *
     * @param stretch the intervals of a stretch, as {@link Run#STRETCH}
     * @param mostHeld how many intervals may stay at hand while others are run
     */
    record Source(SwitchingLaw law, double[] initialState, int stretch, int mostHeld) {
        /** A reader goes on, or back by little; some 5 MB. */
        private static final int HELD = 1 << 16;

        static Source of(SwitchingLaw law, double[] initialState) {
            return new Source(law, initialState.clone(), Run.STRETCH, HELD);
        }

        Run run(@Nullable IntervalListener listener) {
            return new Run(law, listener, false, false, stretch);
        }
    }
}
