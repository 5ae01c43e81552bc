package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.numeric.Dense;
import org.voltsecond.numeric.RefinedSolver;
import org.voltsecond.numeric.RoundOff;

/**
 * The solution of {@code K y = F x + s}, {@code E dx/dt = S F' y} as affine rows: factors of all states, then the
 * constant. A named numeric kernel.
 *
 * <p>Where K is singular, W' (F x + s) = 0 is a constraint on the state (W: left null vectors, N: right ones). The state
 * enters by {@code x+ = x - E^-1 S F' N z}, with z such that the constraint is met, which keeps flux and charge; then
 * {@code y = K+ (F x + s) + N alpha}, with alpha such that the constraint stays met. Null vectors that move no state are
 * undetermined voltages or currents: open devices share the former, parts without resistance in a loop the latter, as if
 * each had the same stray capacitance or resistance; where there are none, the position is refused.
 *
 * <p>A constraint on a single state is kept exact: such a state is zero with a row of zeros.
 */
final class Solution {
    private final Equations equations;
    private final int columns;
    private final double[] storage;
    final List<double[]> constraining;
    final List<double[]> idleLeft;
    private final List<double[]> moving;
    final List<double[]> idleRight;
    /** What each moving null vector does to the storing states. */
    private final double[][] pull;

    private final double[] reference;
    private final double[][] weights;
    private final double[][] coupling;

    /** The constraints. */
    final double[][] constraints;
    /** How the states jump on entering. */
    final double[][] entry;
    /** Integral of y over the instant of entering, for the present state before. */
    final double[][] impulse;
    /** Node voltages and branch currents. */
    final double[][] y;
    /** Rates of all states. */
    final double[][] rates;

    private Solution(Equations equations) throws RefusedException {
        this.equations = equations;
        columns = equations.states + 1;
        storage = equations.storage;
        NullVectors nulls = NullVectors.of(equations);
        Dense.Split left = split(nulls.left, equations.right, true);
        Dense.Split right = split(nulls.right, equations.output, false);
        constraining = left.independent();
        idleLeft = left.vanishing();
        moving = right.independent();
        idleRight = right.vanishing();
        checkIdle();
        constraints = Dense.multiply(constraining.toArray(double[][]::new), equations.right, columns);
        pull = pull();
        reference = references();
        weights = weights();
        coupling = Dense.multiply(weights, pull, moving.size());
        double[][] correction = solveCoupling(scaledConstraints());
        entry = entry(correction);
        impulse = impulse(correction);
        y = particular(left.pivots(), right.pivots());
        equations.snap(y);
        double[][] push = push();
        double[][] alpha = snapped(solveCoupling(alphaRight(push)), push);
        rates = rates(push, alpha);
        addMoving(alpha);
        shareIdle();
        if (!moving.isEmpty() || !idleRight.isEmpty()) {
            equations.snap(y);
        }
    }

    static Solution of(Equations equations) throws RefusedException {
        return new Solution(equations);
    }

    /** Splits null vectors into those that concern a storing state and the others. */
    private Dense.Split split(List<double[]> vectors, double[][] map, boolean rows) {
        if (vectors.isEmpty()) {
            return new Dense.Split(List.of(), List.of(), List.of());
        }
        double[][] images = new double[vectors.size()][equations.stored];
        for (int i = 0; i < images.length; i++) {
            double[] sizes = new double[equations.stored];
            double[] vector = vectors.get(i);
            for (int m = 0; m < equations.size; m++) {
                // most null vectors concern few nodes and branches
                for (int j = 0; j < equations.stored && vector[m] != 0; j++) {
                    double term = vector[m] * (rows ? map[m][j] : map[j][m]);
                    images[i][j] += term;
                    sizes[j] = Math.max(sizes[j], Math.abs(term));
                }
            }
            Dense.snap(images[i], sizes);
        }
        return Dense.split(vectors, images, equations.stored);
    }

    /** Null vectors without a state must find sources that add up to zero. */
    private void checkIdle() throws RefusedException {
        for (double[] vector : idleLeft) {
            for (int j = equations.stored; j <= equations.states; j++) {
                double sum = 0;
                double size = 0;
                for (int m = 0; m < equations.size; m++) {
                    double term = vector[m] * equations.right[m][j];
                    sum += term;
                    size += Math.abs(term);
                }
                if (Math.abs(sum) > RoundOff.OF_A_RANK * size) {
                    throw new RefusedException(new NullVectorNames(equations, vector).conflict(sum));
                }
            }
        }
    }

    private double[][] pull() {
        double[][] result = new double[equations.stored][moving.size()];
        for (int j = 0; j < equations.stored; j++) {
            for (int k = 0; k < moving.size(); k++) {
                result[j][k] = Dense.dot(equations.output[j], moving.get(k));
            }
        }
        return result;
    }

    /** The smallest inductance or capacitance in each constraint: with one state alone, its weight becomes exactly 1. */
    private double[] references() {
        double[] result = new double[constraints.length];
        for (int i = 0; i < result.length; i++) {
            result[i] = Double.POSITIVE_INFINITY;
            for (int j = 0; j < equations.stored; j++) {
                if (constraints[i][j] != 0) {
                    result[i] = Math.min(result[i], storage[j]);
                }
            }
        }
        return result;
    }

