package org.voltsecond.converter;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;

/** Finds the steady state of a stage; of a regulated one also by way of its own start-up, which its soft start guides. */
final class OrbitOfStage {
    private static final int FIRST_PERIODS = 500;
    private static final int MOST_PERIODS = 1 << 16;
    private static final int GROWTH = 8;

    private final DrivenCircuit driven;
    private final DrivenCircuit running;

    private OrbitOfStage(DrivenCircuit driven) {
        this.driven = driven;
        this.running = driven.running();
    }

    static SteadyState of(DrivenCircuit driven, boolean regulated) {
        OrbitOfStage orbit = new OrbitOfStage(driven);
        if (!regulated) {
            return SteadyState.of(orbit.running);
        }
        return driven.isClocked() ? orbit.clocked() : orbit.afterStartUp(null);
    }

    private SteadyState clocked() {
        try {
            return SteadyState.of(running);
        } catch (NoSteadyStateException e) {
            return afterStartUp(e);
        }
    }

    /**
     * Trial states of a search from rest may be such as the circuit cannot run from; those of its start-up are not. Without
     * a clock the cycles of a start-up last much longer than those of the steady state, so that only its end is near it.
     *
     * @param first why an earlier search failed; null if this is the first
     */
    private SteadyState afterStartUp(@Nullable NoSteadyStateException first) {
        NoSteadyStateException failure = first;
        for (int periods = FIRST_PERIODS; periods <= MOST_PERIODS; periods *= GROWTH) {
            double[] start;
            try {
                start = endOfStartUp(periods);
            } catch (SwitchingException e) {
                // a longer run would stop at the same place
                throw joined(failure, stopped(e));
            }
            try {
                return SteadyState.of(running, start, 1);
            } catch (NoSteadyStateException e) {
                failure = joined(failure, e);
            } catch (SwitchingException e) {
                failure = joined(failure, stopped(e));
            }
        }
        throw Objects.requireNonNull(failure, "at least one search has failed");
    }

    private static NoSteadyStateException stopped(SwitchingException e) {
        return new NoSteadyStateException(
                "no periodic steady state was found since a run on the way to it could not go on: " + e.getMessage(),
                e);
    }

    private static NoSteadyStateException joined(@Nullable NoSteadyStateException first, NoSteadyStateException next) {
        if (first == null) {
            return next;
        }
        first.addSuppressed(next);
        return first;
    }

    /** Without a clock the begin of the first cycle after that many typical periods. */
    private double[] endOfStartUp(int periods) {
        double[] end = Simulation.of(driven.law()).finalState(driven.restState(), periods * driven.clockPeriod());
        double[] state = running.stateFrom(driven, end);
        return driven.isClocked()
                ? state
                : PeriodMap.returning(running.law(), 1, running::opensCycle).apply(state);
    }
}
