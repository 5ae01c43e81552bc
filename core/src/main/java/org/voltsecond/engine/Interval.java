package org.voltsecond.engine;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One interval of a trajectory: the time between two switching instants, in which one configuration holds. Everything
 * within it is worked out again from the state at its start. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Interval on = steady.periodic().trajectory().interval(0);
 * double length = on.duration(); // 1.5 µs
 * double[] middle = on.stateAt(0.5 * on.duration()); // inductor current, capacitor voltage
 * double current = middle[0]; // 2.010 A
 * }</pre>
 */
public final class Interval {
    private final Trajectory trajectory;
    private final int index;

    Interval(Trajectory trajectory, int index) {
        this.trajectory = trajectory;
        this.index = index;
    }

    /**
     * Returns the position in the trajectory.
     *
     * @return the index, from 0
     */
    public int index() {
        return index;
    }

    /**
     * Returns the phase that lasted.
     *
     * @return the phase
     */
    public Phase phase() {
        return trajectory.phase(index);
    }

    /**
     * Returns the configuration that held.
     *
     * @return the configuration
     */
    public Configuration configuration() {
        return phase().configuration();
    }

    /**
     * Returns when the interval starts, as a clock edge and the time since.
     *
     * @return the instant
     */
    public ClockTime startTime() {
        return trajectory.startTime(index);
    }

    /**
     * Returns the time between the last clock edge and the start of the interval.
     *
     * @return the time, s
     */
    public double sinceTick() {
        return startTime().sinceTick();
    }

    /**
     * Returns when the interval starts.
     *
     * @return time since the start of the run, s
     */
    public double start() {
        return startTime().seconds(trajectory.clockPeriod());
    }

    /**
     * Returns how long the interval lasts.
     *
     * @return the duration, s; more than 0
     */
    public double duration() {
        return trajectory.duration(index);
    }

    /**
     * Returns when the interval ends.
     *
     * @return time since the start of the run, s
     */
    public double end() {
        return trajectory.endOf(index);
    }

    /**
     * Returns how the state jumped into the interval.
     *
     * @return the jump; null if it did not
     */
    public @Nullable AffineMap jump() {
        return trajectory.jump(index);
    }

    /**
     * Returns why the interval ended.
     *
     * @return the cause; null if the run ended with it
     */
    public @Nullable Cause cause() {
        return trajectory.cause(index);
    }

    /**
     * Returns the state just after the start.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] startState() {
        double[] state = new double[flow().n];
        flow().scaling.toState(trajectory.scaledStart(index), state);
        return state;
    }

    /**
     * Returns the state just before the end.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] endState() {
        return stateAt(duration());
    }

    /**
     * Returns the state within the interval.
     *
     * @param sinceStart time since the start of the interval, s; 0 to its duration
     * @return one entry for each state, SI units, a new array
     */
    public double[] stateAt(double sinceStart) {
        double[] scaled = new double[flow().n];
        Walk.stateAfter(flow(), trajectory.scaledStart(index), checked(sinceStart), scaled);
        double[] state = new double[scaled.length];
        flow().scaling.toState(scaled, state);
        return state;
    }

    private double checked(double sinceStart) {
        if (!(sinceStart >= 0 && sinceStart <= duration())) {
            throw new IllegalArgumentException(
                    "a time within the interval must be from 0 s to " + duration() + " s but was " + sinceStart + " s");
        }
        return sinceStart;
    }

    /**
     * Evaluates a form within the interval.
     *
     * @param form an affine form over the states
     * @param sinceStart time since the start of the interval, s; 0 to its duration
     * @return the value
     */
    public double valueAt(AffineForm form, double sinceStart) {
        return form.valueAt(stateAt(sinceStart), sinceTick() + sinceStart);
    }

    /**
     * Returns a form over the interval as polynomials, exact to round-off. All forms of one interval come in pieces of
     * the same spans.
     *
     * @param form an affine form over the states
     * @return the pieces in order of time: one, or more where the interval is long or stiff
     */
    public List<Piece> pieces(AffineForm form) {
        return pieces(List.of(form)).get(0);
    }

    /** The pieces of several forms: a long interval is walked through once for all of them. */
    private List<List<Piece>> pieces(List<AffineForm> forms) {
        double[] start = trajectory.scaledStart(index);
        if (duration() <= flow().base) {
            return forms.stream()
                    .map(form -> List.of(flow().piece(start, form, start(), sinceTick(), duration())))
                    .toList();
        }
        List<GuardRows> rows =
                forms.stream().map(form -> GuardRows.of(flow(), form)).toList();
        List<List<Piece>> pieces = new ArrayList<>();
        forms.forEach(form -> pieces.add(new ArrayList<>()));
        Walk walk = new Walk(flow());
        walk.begin(start, duration());
        while (walk.next()) {
            for (int i = 0; i < rows.size(); i++) {
                double[] coefficients = new double[Math.max(2, walk.terms())];
                walk.polynomial(rows.get(i), sinceTick(), coefficients);
                rescale(coefficients, walk.length / walk.unit());
                pieces.get(i).add(Piece.ofUnsafe(start() + walk.offset, walk.length, coefficients));
            }
        }
        return pieces;
    }

    /**
     * Returns the integrals over the interval of all products of two of the states, one, and the time since the last
     * clock edge. From them follows the integral of the product of any two forms, a power for example.
     *
     * @return symmetric; row and column i below the dimension stand for state i (SI units), the next for the constant 1,
     *     the last for the time since the clock edge (s)
     */
    public double[][] secondMoments() {
        boolean[] wanted = new boolean[flow().n + 2];
        Arrays.fill(wanted, true);
        return secondMoments(wanted);
    }

    /**
     * Returns the same integrals, of products of wanted factors alone.
     *
     * @param wanted one entry for each state, for the constant 1 and for the time since the clock edge: whether it is to be a
     *     factor
     * @return as {@link #secondMoments()}, zero where a factor is not wanted
     */
    public double[][] secondMoments(boolean[] wanted) {
        int n = flow().n;
        List<AffineForm> forms = new ArrayList<>();
        int[] places = new int[n + 2];
        for (int i = 0; i < n + 2; i++) {
            if (wanted[i]) {
                double[] unit = new double[n];
                if (i < n) {
                    unit[i] = 1;
                }
                places[forms.size()] = i;
                forms.add(AffineForm.of(unit, i == n ? 1 : 0, i == n + 1 ? 1 : 0));
            }
        }
        List<List<Piece>> factors = pieces(forms);
        double[][] moments = new double[n + 2][n + 2];
        for (int i = 0; i < factors.size(); i++) {
            for (int j = i; j < factors.size(); j++) {
                double sum = 0;
                for (int p = 0; p < factors.get(i).size(); p++) {
                    sum += factors.get(i)
                            .get(p)
                            .integralOfProduct(factors.get(j).get(p));
                }
                moments[places[i]][places[j]] = sum;
                moments[places[j]][places[i]] = sum;
            }
        }
        return moments;
    }

    private static void rescale(double[] coefficients, double ratio) {
        double power = 1;
        for (int k = 0; k < coefficients.length; k++) {
            coefficients[k] *= power;
            power *= ratio;
        }
    }

    private Flow flow() {
        return configuration().flow();
    }

    @Override
    public String toString() {
        return configuration().name() + " from " + start() + " s for " + duration() + " s";
    }
}