    private double[][] weights() {
        double[][] result = new double[constraints.length][equations.stored];
        for (int i = 0; i < result.length; i++) {
            for (int j = 0; j < equations.stored; j++) {
                result[i][j] = constraints[i][j] * (reference[i] / storage[j]);
            }
        }
        return result;
    }

    private double[][] solveCoupling(double[][] right) throws RefusedException {
        if (constraining.isEmpty() && moving.isEmpty()) {
            return new double[0][columns];
        }
        boolean fits = constraining.size() == moving.size();
        double[][] result = fits ? RefinedSolver.of(coupling).solve(right, columns) : right;
        for (double[] row : result) {
            for (double value : row) {
                fits &= Double.isFinite(value);
            }
        }
        if (!fits) {
            throw new RefusedException("controlled sources leave no unique solution for the nodes and parts "
                    + new NullVectorNames(equations, (constraining.isEmpty() ? moving : constraining).get(0)).all());
        }
        return result;
    }

    private double[][] scaledConstraints() {
        double[][] result = Dense.copy(constraints);
        for (int i = 0; i < result.length; i++) {
            for (int j = 0; j < columns; j++) {
                result[i][j] *= reference[i];
            }
        }
        return result;
    }

    private double[][] impulse(double[][] correction) {
        if (moving.isEmpty()) {
            return new double[equations.size][columns];
        }
        double[][] result =
                Dense.multiply(Dense.transpose(moving.toArray(double[][]::new), equations.size), correction, columns);
        for (int m = 0; m < result.length; m++) {
            result[m] = Dense.negative(result[m]);
        }
        return result;
    }

    private double[][] entry(double[][] correction) {
        double[][] result = new double[equations.states][columns];
        for (int j = 0; j < equations.states; j++) {
            result[j][j] = 1;
        }
        for (int j = 0; j < equations.stored && !moving.isEmpty(); j++) {
            double[] change = new double[columns];
            Dense.addMultiple(change, pull[j], correction);
            double[] sizes = new double[columns];
            for (int c = 0; c < columns; c++) {
                result[j][c] -= change[c] / storage[j];
                sizes[c] = c < equations.stored ? Math.sqrt(storage[c] / storage[j]) : 0;
            }
            Dense.snap(result[j], sizes);
        }
        return result;
    }

    /**
     * One solution for states that meet the constraints: the one in which the pivot state of each moving null vector does
     * not move. The pivot state of each constraint is left out of it and follows from the others.
     */
    private double[][] particular(List<Integer> leftPivots, List<Integer> rightPivots) {
        List<double[]> borderColumns = new ArrayList<>();
        for (int state : leftPivots) {
            double[] column = new double[equations.size];
            for (int m = 0; m < equations.size; m++) {
                column[m] = equations.right[m][state];
            }
            borderColumns.add(column);
        }
        borderColumns.addAll(idleLeft);
        List<double[]> borderRows = new ArrayList<>();
        rightPivots.forEach(state -> borderRows.add(equations.output[state]));
        borderRows.addAll(idleRight);
        double[][] bordered = borderRows.isEmpty() && borderColumns.isEmpty()
                ? equations.k
                : NullVectors.border(equations.k, borderColumns, borderRows);
        double[][] right = Arrays.copyOf(equations.right, bordered.length);
        for (int i = equations.size; i < right.length; i++) {
            right[i] = new double[columns];
        }
        double[][] raw = Arrays.copyOf(RefinedSolver.of(bordered).solve(right, columns), equations.size);
        for (int m = 0; m < raw.length && constraints.length > 0; m++) {
            raw[m] = onEntry(raw[m]);
        }
        return raw;
    }

    /**
     * An affine row, applied to the state after the entry map. A factor that is round-off beside the largest one, all
     * states counted by their energy, is zero.
     */
    double[] onEntry(double[] row) {
        if (constraints.length == 0) {
            return row.clone();
        }
        double[] result = new double[columns];
        double[] sizes = new double[columns];
        Dense.addMultiple(result, sizes, row, entry);
        result[columns - 1] += row[columns - 1];
        double largest = 0;
        for (int j = 0; j < equations.stored; j++) {
            largest = Math.max(largest, Math.abs(row[j]) / Math.sqrt(storage[j]));
        }
        for (int j = 0; j < equations.stored; j++) {
            sizes[j] = largest * Math.sqrt(storage[j]);
        }
        return Dense.snap(result, sizes);
    }

    /** Voltages of the inductances and currents of the capacitances without a share of the null vectors. */
    private double[][] push() {
        double[][] result = new double[equations.stored][columns];
        for (int j = 0; j < equations.stored; j++) {
            double[] sizes = new double[columns];
            Dense.addMultiple(result[j], sizes, equations.output[j], y);
            for (int c = 0; c < columns; c++) {
                double drop = equations.damping[j] * entry[j][c];
                result[j][c] -= drop;
                sizes[c] = Math.max(sizes[c], Math.abs(drop));
            }
            Dense.snap(result[j], sizes);
        }
        return result;
    }

