package org.voltsecond.analysis;

import java.lang.ref.WeakReference;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.OrbitSearch.Orbit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Simulation;
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
    /** What rounding leaves of an entry of a derivative that is 1 or 0: a thousand units in the last place. */
    private static final double FREE = 1e-13;
    /** A mean below this share of a current is none. */
    private static final double NO_MEAN = 1e-14;
    /** The first pass takes the mean away; a second one what is left where other instants of switching follow. */
    private static final int MOST_PASSES = 3;

    /** The room that the last search took, for the next one if that is of the same circuit: whoever takes it has it alone. */
    private static final AtomicReference<@Nullable WeakReference<OrbitSearch>> LEFT = new AtomicReference<>();

    private final DrivenCircuit circuit;
    private final int periods;
    private final OrbitSearch search;
    private final WeakReference<OrbitSearch> room;

    SteadyStateSearch(DrivenCircuit circuit, int periods) {
        this.circuit = circuit;
        this.periods = periods;
        WeakReference<OrbitSearch> left = LEFT.getAndSet(null);
        OrbitSearch known = left == null ? null : left.get();
        if (left == null || known == null || known.circuit != circuit || known.periods != periods) {
            known = new OrbitSearch(circuit, periods);
            left = new WeakReference<>(known);
        }
        search = known;
        room = left;
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
            return withoutTrappedFlux(found);
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
            return withoutTrappedFlux(found);
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

    /**
     * Of steady states that differ by a flux which nothing drives or brings back, such as that of a transformer whose halves are
     * alike, the one in which its current has no mean. A charge that nothing drains stays as it was at the start.
     */
    private Orbit withoutTrappedFlux(Orbit found) {
        boolean[] trapped = trapped(found);
        Orbit centred = found;
        for (int pass = 0; pass < MOST_PASSES && trapped.length > 0; pass++) {
            double[] means = means(centred);
            double[] state = centred.state().clone();
            boolean moves = false;
            for (int j = 0; j < trapped.length; j++) {
                if (trapped[j] && Math.abs(means[j]) > NO_MEAN * Math.abs(state[j])) {
                    state[j] -= means[j];
                    moves = true;
                }
            }
            Orbit next = moves ? search.newton(state, 0) : null;
            if (next == null) {
                return centred; // there already, or the family ends on the way
            }
            centred = next;
        }
        return centred;
    }

    /** The coils whose current stays as it is set, and shows nowhere else; empty if there is none. */
    private boolean[] trapped(Orbit orbit) {
        double[][] derivative = orbit.derivative();
        int n = derivative.length;
        boolean @Nullable [] trapped = null;
        for (int j = 0; j < n; j++) {
            if (isUnit(derivative, j) && isCoil(circuit.stateNames().get(j))) {
                trapped = trapped == null ? new boolean[n] : trapped;
                trapped[j] = true;
            }
        }
        return trapped == null ? new boolean[0] : trapped;
    }

    private static boolean isUnit(double[][] derivative, int column) {
        boolean unit = true;
        for (int i = 0; i < derivative.length && unit; i++) {
            unit = Math.abs(derivative[i][column] - (i == column ? 1 : 0)) <= FREE;
        }
        return unit;
    }

    private boolean isCoil(String state) {
        int dot = state.indexOf('.');
        String part = dot < 0 ? state : state.substring(0, dot);
        return circuit.circuit().parts().stream()
                .anyMatch(each -> each.name().equals(part)
                        && (each instanceof Part.Inductor || each instanceof Part.CoupledInductors));
    }

    private double[] means(Orbit orbit) {
        int n = orbit.state().length;
        double span = circuit.isClocked() ? periods * circuit.clockPeriod() : orbit.period();
        double[] means = new double[n];
        for (Interval interval :
                Simulation.of(circuit.law()).record(orbit.state(), span).intervals()) {
            for (int j = 0; j < n; j++) {
                double[] row = new double[n];
                row[j] = 1;
                for (Piece piece : interval.pieces(AffineForm.of(row, 0))) {
                    means[j] += piece.integral() / span;
                }
            }
        }
        return means;
    }

    private int runsAhead() {
        return circuit.isRegulated() ? FEW_RUNS_AHEAD : MOST_RUNS_AHEAD;
    }

    /** A search that ends after a number of steps of simulation that is the same on any machine. */
    private Orbit bounded(Supplier<Orbit> how) {
        Watch.doing("steady state");
        Watch watch = Watch.of().withSteps(MOST_STEPS);
        try {
            Orbit found = watch.over(how);
            search.forget();
            LEFT.set(room);
            return found;
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
