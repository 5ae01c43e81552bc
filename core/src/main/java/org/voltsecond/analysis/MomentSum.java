package org.voltsecond.analysis;

import java.util.Map;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;

/**
 * The second moments of all intervals in which one configuration of one circuit held. The sum keeps what rounding takes
 * away (A. Neumaier, Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, ZAMM 54, 1974, pp. 39-51,
 * from memory), since in the energies that follow from it large moments may cancel.
 */
final class MomentSum {
    final Circuit circuit;
    final Configuration configuration;
    /** Voltage and current of each port. */
    final Map<String, AffineForm[]> ports;

    /** Which states, constant and time the ports depend on; no other moment is asked for. */
    private final boolean[] wanted;

    private final int size;
    private final double[][] sum;
    private final double[][] lost;

    MomentSum(Circuit circuit, Configuration configuration, Map<String, AffineForm[]> ports) {
        this.ports = ports;
        this.circuit = circuit;
        this.configuration = configuration;
        size = configuration.dimension() + 2;
        sum = new double[size][size];
        lost = new double[size][size];
        wanted = new boolean[size];
        for (AffineForm[] pair : ports.values()) {
            want(pair[0]);
            want(pair[1]);
        }
    }

    private void want(AffineForm form) {
        for (int i = 0; i < size; i++) {
            wanted[i] |= factor(form, i) != 0;
        }
    }

    /** The factor of a state, of the constant 1, or of the time since the clock edge. */
    static double factor(AffineForm form, int i) {
        if (i < form.dimension()) {
            return form.coefficient(i);
        }
        return i == form.dimension() ? form.constant() : form.slope();
    }

    /** Adds an interval that comes so many times. */
    void add(Interval interval, int times) {
        double[][] moments = interval.secondMoments(wanted);
        for (int i = 0; i < size; i++) {
            for (int j = i; j < size; j++) {
                double old = sum[i][j];
                double value = times * moments[i][j];
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
