package org.voltsecond.circuit;

import java.util.AbstractList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.numeric.Dense;
import org.voltsecond.numeric.RoundOff;

/**
 * A regime of circuits that differ in values alone: what binds their states is found once, and each circuit then takes the solution
 * of one system of equations. Where K is singular, with W' K = 0, that is
 *
 * <pre>
 *   K y + W b = F x + s,   V' S F' y = V' D x   with V = E^-1 F' W
 * </pre>
 *
 * <p>(see {@link Solution} for K, E, F and S; D: resistances in series): the second part keeps the constraint W' (F x + s) = 0 met, and b
 * is zero where it is. So these regimes hold for states that meet it, and none enters them otherwise. Channels are read off when they are
 * asked for. Immutable, but a regime serves one thread.
 *
 * <pre>{@code
 * RegimePattern on = RegimePattern.of(rail.circuit(), 1, 0).orElseThrow(); // the transistor conducts
 * Circuit other = rail.circuit().withVoltage("V1", 11);
 * String name = on.in(other).name(); // "Q1 closed, D1 blocking"
 * }</pre>
 */
public final class RegimePattern {
    private static final double NO_PIVOT = 1e-13;

    private final Regime first;
    private final List<double[]> binding;

    private RegimePattern(Regime first, List<double[]> binding) {
        this.first = first;
        this.binding = binding;
    }

    /**
     * Finds what the regimes have in common.
     *
     * @param circuit one of the circuits, with constant sources and without parts that bend
     * @param closed bits of the switches that conduct
     * @param conducting bits of the rectifiers that conduct
     * @return the pattern; empty where open devices share voltages, or there is no such regime
     */
    public static Optional<RegimePattern> of(Circuit circuit, long closed, long conducting) {
        Elements elements = circuit.elements();
        try {
            Solution solution = Solution.of(new Equations(elements, supply(elements), closed, conducting));
            Regime first = RegimeReader.read(elements, supply(elements), closed, conducting);
            return !solution.idleLeft.isEmpty()
                            || !solution.idleRight.isEmpty()
                            || elements.bends().count() > 0
                    ? Optional.empty()
                    : Optional.of(new RegimePattern(first, solution.constraining));
        } catch (RefusedException e) {
            return Optional.empty();
        }
    }

    private static Supply supply(Elements elements) {
        return Supply.of(elements, List.of(), 0);
    }

    /**
     * Solves another circuit.
     *
     * @param circuit one that differs in values alone
     * @return its regime, for states that meet its constraints, without jump; null where that cannot be solved so
     */
    public @Nullable Regime in(Circuit circuit) {
        Elements elements = circuit.elements();
        Equations equations = new Equations(elements, supply(elements), first.closed(), first.conducting());
        double[][] constraints = constraints(equations);
        double[][] y = constraints == null ? null : solved(equations, constraints);
        if (constraints == null || y == null) {
            return null;
        }
        RegimeReader reader = new RegimeReader(equations, y, null);
        List<AffineForm> channels = new AbstractList<>() {
            @Override
            public AffineForm get(int index) {
                return reader.channel(index);
            }

            @Override
            public int size() {
                return reader.channelCount();
            }
        };
        return new Regime(
                first.name(),
                first.closed(),
                first.conducting(),
                RegimeReader.forms(rates(equations, y)),
                channels,
                reader.conditions(first.conducting()),
                RegimeReader.forms(constraints),
                null,
                List.of());
    }

    /** Rows W' (F x + s); null if the vectors are not of this circuit. */
    private double @Nullable [][] constraints(Equations equations) {
        int size = equations.size;
        double[][] rows = new double[binding.size()][equations.states + 1];
        for (int q = 0; q < rows.length; q++) {
            double[] vector = binding.get(q);
            for (int column = 0; column < size; column++) {
                double sum = 0;
                double terms = 0;
                for (int m = 0; m < size; m++) {
                    sum += vector[m] * equations.k[m][column];
                    terms += Math.abs(vector[m] * equations.k[m][column]);
                }
                if (!(Math.abs(sum) <= RoundOff.OF_A_RANK * terms)) {
                    return null;
                }
            }
            for (int c = 0; c <= equations.states; c++) {
                for (int m = 0; m < size; m++) {
                    rows[q][c] += vector[m] * equations.right[m][c];
                }
            }
        }
        return rows;
    }

