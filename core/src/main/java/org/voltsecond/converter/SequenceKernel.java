package org.voltsecond.converter;

import java.util.Arrays;
import java.util.List;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.numeric.AffineTaylor;
import org.voltsecond.numeric.Bernstein;
import org.voltsecond.numeric.BroydenSteps;
import org.voltsecond.numeric.UnitPolynomial;

/**
 * The periodic orbit of any circuit whose regimes follow each other in a known order, for studies of very many values: a named
 * numeric kernel. Unknown are the state as the period begins and, where an output is held, the duty cycle; both by Newton's method
 * from a guess, the derivative taken once as long as that leads there fast. Every regime is one or a few Taylor polynomials to
 * round-off, in states scaled to energy. The order is proven on these polynomials: what each device needs to stay as it is holds
 * all through the regime, by the least of the Bernstein coefficients, once its zero at the beginning or end is divided out. What
 * is not certain is left to the engine. One instance serves one thread.
 */
final class SequenceKernel {
    /** How a step ends. */
    static final int WITH_PULSE = -1;

    static final int WITH_PERIOD = -2;

    private static final int MOST_DEGREE = OrbitCurves.HIGHEST_DEGREE;
    /** So large may the norm of the dynamics over one polynomial be, whose terms then lose one digit at most. */
    private static final double LONGEST = 3;
    /** Polynomials in a row for one regime; what is stiffer is quicker by the engine. */
    private static final int MOST_PIECES = 8;

    private static final int MOST_PASSES = 24;
    /** Steps that are no nearer than by this factor ask for the derivative where they have come to. */
    private static final double LEAST_GAIN = 0.3;

    private static final int MOST_DERIVATIVES = 6;
    /** A state is right to this share of its size, and to {@link #SETTLED} where rounding lets it come no nearer. */
    private static final double EXACT = 1e-13;

    private static final double SETTLED = 2e-12;
    /** A state is not measured by less than this share of the largest. */
    private static final double SMALLEST_SHARE = 0x1p-30;
    /** What is as near as this to where it would not hold, in its own size, is not certain. */
    private static final double CERTAIN = 1e-9;
    /** A condition of this share of its terms is zero. */
    private static final double ZERO = 1e-11;

    private final int n;
    /** States and, after them, the integral of the output. */
    private final int rows;

    private final double[] scale;
    private final int[] ends;
    private final long[] changes;
    private double period;
    private double wanted;
    private boolean holds;
    private final double[][] rates;
    private final double[] norm;
    private final double[][] conditions;
    private final double[][] constraints;

    /** States that nothing moves once they have come to their place, such as that of a capacitor right across the source. */
    private final boolean[] rests;

    private final double[] start;
    private final double[] lengths;
    private double dutyCycle;
    private final double[] guess;
    private final double[] first;

    int pieces;
    final int[] step;
    final int[] degree;
    final double[] duration;
    /** Coefficients of the states in each piece: those of one power side by side. */
    final double[][] curves;

    private final double[] state;
    private final double[] residual;
    private final double[] extent;
    /** Derivative of the present state by the states at the start and by the duty cycle. */
    private final double[][] by;

    private final double[] timeBy;
    private final double[] rate;
    private final double[] column;
    private final BroydenSteps steps;
    private final double[] scratch = new double[MOST_DEGREE + 1];

    /**
     * @param scale of each state
     * @param ends how each step of the order ends: {@link #WITH_PULSE}, {@link #WITH_PERIOD}, or with a condition of its regime
     * @param changes bits of the conditions of those devices that act as a step ends by itself
     */
    SequenceKernel(double[] scale, int[] ends, long[] changes) {
        n = scale.length;
        rows = n + 1;
        this.scale = scale.clone();
        this.ends = ends.clone();
        this.changes = changes.clone();
        int count = ends.length;
        rates = new double[count][rows * rows];
        norm = new double[count];
        conditions = new double[count][0];
        constraints = new double[count][0];
        start = new double[n];
        rests = new boolean[n];
        lengths = new double[count];
        guess = new double[n + count + 1];
        first = new double[guess.length];
        step = new int[count * MOST_PIECES];
        degree = new int[step.length];
        duration = new double[step.length];
        curves = new double[step.length][(MOST_DEGREE + 1) * rows];
        state = new double[rows];
        residual = new double[rows];
        extent = new double[n];
        by = new double[rows][rows];
        timeBy = new double[rows];
        rate = new double[rows];
        column = new double[2 * rows];
        steps = new BroydenSteps(n, MOST_PASSES);
    }

