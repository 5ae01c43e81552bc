package org.voltsecond.analysis;

import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.OrbitSearch.Orbit;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Watch;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * From where a steady state is sought, in which order, with how much effort, and what is said where none is found: first what
 * hangs on no start-up, then from rest, then from the end of longer and longer runs.
 */
final class SteadyStateSearch {
    /** The period map is run at most so often, twice as long each time, where Newton's method leads nowhere. */
    private static final int MOST_RUNS_AHEAD = 40;
    /** A regulated circuit has better ways. */
    private static final int FEW_RUNS_AHEAD = 6;
    /** Periods in which most circuits have settled, and some in which slow ones have. */
    private static final int FIRST_RUN = 1000;

    private static final int LONGEST_RUN = 8000;
    private static final int GROWTH = 8;
    /** Some seconds of processor time: a step takes from half a microsecond to a few. */
    private static final long MOST_STEPS = 5_000_000;

    private final DrivenCircuit circuit;
    private final int periods;
    private final OrbitSearch search;

    SteadyStateSearch(DrivenCircuit circuit, int periods) {
        this.circuit = circuit;
        this.periods = periods;
        search = new OrbitSearch(circuit, periods);
    }

    /** The orbit of a circuit of which nothing else is known. */
    Orbit find() {
        return bounded(() -> {
            RegulatedStart start = new RegulatedStart(circuit, state -> search.newton(state, 0));
            Orbit found = periods == 1 ? start.orbit() : null;
            found = found == null ? search.newton(circuit.restState(), runsAhead()) : found;
            found = found == null && circuit.isRegulated() ? afterRuns() : found;
            if (found == null) {
                throw LongRun.of(circuit, periods, search.sound()).failure(what(), start.miss());
            }
            return found;
        });
    }

    /** The orbit that is found from a state. */
    Orbit from(double[] start) {
        return bounded(() -> {
            Orbit found = search.newton(start, runsAhead());
            if (found == null) {
                LongRun becomes = LongRun.of(circuit, periods, search.sound());
                throw becomes.failure(what(), RegulatedStart.missOf(circuit));
            }
            return found;
        });
    }

    /** The orbit that a run comes near to, which is longer and longer; null if it comes near none. */
    private @Nullable Orbit afterRuns() {
        Orbit found = null;
        for (int more = FIRST_RUN; found == null && more <= LONGEST_RUN; more *= GROWTH) {
            Watch.doing("steady state: a run of " + more + " periods");
            double[] end = search.run(search.sound(), more);
            found = search.newton(end, 0);
        }
        return found;
    }

    private int runsAhead() {
        return circuit.isRegulated() ? FEW_RUNS_AHEAD : MOST_RUNS_AHEAD;
    }

    /** A search that ends after a number of steps of simulation that is the same on any machine. */
    private Orbit bounded(Supplier<Orbit> how) {
        Watch.doing("steady state");
        Watch watch = Watch.of().withSteps(MOST_STEPS);
        try {
            return watch.over(how);
        } catch (Watch.Stopped e) {
            if (!e.isBy(watch)) {
                throw e;
            }
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.EFFORT_IS_SPENT,
                    "no periodic steady state of " + what() + " was found in " + MOST_STEPS
                            + " steps of simulation, after which the search was given up; run a transient to see what the "
                            + "circuit does");
        }
    }

    /** Put into words only where a search fails: that takes as long as the search. */
    private String what() {
        return circuit.isClocked()
                ? Quantity.brief(periods * circuit.clockPeriod(), Unit.SECOND)
                : periods + (periods == 1 ? " cycle" : " cycles");
    }
}
