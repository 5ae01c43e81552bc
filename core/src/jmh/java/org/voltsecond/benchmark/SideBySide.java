package org.voltsecond.benchmark;

import java.util.Arrays;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;

/**
 * What arrays of designs side by side could save a study: the part of the kernel that is the same work for every design - the Taylor
 * rows of a buck stage's two intervals, and the state that they bring back to itself - one design after the other, and a number of
 * designs in the innermost loop. One operation is one design.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
public class SideBySide {
    private static final int DESIGNS = 4096;
    private static final int MOST_DEGREE = 18;
    private static final double PERIOD = 1 / 300e3;
    private static final double ON_TIME = 0.45 * PERIOD;

    /** How many are side by side; where one comes after the other it tells nothing. */
    @Param({"4", "8", "16", "64"})
    public int width;

    private final double[] input = new double[DESIGNS];
    private final double[] inductance = new double[DESIGNS];
    private final double[] capacitance = new double[DESIGNS];
    private final double[] current = new double[DESIGNS];
    private final double[] voltage = new double[DESIGNS];
    private double[][] matrix = {};
    private double[][] rows = {};
    private final double[][] change = new double[12][];
    private final double[] series = new double[6 * (MOST_DEGREE + 1)];
    private final double[] ofOn = new double[6];
    private final double[] ofOff = new double[6];

    /** Draws the designs, all values within 10 %. */
    @Setup
    public void draw() {
        Random random = new Random(1);
        for (int i = 0; i < DESIGNS; i++) {
            input[i] = 12 * (0.9 + 0.2 * random.nextDouble());
            inductance[i] = 22e-6 * (0.9 + 0.2 * random.nextDouble());
            capacitance[i] = 47e-6 * (0.9 + 0.2 * random.nextDouble());
        }
        matrix = new double[5][width];
        rows = new double[6 * (MOST_DEGREE + 1)][width];
        for (int j = 0; j < change.length; j++) {
            change[j] = new double[width];
        }
    }

    /** Solves all designs as the kernel does, one after the other. */
    @Benchmark
    @OperationsPerInvocation(DESIGNS)
    public double oneAfterTheOther() {
        for (int design = 0; design < DESIGNS; design++) {
            expand(design, ON_TIME, true, ofOn);
            expand(design, PERIOD - ON_TIME, false, ofOff);
            close(design, ofOn, ofOff);
        }
        return current[DESIGNS - 1] + voltage[DESIGNS - 1];
    }

    private void expand(int design, double span, boolean on, double[] into) {
        double a11 = -(on ? 0.11 : 0.05) * span / inductance[design];
        double a12 = -span / inductance[design];
        double a21 = span / capacitance[design];
        double a22 = -0.4 * span / capacitance[design];
        double size = Math.max(-a11, -a22) + Math.sqrt(-a12 * a21);
        double[] row = series;
        for (int j = 0; j < 6; j++) {
            row[j] = j == 0 || j == 4 ? 1 : 0;
        }
        int degree = 0;
        double term = 1;
        while (degree < MOST_DEGREE && (degree < 3 || term > 0x1p-54)) {
            degree++;
            term *= size / degree;
            int to = 6 * degree;
            double share = 1.0 / degree;
            for (int j = 0; j < 3; j++) {
                row[to + j] = share * (a11 * row[to - 6 + j] + a12 * row[to - 3 + j]);
                row[to + 3 + j] = share * (a21 * row[to - 6 + j] + a22 * row[to - 3 + j]);
            }
            if (degree == 1) {
                row[to + 2] += (on ? input[design] : -0.4) * span / inductance[design];
            }
        }
        for (int j = 0; j < 6; j++) {
            double sum = 0;
            for (int k = degree; k > 0; k--) {
                sum += row[6 * k + j];
            }
            into[j] = sum;
        }
    }

    /** Solves all designs side by side. */
    @Benchmark
    @OperationsPerInvocation(DESIGNS)
    public double sideBySide() {
        for (int first = 0; first < DESIGNS; first += width) {
            expand(first, ON_TIME, true, 0);
            expand(first, PERIOD - ON_TIME, false, 6);
            for (int i = 0; i < width; i++) {
                for (int j = 0; j < 6; j++) {
                    ofOn[j] = change[j][i];
                    ofOff[j] = change[6 + j][i];
                }
                close(first + i, ofOn, ofOff);
            }
        }
        return current[DESIGNS - 1] + voltage[DESIGNS - 1];
    }

    private double prepare(int first, double span, boolean on) {
        double size = 0;
        for (int i = 0; i < width; i++) {
            double byInductance = span / inductance[first + i];
            double byCapacitance = span / capacitance[first + i];
            matrix[0][i] = -(on ? 0.11 : 0.05) * byInductance;
            matrix[1][i] = -byInductance;
            matrix[2][i] = byCapacitance;
            matrix[3][i] = -0.4 * byCapacitance;
            matrix[4][i] = (on ? input[first + i] : -0.4) * byInductance;
            size = Math.max(size, Math.max(-matrix[0][i], -matrix[3][i]) + Math.sqrt(-matrix[1][i] * matrix[2][i]));
        }
        return size;
    }

    private void expand(int first, double span, boolean on, int into) {
        double size = prepare(first, span, on);
        for (int j = 0; j < 6; j++) {
            Arrays.fill(rows[j], j == 0 || j == 4 ? 1 : 0);
        }
        int degree = 0;
        double term = 1;
        while (degree < MOST_DEGREE && (degree < 3 || term > 0x1p-54)) {
            degree++;
            term *= size / degree;
            int to = 6 * degree;
            for (int j = 0; j < 3; j++) {
                double[] currents = rows[to - 6 + j];
                double[] voltages = rows[to - 3 + j];
                times(1.0 / degree, matrix[0], currents, matrix[1], voltages, rows[to + j]);
                times(1.0 / degree, matrix[2], currents, matrix[3], voltages, rows[to + 3 + j]);
            }
            if (degree == 1) {
                add(matrix[4], rows[to + 2]);
            }
        }
        for (int j = 0; j < 6; j++) {
            Arrays.fill(change[into + j], 0);
            for (int k = degree; k > 0; k--) {
                add(rows[6 * k + j], change[into + j]);
            }
        }
    }

    private void times(double share, double[] a, double[] x, double[] b, double[] y, double[] into) {
        for (int i = 0; i < width; i++) {
            into[i] = share * (a[i] * x[i] + b[i] * y[i]);
        }
    }

    private void add(double[] x, double[] into) {
        for (int i = 0; i < width; i++) {
            into[i] += x[i];
        }
    }

    /** As the kernel closes an orbit of two intervals. */
    private void close(int design, double[] p, double[] q) {
        double m11 = -(p[0] + q[0] + q[0] * p[0] + q[1] * p[3]);
        double m12 = -(p[1] + q[1] + q[0] * p[1] + q[1] * p[4]);
        double m21 = -(p[3] + q[3] + q[3] * p[0] + q[4] * p[3]);
        double m22 = -(p[4] + q[4] + q[3] * p[1] + q[4] * p[4]);
        double d1 = p[2] + q[2] + q[0] * p[2] + q[1] * p[5];
        double d2 = p[5] + q[5] + q[3] * p[2] + q[4] * p[5];
        double determinant = m11 * m22 - m12 * m21;
        current[design] = (m22 * d1 - m12 * d2) / determinant;
        voltage[design] = (m11 * d2 - m21 * d1) / determinant;
    }
}
