package org.voltsecond.converter;

import java.util.Arrays;
import java.util.List;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.numeric.Bernstein;
import org.voltsecond.numeric.RoundOff;
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
    /** A pivot of this share of its column is none. */
    private static final double NO_PIVOT = 1e-12;

    private final int n;
    /** States and, after them, the integral of the output. */
    private final int rows;

    private final double[] scale;
    private final int[] ends;
    private final long[] changes;

    // ------------------------------------------------------------------------------------------- one design
    private double period;
    private double wanted;
    private boolean holds;
    private final double[][] rates;
    private final double[] norm;
    private final double[][] conditions;
    private final double[][] constraints;

    // ------------------------------------------------------------------------------------------- its orbit
    private final double[] start;
    private final double[] lengths;
    private double dutyCycle;
    private final double[] guess;

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
    private final double[] matrix;
    private final int[] order;
    private final double[] move;
    private final double[][] steps;
    private final double[] lengthOf;
    private final double[] weight;
    private int taken;
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
        lengths = new double[count];
        guess = new double[n + count + 1];
        int most = count * MOST_PIECES;
        step = new int[most];
        degree = new int[most];
        duration = new double[most];
        curves = new double[most][(MOST_DEGREE + 1) * rows];
        state = new double[rows];
        residual = new double[rows];
        extent = new double[n];
        by = new double[rows][rows];
        timeBy = new double[rows];
        rate = new double[rows];
        column = new double[2 * rows];
        matrix = new double[rows * rows];
        order = new int[n];
        move = new double[rows];
        steps = new double[MOST_PASSES + 1][rows];
        lengthOf = new double[MOST_PASSES + 1];
        weight = new double[rows];
    }

    /** Where each search begins: states in their units, the duration of each step in s, duty cycle. */
    void guess(double[] atStart, double[] durations, double duty) {
        for (int i = 0; i < n; i++) {
            guess[i] = scale[i] * atStart[i];
        }
        System.arraycopy(durations, 0, guess, n, durations.length);
        guess[n + durations.length] = duty;
    }

    /** Takes what the next design does in a step. */
    void take(int at, Regime regime) {
        double[] a = rates[at];
        double largest = 0;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            write(regime.rates().get(i), scale[i], a, i * rows);
            for (int j = 0; j < n; j++) {
                sum += Math.abs(a[i * rows + j]);
            }
            largest = Math.max(largest, sum);
        }
        norm[at] = largest;
        List<AffineForm> forms = regime.conditions();
        if (conditions[at].length != forms.size() * rows) {
            conditions[at] = new double[forms.size() * rows];
        }
        for (int k = 0; k < forms.size(); k++) {
            write(forms.get(k), 1, conditions[at], k * rows);
        }
        int bound = regime.constraints().size();
        if (constraints[at].length != bound * rows) {
            constraints[at] = new double[bound * rows];
        }
        for (int k = 0; k < bound; k++) {
            write(regime.constraints().get(k), 1, constraints[at], k * rows);
        }
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
        wanted = 0;
        return solve(periodOfAll) && converges(duty);
    }

    /** The orbit at which the output has a mean, at a duty cycle with which it rises; false if it is not certain. */
    boolean hold(double periodOfAll, double output) {
        holds = true;
        wanted = output;
        return solve(periodOfAll) && converges(guess[n + ends.length]);
    }

    private boolean solve(double periodOfAll) {
        period = periodOfAll;
        return periodOfAll > 0 && periodOfAll < Double.POSITIVE_INFINITY;
    }

    // ----------------------------------------------------------------------------------------- Newton's method

    /**
     * Newton's method, with the derivative brought up to date by what each step has met (C. G. Broyden, A class of methods for
     * solving nonlinear simultaneous equations, Math. Comp. 19:577-593, 1965, from memory) in place of a new one.
     */
    private boolean converges(double duty) {
        System.arraycopy(guess, 0, start, 0, n);
        System.arraycopy(guess, n, lengths, 0, lengths.length);
        dutyCycle = duty;
        double last = Double.POSITIVE_INFINITY;
        boolean derive = true;
        int derivatives = 0;
        for (int passes = 0; passes < MOST_PASSES; passes++) {
            derivatives += derive ? 1 : 0;
            if (derivatives > MOST_DERIVATIVES || !pass(derive) || (derive && !factor())) {
                return false;
            }
            if (derive) {
                weigh();
                taken = 0;
            }
            substitute();
            update();
            double size = size();
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

    /** Makes of a step by the old derivative one by the derivative that agrees with the steps taken since. */
    private void update() {
        for (int k = 0; k < taken; k++) {
            double along = 0;
            for (int i = 0; i < rows; i++) {
                along += steps[k][i] * move[i] * weight[i];
            }
            if (k < taken - 1) {
                for (int i = 0; i < rows; i++) {
                    move[i] += steps[k + 1][i] * along / lengthOf[k];
                }
            } else {
                for (int i = 0; i < rows; i++) {
                    move[i] /= 1 - along / lengthOf[k];
                }
            }
        }
        double length = 0;
        for (int i = 0; i < rows; i++) {
            length += move[i] * move[i] * weight[i];
        }
        System.arraycopy(move, 0, steps[taken], 0, rows);
        lengthOf[taken++] = length;
    }

    /** Makes states and duty cycle of one size. */
    private void weigh() {
        double floor = floor();
        for (int i = 0; i < rows; i++) {
            double size = i < n ? Math.max(extent[i], floor) : dutyCycle;
            weight[i] = size > 0 ? 1 / (size * size) : 1;
        }
    }

    private double floor() {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            largest = Math.max(largest, extent[i]);
        }
        return SMALLEST_SHARE * largest;
    }

    /** The largest part of the step that leads from where the last pass began, each in its size. */
    private double size() {
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
                by[i][i] = i < n ? 1 : 0;
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
        int top = degreeFor(norm[at] * one);
        double part = 1;
        for (int k = 0; k < count; k++) {
            for (int i = 0; i < n; i++) {
                extent[i] = Math.max(extent[i], Math.abs(state[i]));
            }
            expand(at, one, top);
            part = k == count - 1 && ends[at] >= 0 ? untilZero(at, pieces) : 1;
            if (!(part > 0)) {
                return false;
            }
            shorten(pieces, part);
            for (int p = 0; p < rows && derive; p++) {
                carry(at, one, top, part, by[p]);
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

    private static int degreeFor(double size) {
        double term = 1;
        int k = 0;
        while (k < MOST_DEGREE && (k < 3 || term > RoundOff.OF_A_SERIES)) {
            k++;
            term *= size / k;
        }
        return k;
    }

    private void expand(int at, double length, int top) {
        double[] a = rates[at];
        double[] c = curves[pieces];
        System.arraycopy(state, 0, c, 0, rows);
        for (int k = 1; k <= top; k++) {
            double factor = length / k;
            int from = (k - 1) * rows;
            for (int i = 0; i < rows; i++) {
                double sum = k == 1 ? a[i * rows + n] : 0;
                for (int j = 0; j < n; j++) {
                    sum += a[i * rows + j] * c[from + j];
                }
                c[from + rows + i] = factor * sum;
            }
        }
        step[pieces] = at;
        degree[pieces] = top;
        duration[pieces] = length;
    }

    /** Where within a piece, of 0 to 1 and a little beyond, the condition is zero with which the step ends; NaN if nowhere. */
    private double untilZero(int at, int piece) {
        int top = curve(conditions[at], ends[at] * rows, piece, scratch);
        double u = 1;
        for (int k = 0; k < 30; k++) {
            double change = UnitPolynomial.at(scratch, top, u) / UnitPolynomial.slopeAt(scratch, top, u);
            u = Math.min(2, Math.max(0, u - change));
            if (!(Math.abs(change) > 0x1p-52 * u)) {
                break;
            }
        }
        return u;
    }

    private void shorten(int piece, double part) {
        double[] c = curves[piece];
        double power = part;
        for (int k = 1; k <= degree[piece] && part != 1; k++) {
            for (int i = 0; i < rows; i++) {
                c[k * rows + i] *= power;
            }
            power *= part;
        }
        duration[piece] *= part;
    }

    /** The flow over part of a piece, applied to a derivative. */
    private void carry(int at, double length, int top, double part, double[] derivative) {
        double[] a = rates[at];
        System.arraycopy(derivative, 0, column, 0, rows);
        int from = 0;
        double power = part;
        for (int k = 1; k <= top; k++) {
            double factor = length / k;
            int to = rows - from;
            for (int i = 0; i < rows; i++) {
                double sum = 0;
                for (int j = 0; j < n; j++) {
                    sum += a[i * rows + j] * column[from + j];
                }
                double term = factor * sum;
                column[to + i] = term;
                derivative[i] += power * term;
            }
            from = to;
            power *= part;
        }
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

    // ------------------------------------------------------------------------------------- the linear equations

    /**
     * Factors the unit matrix less the derivative, bordered by the output; false without a solution, or where the output does not
     * rise with the duty cycle, which the last pivot tells: it is minus that derivative along the orbits.
     */
    private boolean factor() {
        int size = holds ? rows : n;
        for (int i = 0; i < rows; i++) {
            for (int p = 0; p < rows; p++) {
                matrix[i * rows + p] = (i == p && i < n ? 1 : 0) - by[p][i];
            }
        }
        for (int c = 0; c < size; c++) {
            int pivot = c;
            for (int r = c + 1; r < n; r++) {
                pivot = Math.abs(matrix[r * rows + c]) > Math.abs(matrix[pivot * rows + c]) ? r : pivot;
            }
            double value = matrix[pivot * rows + c];
            if (c < n) {
                order[c] = pivot;
            }
            if (!(c < n ? Math.abs(value) > NO_PIVOT : value < 0)) {
                return false;
            }
            for (int k = 0; k < rows && pivot != c; k++) {
                double swapped = matrix[c * rows + k];
                matrix[c * rows + k] = matrix[pivot * rows + k];
                matrix[pivot * rows + k] = swapped;
            }
            for (int r = c + 1; r < size; r++) {
                double factor = matrix[r * rows + c] / value;
                matrix[r * rows + c] = factor;
                for (int k = c + 1; k < size; k++) {
                    matrix[r * rows + k] -= factor * matrix[c * rows + k];
                }
            }
        }
        return true;
    }

    private void substitute() {
        int size = holds ? rows : n;
        System.arraycopy(residual, 0, move, 0, rows);
        for (int c = 0; c < n; c++) {
            double swapped = move[c];
            move[c] = move[order[c]];
            move[order[c]] = swapped;
        }
        for (int r = 1; r < size; r++) {
            for (int c = 0; c < r; c++) {
                move[r] -= matrix[r * rows + c] * move[c];
            }
        }
        for (int r = size - 1; r >= 0; r--) {
            for (int c = r + 1; c < size; c++) {
                move[r] -= matrix[r * rows + c] * move[c];
            }
            move[r] /= matrix[r * rows + r];
        }
        if (!holds) {
            move[n] = 0;
        }
    }

    // ----------------------------------------------------------------------------- whether the order is this one

    /** Whether every device is certain to stay as it is all through each step, but for the one that ends it. */
    boolean isCertain() {
        boolean certain = true;
        for (int piece = 0; piece < pieces && certain; piece++) {
            int at = step[piece];
            boolean first = piece == 0 || step[piece - 1] != at;
            boolean last = piece == pieces - 1 || step[piece + 1] != at;
            for (int k = 0; k < constraints[at].length / rows && first && certain; k++) {
                certain = entersWithoutJump(at, k, piece);
            }
            for (int k = 0; k < conditions[at].length / rows && certain; k++) {
                certain = holds(at, k, piece, first, last && (changes[at] >>> k & 1) != 0);
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
        return isPositive(g, from, top);
    }

    private boolean isPositive(double[] g, int from, int top) {
        int count = top - from + 1;
        System.arraycopy(g, from, g, 0, count);
        double least = CERTAIN * UnitPolynomial.reach(g, count - 1);
        if (UnitPolynomial.least(g, count - 1) > least) {
            return true;
        }
        Bernstein.replace(g, count);
        double lowest = Double.POSITIVE_INFINITY;
        for (int k = 0; k < count; k++) {
            lowest = Math.min(lowest, g[k]);
        }
        return lowest > least;
    }

    // ------------------------------------------------------------------------------------------ what came out

    double dutyCycle() {
        return dutyCycle;
    }
}
