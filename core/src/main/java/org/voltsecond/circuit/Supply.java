package org.voltsecond.circuit;

import java.util.List;

/**
 * The sources as they are from one instant on. A source that ramps is a state of its own, so that the system stays
 * autonomous; while it is constant its value enters as a constant.
 */
final class Supply {
    private final double[] values;
    private final double[] slopes;
    private final int[] states;
    private final int stateCount;

    private Supply(double[] values, double[] slopes, int[] states, int stateCount) {
        this.values = values;
        this.slopes = slopes;
        this.states = states;
        this.stateCount = stateCount;
    }

    /** The sources of a circuit just after a time, those that are named having states after those of the circuit. */
    static Supply of(Elements elements, List<String> withState, double time) {
        int n = elements.sources().size();
        double[] values = new double[n];
        double[] slopes = new double[n];
        int[] states = new int[n];
        for (int source = 0; source < n; source++) {
            values[source] = elements.sources().get(source).valueAt(time);
            slopes[source] = elements.sources().get(source).slopeAt(time);
            int index = withState.indexOf(elements.sourceNames().get(source));
            states[source] = index < 0 ? -1 : elements.stateCount() + index;
        }
        return new Supply(values, slopes, states, elements.stateCount() + withState.size());
    }

    /** Number of all states, those of the circuit first. */
    int stateCount() {
        return stateCount;
    }

    /** Adds a factor times the value of a source to an affine row: factors of all states, then the constant. */
    void addTo(double[] row, double factor, int source) {
        if (slopes[source] == 0) {
            row[stateCount] += factor * values[source];
        } else {
            row[states[source]] += factor;
        }
    }

    /** The rates of the states of sources; zero for the states of the circuit. */
    double[] rates() {
        double[] rates = new double[stateCount];
        for (int source = 0; source < states.length; source++) {
            if (states[source] >= 0) {
                rates[states[source]] = slopes[source];
            }
        }
        return rates;
    }

    /** Writes the values of sources that are states into a state. */
    void writeTo(double[] state) {
        for (int source = 0; source < states.length; source++) {
            if (states[source] >= 0) {
                state[states[source]] = values[source];
            }
        }
    }
}
