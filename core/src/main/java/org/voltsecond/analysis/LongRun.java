package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.analysis.NoSteadyStateException.Reason;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.IntervalListener;
import org.voltsecond.engine.IntervalView;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Watch;
import org.voltsecond.numeric.Matrices;

/**
 * What becomes of a circuit in the long run, as far as its states after every period tell. Whatever is said was seen in the
 * run: that states repeat, that they move on by the same amount, that periods pass without a pulse.
 */
final class LongRun {
    private static final int RETURNS = 64;
    /** States closer than this share of the largest count as the same. */
    private static final double SAME = 1e-6;

    /** Changes from period to period that differ by less than this share of them are the same. */
    private static final double SAME_CHANGE = 1e-3;

    private static final double GROWN = 4;
    private static final String TRY = "; run a transient to see what the circuit does";

    private final double[] scale;
    private final boolean regulated;
    private final List<double[]> states = new ArrayList<>();
    private String stopped = "";
    /** Whether in a direction in which nothing brings the state back the balances are not met. */
    private boolean drifts;

    /** By how much a small difference of the state grows in the second half of the run. */
    private double growth = Double.NaN;

    /** How many of the periods had a pulse; all of them where that is not counted. */
    private int pulses = RETURNS;

    private LongRun(double[] scale, boolean regulated) {
        this.scale = scale;
        this.regulated = regulated;
    }

    /** Runs on from a state, from one return of so many periods to the next. */
    static LongRun of(DrivenCircuit circuit, int periods, double[] start) {
        Watch.doing("what becomes of the circuit in the long run");
        LongRun run = new LongRun(circuit.law().scale(), circuit.isRegulated());
        PeriodMap map = circuit.isClocked()
                ? PeriodMap.of(circuit.law(), periods)
                : PeriodMap.returning(circuit.law(), periods, circuit::opensCycle);
        run.states.add(start);
        try {
            for (int k = 0; k < RETURNS; k++) {
                run.states.add(map.apply(run.states.get(k)));
            }
            run.growth = run.growth(circuit.isClocked() ? PeriodMap.withDerivative(circuit.law(), periods) : map);
            if (circuit.isClocked()) {
                PeriodMap exact = PeriodMap.withDerivative(circuit.law(), periods);
                boolean free = exact.stepFrom(run.states.get(RETURNS)).length == 0;
                run.drifts = free && exact.imbalance() > SAME;
            }
            if (circuit.isClocked() && circuit.isRegulated() && periods == 1) {
                PulseCount count = new PulseCount(circuit);
                Simulation.of(circuit.law()).stream(start, RETURNS * circuit.clockPeriod(), count);
                run.pulses = count.periods;
            }
        } catch (SwitchingException e) {
            run.stopped = String.valueOf(e.getMessage());
        }
        return run;
    }

    /** Follows a small difference by the derivatives along the run; in the first half it turns to where it grows most. */
    private double growth(PeriodMap map) {
        double[] difference = new double[scale.length];
        for (int i = 0; i < scale.length; i++) {
            difference[i] = 1 / scale[i];
        }
        double growth = 1;
        for (int k = 0; k < RETURNS; k++) {
            map.apply(states.get(k));
            double before = size(difference);
            difference = Matrices.multiply(Matrices.flatten(map.derivative()), difference);
            double factor = size(difference) / before;
            if (factor == 0) {
                return 0;
            }
            for (int i = 0; i < scale.length; i++) {
                difference[i] /= factor;
            }
            growth *= k < RETURNS / 2 ? 1 : factor;
        }
        return growth;
    }

    /** Counts the periods in which there is a pulse. */
    private static final class PulseCount implements IntervalListener {
        private final DrivenCircuit circuit;
        private long last = -1;
        private int periods;

        PulseCount(DrivenCircuit circuit) {
            this.circuit = circuit;
        }

        @Override
        public void onInterval(IntervalView interval) {
            if (interval.tick() > last && circuit.pulses(interval.phase())) {
                last = interval.tick();
                periods++;
            }
        }
    }

