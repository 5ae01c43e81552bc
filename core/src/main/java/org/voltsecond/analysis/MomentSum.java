package org.voltsecond.analysis;

import org.voltsecond.circuit.Circuit;
import org.voltsecond.engine.Configuration;

/**
 * The second moments of all intervals in which one configuration of one circuit held. The sum keeps what rounding takes
 * away (A. Neumaier, Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, ZAMM 54, 1974, pp. 39-51,
 * from memory), since in the energies that follow from it large moments may cancel.
 */
final class MomentSum {
    final Circuit circuit;
    final Configuration configuration;
    private final int size;
    private final double[][] sum;
    private final double[][] lost;

    MomentSum(Circuit circuit, Configuration configuration) {
        this.circuit = circuit;
        this.configuration = configuration;
        size = configuration.dimension() + 2;
        sum = new double[size][size];
        lost = new double[size][size];
    }

    /** Adds a symmetric matrix. */
    void add(double[][] moments) {
        for (int i = 0; i < size; i++) {
            for (int j = i; j < size; j++) {
                double old = sum[i][j];
                double value = moments[i][j];
                double next = old + value;
                lost[i][j] += Math.abs(old) >= Math.abs(value) ? (old - next) + value : (value - next) + old;
                sum[i][j] = next;
            }
        }
    }

    double[][] values() {
        double[][] values = new double[size][size];
        for (int i = 0; i < size; i++) {
            for (int j = i; j < size; j++) {
                values[i][j] = sum[i][j] + lost[i][j];
                values[j][i] = values[i][j];
            }
        }
        return values;
    }
}