    /** Where each search begins: states in their units, the duration of each step in s, duty cycle. */
    void guess(double[] atStart, double[] durations, double duty) {
        for (int i = 0; i < n; i++) {
            guess[i] = scale[i] * atStart[i];
        }
        System.arraycopy(durations, 0, guess, n, durations.length);
        guess[n + durations.length] = duty;
        System.arraycopy(guess, 0, first, 0, first.length);
    }

    /** Has the next search begin at the guess that was given. */
    void restart() {
        System.arraycopy(first, 0, guess, 0, first.length);
    }

    /** Has the next search begin where the last one has ended. */
    void follow() {
        System.arraycopy(start, 0, guess, 0, n);
        System.arraycopy(lengths, 0, guess, n, lengths.length);
        guess[n + lengths.length] = dutyCycle;
    }

    /** Takes what the next design does in a step. */
    void take(int at, Regime regime) {
        for (int i = 0; i < n; i++) {
            write(regime.rates().get(i), scale[i], rates[at], i * rows);
        }
        conditions[at] = written(regime.conditions(), conditions[at]);
        constraints[at] = written(regime.constraints(), constraints[at]);
    }

    private double[] written(List<AffineForm> forms, double[] before) {
        double[] into = before.length == forms.size() * rows ? before : new double[forms.size() * rows];
        for (int k = 0; k < forms.size(); k++) {
            write(forms.get(k), 1, into, k * rows);
        }
        return into;
    }

    /** Takes the row of {@link #write} of the output that may be held. */
    void takeOutput(int at, double[] row) {
        System.arraycopy(row, 0, rates[at], n * rows, rows);
    }

    int rowLength() {
        return rows;
    }

    /** Writes a form over scaled states; its constant comes last. */
    void write(AffineForm form, double factor, double[] into, int from) {
        for (int j = 0; j < n; j++) {
            into[from + j] = factor * form.coefficient(j) / scale[j];
        }
        into[from + n] = factor * form.constant();
    }