    /**
     * The failure of a search for an orbit.
     *
     * @param what how long the orbit was to take
     * @param miss why a regulator cannot have what it aims at; empty if that is not known
     */
    NoSteadyStateException failure(String what, String miss) {
        String first = "no periodic steady state of " + what + " was found: ";
        if (!stopped.isEmpty()) {
            return new NoSteadyStateException(
                    Reason.STOPS, first + "a run on the way could not go on (" + stopped + ")");
        }
        if (drifts && movesOn()) {
            return drift(first, what, miss);
        }
        int returns = repeatsAfter();
        if (returns > 1) {
            return new NoSteadyStateException(
                    Reason.REPEATS_LATER,
                    returns,
                    first + "the circuit comes back to the same state only after " + returns + " times as long"
                            + (pulses < RETURNS ? ", since the regulator leaves pulses out" : "")
                            + "; look for an orbit of that many periods");
        }
        if (size(RETURNS) > GROWN * size(RETURNS / 2)) {
            return new NoSteadyStateException(
                    Reason.GROWS,
                    first
                            + "the state grows from period to period; add the load, the resistance or the limit that holds it");
        }
        if (pulses < RETURNS) {
            return new NoSteadyStateException(
                    Reason.SKIPS_PULSES,
                    first + "the regulator leaves pulses out (of " + RETURNS + " periods " + pulses
                            + " had one), and the state does not repeat; run a transient to see what the circuit does");
        }
        if (returns == 1) {
            return new NoSteadyStateException(
                    Reason.TAKES_LONG,
                    first
                            + "a period changes the state by less than a millionth, but none was found that comes back exactly: "
                            + "it settles too slowly, or near a kink" + TRY);
        }
        String seen = first + "the state comes back neither at once nor after a few times as long, ";
        if (growth < 1) {
            return new NoSteadyStateException(
                    Reason.TAKES_LONG,
                    seen
                            + "yet small differences die away, so that this is no chaos: it settles too slowly, or comes back only "
                            + "after very many periods" + TRY);
        }
        return new NoSteadyStateException(
                Reason.WANDERS,
                seen
                        + (growth > GROWN
                                ? "and small differences grow " + String.format(Locale.ROOT, "%.2g", growth)
                                        + "-fold in " + RETURNS / 2 + " times as long, as in chaos"
                                : "as in chaos or where it settles too slowly")
                        + TRY);
    }

    private NoSteadyStateException drift(String first, String what, String miss) {
        if (!miss.isEmpty()) {
            return new NoSteadyStateException(
                    Reason.AT_LIMIT,
                    first + miss
                            + ", and nothing holds its control voltage, which goes on and on: give it limits, or change "
                            + "the reference, the input or the load");
        }
        String why = regulated
                ? "something is fed and never drained, such as an integrator without a limit"
                : "the switch or the load never lets it come back: change the duty cycle, or add the resistance or the load "
                        + "that limits it";
        return new NoSteadyStateException(
                Reason.DRIFTS, first + "in every " + what + " the state drifts by the same amount (" + why + ")");
    }

    /** Whether the state changes by the same amount in every period of the second half. */
    private boolean movesOn() {
        double[] change = change(RETURNS);
        double size = size(change);
        for (int k = RETURNS / 2; k < RETURNS; k++) {
            double[] other = change(k);
            for (int i = 0; i < scale.length; i++) {
                other[i] -= change[i];
            }
            if (!(size(other) <= SAME_CHANGE * size)) {
                return false;
            }
        }
        return size > 0;
    }

    private double[] change(int index) {
        double[] change = states.get(index).clone();
        for (int i = 0; i < scale.length; i++) {
            change[i] -= states.get(index - 1)[i];
        }
        return change;
    }

    /** After how many returns the states repeat; 0 if they do not within half of them. */
    private int repeatsAfter() {
        for (int period = 1; 2 * period <= RETURNS; period++) {
            boolean repeats = true;
            for (int k = RETURNS / 2; repeats && k + period <= RETURNS; k++) {
                repeats = distance(k, k + period) <= SAME * size(k);
            }
            if (repeats) {
                return period;
            }
        }
        return 0;
    }

    private double size(int index) {
        return size(states.get(index));
    }

    private double size(double[] state) {
        double sum = 0;
        for (int i = 0; i < scale.length; i++) {
            sum += Math.abs(scale[i] * state[i]);
        }
        return sum;
    }

    private double distance(int first, int second) {
        double sum = 0;
        for (int i = 0; i < scale.length; i++) {
            sum += Math.abs(scale[i] * (states.get(first)[i] - states.get(second)[i]));
        }
        return sum;
    }
}
