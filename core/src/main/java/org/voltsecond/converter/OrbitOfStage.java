package org.voltsecond.converter;

import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;

/** Finds the steady state of a stage; of a regulated one also by way of its own start-up, which its soft start guides. */
final class OrbitOfStage {
    private static final int FIRST_PERIODS = 500;
    private static final int MOST_PERIODS = 1 << 16;
    private static final int GROWTH = 8;

    private OrbitOfStage() {}

    static SteadyState of(DrivenCircuit driven, boolean regulated) {
        DrivenCircuit running = driven.running();
        try {
            return SteadyState.of(running);
        } catch (NoSteadyStateException e) {
            if (!regulated) {
                throw e;
            }
            return afterStartUp(driven, running, e);
        }
    }

    /** Trial states of a search from rest may be such as the circuit cannot run from; those of its start-up are not. */
    private static SteadyState afterStartUp(DrivenCircuit driven, DrivenCircuit running, NoSteadyStateException first) {
        for (int periods = FIRST_PERIODS; periods <= MOST_PERIODS; periods *= GROWTH) {
            try {
                double[] end =
                        Simulation.of(driven.law()).finalState(driven.restState(), periods * driven.clockPeriod());
                return SteadyState.of(running, running.stateFrom(driven, end), 1);
            } catch (NoSteadyStateException | SwitchingException e) {
                first.addSuppressed(e);
            }
        }
        throw first;
    }
}
