package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.SwitchingException;

/** What becomes of a circuit in the long run, as far as its states after every period tell. */
final class LongRun {
    private static final int RETURNS = 64;
    /** States closer than this share of the largest count as the same. */
    private static final double SAME = 1e-6;

    private static final double GROWN = 4;

    private final double[] scale;
    private final List<double[]> states = new ArrayList<>();
    private String stopped = "";

    private LongRun(double[] scale) {
        this.scale = scale;
    }

    /**
     * Runs on from a state.
     *
     * @param map from one return to the next
     * @param start where to start
     * @param scale makes states comparable
     */
    static LongRun of(PeriodMap map, double[] start, double[] scale) {
        LongRun run = new LongRun(scale);
        run.states.add(start);
        try {
            for (int k = 0; k < RETURNS; k++) {
                run.states.add(map.apply(run.states.get(k)));
            }
        } catch (SwitchingException e) {
            run.stopped = String.valueOf(e.getMessage());
        }
        return run;
    }

    /** The failure of a search for an orbit that takes a number of periods, which {@code what} names. */
    NoSteadyStateException failure(String what, String trouble) {
        String first = "no periodic steady state of " + what + " was found: " + trouble;
        if (!stopped.isEmpty()) {
            return new NoSteadyStateException(
                    NoSteadyStateException.Reason.STOPS, first + "a run on the way could not go on (" + stopped + ")");
        }
        int returns = repeatsAfter();
        if (returns > 1) {
            return new NoSteadyStateException(
                    NoSteadyStateException.Reason.REPEATS_LATER,
                    first + "the circuit comes back to the same state only after " + returns
                            + " times as long; look for an orbit of that many periods");
        }
        if (size(RETURNS) > GROWN * size(RETURNS / 2)) {
            return new NoSteadyStateException(
                    NoSteadyStateException.Reason.GROWS,
                    first
                            + "the state grows from period to period; add the load, the resistance or the limit that holds it");
        }
        return new NoSteadyStateException(
                NoSteadyStateException.Reason.WANDERS,
                first + "the state comes back neither at once nor after a few times as long, as in chaos or where it "
                        + "settles too slowly; run a transient to see what the circuit does");
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
        double sum = 0;
        for (int i = 0; i < scale.length; i++) {
            sum += Math.abs(scale[i] * states.get(index)[i]);
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
