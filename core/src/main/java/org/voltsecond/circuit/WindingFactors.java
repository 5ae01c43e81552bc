package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.characteristic.Faults;

/**
 * The factors {@code U' D U} of an inductance matrix, D diagonal and U unit upper triangular. The currents {@code w = U i}
 * store energy independently of each other: {@code D w^2 / 2}. A winding whose D is zero is perfectly coupled to those
 * before it and has no state of its own.
 */
final class WindingFactors {
    /** What remains of an inductance below this fraction of it is round-off of a perfect coupling. */
    private static final double PERFECT = 1e-13;

    final double[] d;
    final double[][] u;
    final boolean[] independent;
    private final boolean valid;

    private WindingFactors(double[] d, double[][] u, boolean[] independent, boolean valid) {
        this.d = d;
        this.u = u;
        this.independent = independent;
        this.valid = valid;
    }

    static WindingFactors of(Part.CoupledInductors part) {
        int n = part.windings().size();
        double[] d = new double[n];
        double[][] u = new double[n][n];
        boolean[] independent = new boolean[n];
        boolean valid = true;
        for (int j = 0; j < n; j++) {
            double inductance = part.inductances().get(j).get(j);
            d[j] = rest(part, d, u, j, j);
            u[j][j] = 1;
            independent[j] = d[j] > PERFECT * inductance;
            valid &= d[j] >= -PERFECT * inductance;
            for (int m = j + 1; m < n; m++) {
                double rest = rest(part, d, u, j, m);
                double bound = Math.sqrt(inductance * part.inductances().get(m).get(m));
                valid &= independent[j] || Math.abs(rest) <= Math.sqrt(PERFECT) * bound;
                u[j][m] = independent[j] ? rest / d[j] : 0;
            }
            d[j] = independent[j] ? d[j] : 0;
        }
        return new WindingFactors(d, u, independent, valid);
    }

    private static double rest(Part.CoupledInductors part, double[] d, double[][] u, int j, int m) {
        double rest = part.inductances().get(j).get(m);
        for (int k = 0; k < j; k++) {
            rest -= d[k] * u[k][j] * u[k][m];
        }
        return rest;
    }

    /** Whether the matrix is positive semidefinite. */
    boolean valid() {
        return valid;
    }

    /**
     * How the currents of the independent windings follow: entry [p][k] is the factor of w of winding k if that is
     * independent, else of the current of winding k.
     */
    double[][] currents() {
        int n = d.length;
        double[][] factors = new double[n][n];
        for (int p = n - 1; p >= 0; p--) {
            if (!independent[p]) {
                factors[p][p] = 1;
                continue;
            }
            factors[p][p] = 1;
            for (int k = p + 1; k < n; k++) {
                for (int m = 0; m < n; m++) {
                    factors[p][m] -= u[p][k] * factors[k][m];
                }
            }
        }
        return factors;
    }

    /** How many states a part has: one where it stores energy, of coupled windings one for each that is not perfectly coupled. */
    static int statesOf(Part part) {
        if (part instanceof Part.CoupledInductors coupled) {
            int count = 0;
            for (boolean each : of(coupled).independent) {
                count += each ? 1 : 0;
            }
            return count;
        }
        boolean recovers =
                part instanceof Part.Rectifier rectifier && rectifier.junction().recovery() != null;
        return recovers || part instanceof Part.Inductor || part instanceof Part.Capacitor ? 1 : 0;
    }

    /** The combination of the currents with which windings begin. */
    static double initialCombination(Part.CoupledInductors part, double[] factors) {
        double sum = 0;
        for (int m = 0; m < factors.length; m++) {
            sum += factors[m] * part.windings().get(m).initialCurrent();
        }
        return sum;
    }

    /** The windings of a part that has them. */
    static List<Part.Winding> windings(Part part) {
        if (part instanceof Part.CoupledInductors coupled) {
            return coupled.windings();
        }
        return part instanceof Part.IdealTransformer transformer ? transformer.windings() : List.of();
    }

    /** What is wrong with coupled inductors. */
    static List<String> faults(Part.CoupledInductors part) {
        List<Part.Winding> windings = part.windings();
        Faults faults = faults(part.name(), windings);
        int n = windings.size();
        boolean square =
                part.inductances().size() == n && part.inductances().stream().allMatch(row -> row.size() == n);
        if (!square) {
            return faults.add("the inductance matrix must have " + n + " rows and columns, one for each winding")
                    .list();
        }
        for (int i = 0; i < n; i++) {
            faults.positive(
                    "inductance of winding " + windings.get(i).name(),
                    part.inductances().get(i).get(i),
                    "H");
            for (int j = 0; j < i; j++) {
                faults.mutual(
                        i + 1,
                        j + 1,
                        part.inductances().get(i).get(j),
                        part.inductances().get(j).get(i));
            }
        }
        if (faults.list().isEmpty() && !of(part).valid()) {
            faults.add(
                    "the inductance matrix must be positive semidefinite (no coupling coefficient beyond 1), but was "
                            + part.inductances() + " H");
        }
        return faults.list();
    }

    /** What is wrong with windings by themselves. */
    static Faults faults(String part, List<Part.Winding> windings) {
        Faults faults = new Faults(part);
        for (Part.Winding winding : windings) {
            faults.notNegative("series resistance of winding " + winding.name(), winding.seriesResistance(), "Ω")
                    .finite("initial current of winding " + winding.name(), winding.initialCurrent(), "A");
        }
        return faults;
    }
}
