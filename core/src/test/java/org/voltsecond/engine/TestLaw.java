package org.voltsecond.engine;

import java.util.List;
import java.util.function.Function;

/** A system put together from functions, for tests. */
record TestLaw(
        double[] scale,
        double clockPeriod,
        List<ClockTime> changes,
        Function<double[], Entry> opening,
        Succession succession)
        implements SwitchingLaw {

    /** Which phase follows. */
    interface Succession {
        Entry next(Phase ended, Cause cause, double[] state, double sinceTick);
    }

    /** One configuration for ever, in intervals of one clock period. */
    static TestLaw single(Configuration configuration, double[] scale, double clockPeriod) {
        Phase phase = new Phase(configuration, clockPeriod, Double.POSITIVE_INFINITY);
        return new TestLaw(
                scale, clockPeriod, List.of(), state -> Entry.of(phase), (ended, cause, state, t) -> Entry.of(phase));
    }

    /** Phases that follow each other in a ring, whatever ends them. */
    static TestLaw ring(double[] scale, double clockPeriod, List<Phase> phases) {
        return new TestLaw(
                scale,
                clockPeriod,
                List.of(),
                state -> Entry.of(phases.get(0)),
                (ended, cause, state, t) -> Entry.of(phases.get((phases.indexOf(ended) + 1) % phases.size())));
    }

    TestLaw withChanges(List<ClockTime> instants) {
        return new TestLaw(scale, clockPeriod, instants, opening, succession);
    }

    @Override
    public Entry first(double[] state) {
        return opening.apply(state);
    }

    @Override
    public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
        return succession.next(ended, cause, state, sinceTick);
    }

    /** A scale of ones. */
    static double[] ones(int dimension) {
        double[] ones = new double[dimension];
        java.util.Arrays.fill(ones, 1);
        return ones;
    }

    /** A configuration with unit scale. */
    static Configuration configuration(String name, double clockPeriod, double[][] a, double[] b, List<Guard> guards) {
        return Configuration.builder(name, ones(b.length), clockPeriod)
                .dynamics(a, b)
                .guards(guards)
                .build();
    }

    /** The guard {@code x_state >= level}. */
    static Guard above(int dimension, int state, double level) {
        double[] factors = new double[dimension];
        factors[state] = 1;
        return new Guard("state " + state + " above " + level, AffineForm.of(factors, -level));
    }

    /** The guard {@code x_state <= level}. */
    static Guard below(int dimension, int state, double level) {
        double[] factors = new double[dimension];
        factors[state] = -1;
        return new Guard("state " + state + " below " + level, AffineForm.of(factors, level));
    }
}