    private double[][] alphaRight(double[][] push) {
        if (weights.length == 0) {
            return weights;
        }
        double[][] result = Dense.multiply(weights, push, columns);
        double[][] sourceRates = equations.supply().rates();
        for (int i = 0; i < result.length; i++) {
            for (int j = equations.stored; j < equations.states; j++) {
                for (int c = 0; c < columns; c++) {
                    result[i][c] += reference[i] * constraints[i][j] * sourceRates[j][c];
                }
            }
            result[i] = Dense.negative(result[i]);
        }
        return result;
    }

    /** Zeroes the round-off of shares that cancel, beside the voltages or currents of the same kind. */
    private double[][] snapped(double[][] alpha, double[][] push) {
        for (int k = 0; k < alpha.length; k++) {
            boolean voltages = isVoltages(moving.get(k));
            double[] sizes = new double[columns];
            for (int j = 0; j < equations.stored; j++) {
                if (isVoltages(equations.output[j]) == voltages) {
                    enlarge(sizes, push[j]);
                }
            }
            for (int other = 0; other < alpha.length; other++) {
                if (isVoltages(moving.get(other)) == voltages) {
                    enlarge(sizes, alpha[other]);
                }
            }
            Dense.snap(alpha[k], sizes);
        }
        return alpha;
    }

    private boolean isVoltages(double[] overUnknowns) {
        for (int node = 0; node < equations.nodes; node++) {
            if (overUnknowns[node] != 0) {
                return true;
            }
        }
        return false;
    }

    private static void enlarge(double[] sizes, double[] row) {
        for (int c = 0; c < sizes.length; c++) {
            sizes[c] = Math.max(sizes[c], Math.abs(row[c]));
        }
    }

    private double[][] rates(double[][] push, double[][] alpha) {
        double[][] result = new double[equations.states][columns];
        if (equations.states > equations.stored) {
            double[][] sourceRates = equations.supply().rates();
            System.arraycopy(sourceRates, equations.stored, result, equations.stored, result.length - equations.stored);
        }
        for (int j = 0; j < equations.stored; j++) {
            double[] sizes = new double[columns];
            Dense.addMultiple(result[j], sizes, pull[j], alpha);
            enlarge(sizes, push[j]);
            for (int c = 0; c < columns; c++) {
                result[j][c] += push[j][c];
            }
            Dense.snap(result[j], sizes);
            for (int c = 0; c < columns; c++) {
                result[j][c] /= storage[j];
            }
        }
        return result;
    }

    private void addMoving(double[][] alpha) {
        for (int k = 0; k < moving.size(); k++) {
            add(moving.get(k), alpha[k]);
        }
    }

    private void add(double[] direction, double[] amount) {
        for (int m = 0; m < y.length; m++) {
            if (direction[m] != 0) {
                for (int c = 0; c < columns; c++) {
                    y[m][c] += direction[m] * amount[c];
                }
            }
        }
    }

    /** Shares what is undetermined so that the sum of squares over open devices and over parts of loops is least. */
    private void shareIdle() throws RefusedException {
        if (idleRight.isEmpty()) {
            return;
        }
        double[][] sharers = sharers().toArray(double[][]::new);
        double[][] effect = Dense.multiply(
                sharers, Dense.transpose(idleRight.toArray(double[][]::new), equations.size), idleRight.size());
        List<double[]> unshared = Dense.nullSpace(effect, idleRight.size());
        if (!unshared.isEmpty()) {
            double[] vector = new double[equations.size];
            Dense.addMultiple(vector, unshared.get(0), idleRight.toArray(double[][]::new));
            throw new RefusedException(new NullVectorNames(equations, vector).undetermined());
        }
        double[][] transposed = Dense.transpose(effect, idleRight.size());
        double[][] present = Dense.multiply(sharers, y, columns);
        double[][] amounts = RefinedSolver.of(Dense.multiply(transposed, effect, idleRight.size()))
                .solve(Dense.multiply(transposed, present, columns), columns);
        for (int k = 0; k < idleRight.size(); k++) {
            add(idleRight.get(k), Dense.negative(amounts[k]));
        }
    }

    private List<double[]> sharers() throws RefusedException {
        List<double[]> rows = new ArrayList<>();
        List<Branch> branches = equations.elements().branches();
        for (int b = 0; b < branches.size(); b++) {
            int at = equations.position(b);
            if (at < 0) {
                rows.add(Arrays.copyOf(branches.get(b).row(), equations.size));
            } else if (idleRight.stream().anyMatch(vector -> vector[at] != 0)) {
                double[] row = new double[equations.size];
                row[at] = 1;
                rows.add(row);
                checkNoSource(branches.get(b), at);
            }
        }
        return rows;
    }

    private void checkNoSource(Branch branch, int at) throws RefusedException {
        if (branch.drive().source() >= 0 || branch.column() != branch.row()) {
            for (double[] vector : idleRight) {
                if (vector[at] != 0) {
                    throw new RefusedException(new NullVectorNames(equations, vector).undetermined());
                }
            }
        }
    }
}