    /** Node voltages and branch currents over the states; null if nothing determines them. */
    private double @Nullable [][] solved(Equations equations, double[][] constraints) {
        int size = equations.size;
        int all = size + constraints.length;
        int columns = equations.states + 1;
        double[][] a = new double[all][all + columns];
        for (int m = 0; m < size; m++) {
            System.arraycopy(equations.k[m], 0, a[m], 0, size);
            for (int q = 0; q < constraints.length; q++) {
                a[m][size + q] = binding.get(q)[m];
            }
            System.arraycopy(equations.right[m], 0, a[m], all, columns);
        }
        for (int q = 0; q < constraints.length; q++) {
            keepMet(equations, constraints[q], a[size + q], all);
        }
        if (!eliminate(a, all)) {
            return null;
        }
        double[][] y = new double[size][columns];
        for (int m = 0; m < size; m++) {
            System.arraycopy(a[m], all, y[m], 0, columns);
        }
        equations.snap(y);
        return y;
    }

    /** The rate of a constraint is zero; scaled by the least storage, so that the largest factor of a rate is about that of the constraint. */
    private static void keepMet(Equations equations, double[] constraint, double[] row, int right) {
        double least = Double.POSITIVE_INFINITY;
        for (int j = 0; j < equations.stored; j++) {
            least = constraint[j] == 0 ? least : Math.min(least, equations.storage[j]);
        }
        for (int j = 0; j < equations.stored; j++) {
            double weight = constraint[j] == 0 ? 0 : constraint[j] * (least / equations.storage[j]);
            for (int m = 0; m < equations.size && weight != 0; m++) {
                row[m] += weight * equations.output[j][m];
            }
            row[right + j] += weight * equations.damping[j];
        }
    }

    /** Gauss and Jordan's elimination with the largest pivot of each column; the solution takes the place of the right sides. */
    private static boolean eliminate(double[][] a, int n) {
        int width = n == 0 ? 0 : a[0].length;
        for (int c = 0; c < n; c++) {
            int pivot = c;
            for (int r = c + 1; r < n; r++) {
                pivot = Math.abs(a[r][c]) > Math.abs(a[pivot][c]) ? r : pivot;
            }
            double[] row = a[pivot];
            a[pivot] = a[c];
            a[c] = row;
            double value = row[c];
            if (!(Math.abs(value) > NO_PIVOT)) {
                return false;
            }
            for (int k = c + 1; k < width; k++) {
                row[k] /= value;
            }
            for (int r = 0; r < n; r++) {
                double factor = a[r][c];
                if (r != c && factor != 0) {
                    double[] other = a[r];
                    for (int k = c + 1; k < width; k++) {
                        other[k] -= factor * row[k];
                    }
                }
            }
        }
        return true;
    }

    private static double[][] rates(Equations equations, double[][] y) {
        int columns = equations.states + 1;
        double[][] rates = new double[equations.states][columns];
        for (int j = 0; j < equations.stored; j++) {
            double[] sizes = new double[columns];
            Dense.addMultiple(rates[j], sizes, equations.output[j], y);
            rates[j][j] -= equations.damping[j];
            sizes[j] = Math.max(sizes[j], equations.damping[j]);
            Dense.snap(rates[j], sizes);
            for (int c = 0; c < columns; c++) {
                rates[j][c] /= equations.storage[j];
            }
        }
        return rates;
    }

    @Override
    public String toString() {
        return "pattern of " + first.name();
    }
}
