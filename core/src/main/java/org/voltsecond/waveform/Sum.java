package org.voltsecond.waveform;

/**
 * A sum that keeps what rounding takes away, so that tens of thousands of intervals cost no digits (A. Neumaier,
 * Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, ZAMM 54, 1974, pp. 39-51, from memory).
 */
final class Sum {
    private double sum;
    private double lost;

    void add(double value) {
        double next = sum + value;
        lost += Math.abs(sum) >= Math.abs(value) ? (sum - next) + value : (value - next) + sum;
        sum = next;
    }

    double value() {
        return sum + lost;
    }
}