    /** The curve of a row of {@link #write} over a piece; returns its degree. */
    int curve(double[] row, int from, int piece, double[] into) {
        double[] c = curves[piece];
        int top = degree[piece];
        for (int k = 0; k <= top; k++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += row[from + j] * c[k * rows + j];
            }
            into[k] = sum;
        }
        into[0] += row[from + n];
        return top;
    }

    /** The orbit at a duty cycle; false if it is not certain. */
    boolean solve(double periodOfAll, double duty) {
        holds = false;
        period = periodOfAll;
        wanted = 0;
        return converges(duty);
    }

    /** The orbit at which the output has a mean, at a duty cycle with which it rises; false if it is not certain. */
    boolean hold(double periodOfAll, double output) {
        holds = true;
        period = periodOfAll;
        wanted = output;
        return converges(guess[n + ends.length]);
    }

    private boolean converges(double duty) {
        for (int i = 0; i < n; i++) {
            double rest = AffineTaylor.rest(rates, rows, i);
            rests[i] = !Double.isNaN(rest);
            start[i] = rests[i] ? rest : guess[i];
            for (int at = 0; at < ends.length && rests[i]; at++) {
                Arrays.fill(rates[at], i * rows, (i + 1) * rows, 0);
            }
        }
        Arrays.setAll(norm, at -> AffineTaylor.norm(rates[at], rows));
        System.arraycopy(guess, n, lengths, 0, lengths.length);
        dutyCycle = duty;
        double last = Double.POSITIVE_INFINITY;
        boolean derive = true;
        int derivatives = 0;
        for (int passes = 0; passes < MOST_PASSES; passes++) {
            derivatives += derive ? 1 : 0;
            if (derivatives > MOST_DERIVATIVES || !pass(derive) || (derive && !steps.renew(by, holds, sizes()))) {
                return false;
            }
            double[] move = steps.next(residual);
            double size = size(move);
            boolean nearer = size < LEAST_GAIN * last;
            if (size <= EXACT || (size <= SETTLED && !nearer)) {
                return true;
            }
            if (!(size < 2 * last)) {
                return false;
            }
            for (int i = 0; i < n; i++) {
                start[i] += move[i];
            }
            dutyCycle += move[n];
            derive = !nearer && passes > 0;
            last = size;
        }
        return false;
    }

    /** States and duty cycle count in their own size. */
    private double[] sizes() {
        double floor = floor();
        for (int i = 0; i < n; i++) {
            rate[i] = Math.max(extent[i], floor);
        }
        rate[n] = dutyCycle;
        return rate;
    }

    private double floor() {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            largest = Math.max(largest, extent[i]);
        }
        return SMALLEST_SHARE * largest;
    }

    /** The largest part of the step that leads from where the last pass began, each in its size. */
    private double size(double[] move) {
        double floor = floor();
        double size = holds ? Math.abs(move[n]) / dutyCycle : 0;
        for (int i = 0; i < n; i++) {
            double share = Math.abs(move[i]) / Math.max(extent[i], floor);
            size = share <= size || move[i] == 0 ? size : share;
        }
        return size;
    }

    /** Goes through the period once; false if that is impossible. */
    private boolean pass(boolean derive) {
        System.arraycopy(start, 0, state, 0, n);
        state[n] = 0;
        Arrays.fill(residual, 0);
        Arrays.fill(extent, 0);
        if (derive) {
            Arrays.fill(timeBy, 0);
            for (int i = 0; i < rows; i++) {
                Arrays.fill(by[i], 0);
                by[i][i] = i < n && !rests[i] ? 1 : 0;
            }
        }
        pieces = 0;
        double time = 0;
        boolean runs = true;
        for (int at = 0; at < ends.length && runs; at++) {
            double end = ends[at] == WITH_PULSE ? dutyCycle * period : period;
            double length = ends[at] < 0 ? end - time : lengths[at];
            runs = length > 0 && follow(at, length, derive);
            time = ends[at] < 0 ? end : time + lengths[at];
        }
        residual[n] -= wanted * period;
        return runs && time == period;
    }

    /** One step: its polynomials, the state at its end and, where asked for, the derivatives of that. */
    private boolean follow(int at, double length, boolean derive) {
        int count = (int) Math.max(1, Math.ceil(norm[at] * length / LONGEST));
        if (count > MOST_PIECES) {
            return false;
        }
        double one = length / count;
        int top = AffineTaylor.degree(norm[at] * one, MOST_DEGREE);
        double part = 1;
        for (int k = 0; k < count; k++) {
            for (int i = 0; i < n; i++) {
                extent[i] = Math.max(extent[i], Math.abs(state[i]));
            }
            AffineTaylor.expand(rates[at], state, one, top, curves[pieces]);
            step[pieces] = at;
            degree[pieces] = top;
            if (k == count - 1 && ends[at] >= 0) {
                int ofCondition = curve(conditions[at], ends[at] * rows, pieces, scratch);
                part = UnitPolynomial.zeroNearOne(scratch, ofCondition);
            }
            if (!(part > 0)) {
                return false;
            }
            AffineTaylor.shorten(curves[pieces], rows, top, part);
            duration[pieces] = one * part;
            for (int p = 0; p < rows && derive; p++) {
                AffineTaylor.carry(rates[at], by[p], one, top, part, column);
            }
            advance(pieces);
            pieces++;
        }
        lengths[at] = one * (count - 1 + part);
        if (derive) {
            shift(at);
        }
        return true;
    }

    /** The state at the end of a piece, by its change, which loses no digits. */
    private void advance(int piece) {
        double[] c = curves[piece];
        for (int i = 0; i < rows; i++) {
            double change = 0;
            for (int k = degree[piece]; k > 0; k--) {
                change += c[k * rows + i];
            }
            residual[i] += change;
            state[i] += change;
        }
    }

    /** What the shift of the end of a step adds to the derivatives. */
    private void shift(int at) {
        double[] a = rates[at];
        for (int i = 0; i < rows; i++) {
            double sum = a[i * rows + n];
            for (int j = 0; j < n; j++) {
                sum += a[i * rows + j] * state[j];
            }
            rate[i] = sum;
        }
        int guard = ends[at] * rows;
        double slope = 0;
        for (int j = 0; j < n && ends[at] >= 0; j++) {
            slope += conditions[at][guard + j] * rate[j];
        }
        for (int p = 0; p < rows; p++) {
            double shift;
            if (ends[at] >= 0) {
                double change = 0;
                for (int j = 0; j < n; j++) {
                    change += conditions[at][guard + j] * by[p][j];
                }
                shift = -change / slope;
                timeBy[p] += shift;
            } else {
                double edge = ends[at] == WITH_PULSE && p == n ? period : 0;
                shift = edge - timeBy[p];
                timeBy[p] = edge;
            }
            for (int i = 0; i < rows; i++) {
                by[p][i] += shift * rate[i];
            }
        }
    }

    /**
     * Whether every device is certain to stay as it is all through each step, but for the one that ends it.
     *
     * @param but bits of conditions that are not asked for
     */
    boolean isCertain(long but) {
        boolean certain = true;
        for (int piece = 0; piece < pieces && certain; piece++) {
            int at = step[piece];
            boolean first = piece == 0 || step[piece - 1] != at;
            boolean last = piece == pieces - 1 || step[piece + 1] != at;
            for (int k = 0; k < constraints[at].length / rows && first && certain; k++) {
                certain = entersWithoutJump(at, k, piece);
            }
            for (int k = 0; k < conditions[at].length / rows && certain; k++) {
                certain = (but >>> k & 1) != 0 || holds(at, k, piece, first, last && (changes[at] >>> k & 1) != 0);
            }
        }
        return certain;
    }

    private boolean entersWithoutJump(int at, int constraint, int piece) {
        double value = constraints[at][constraint * rows + n];
        double terms = Math.abs(value);
        for (int j = 0; j < n; j++) {
            double factor = constraints[at][constraint * rows + j];
            value += factor * curves[piece][j];
            terms += Math.abs(factor) * extent[j];
        }
        return Math.abs(value) <= ZERO * terms;
    }

    private boolean holds(int at, int condition, int piece, boolean first, boolean ending) {
        double[] g = scratch;
        int top = curve(conditions[at], condition * rows, piece, g);
        double terms = Math.abs(conditions[at][condition * rows + n]);
        boolean varies = false;
        for (int j = 0; j < n; j++) {
            double factor = conditions[at][condition * rows + j];
            terms += Math.abs(factor) * extent[j];
            varies |= factor != 0;
        }
        if (!varies) {
            // a device of no current or voltage, whatever the state: as in the orbit that the order is of
            return g[0] >= 0;
        }
        int from = first && Math.abs(g[0]) <= ZERO * terms ? 1 : 0;
        if (ending && Math.abs(UnitPolynomial.sum(g, top)) <= ZERO * terms) {
            // g = (1 - u) r, whose coefficients are the sums of those of g
            for (int k = 1; k < top; k++) {
                g[k] += g[k - 1];
            }
            top--;
        }
        System.arraycopy(g, from, g, 0, top - from + 1);
        return Bernstein.isAbove(CERTAIN, g, top - from + 1);
    }
}
