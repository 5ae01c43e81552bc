package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;

/**
 * The sources as they are from one instant on. A source that ramps is a state of its own, and every sine is two, so that
 * the system stays autonomous; while a source is constant its value enters as a constant.
 */
final class Supply {
    private static final int NONE = -1;

    private final double[] values;
    private final double[] slopes;
    private final int[] states;
    private final List<List<Oscillator>> oscillators;
    private final int stateCount;

    /** A sine: the first state is its value, the second is a quarter of a period ahead. */
    private record Oscillator(int first, double angular, double sine, double cosine) {}

    private Supply(double[] values, double[] slopes, int[] states, List<List<Oscillator>> oscillators, int stateCount) {
        this.values = values;
        this.slopes = slopes;
        this.states = states;
        this.oscillators = oscillators;
        this.stateCount = stateCount;
    }

    /** The states that the sources of a circuit need at some time. */
    static List<String> stateNames(Elements elements) {
        List<String> names = new ArrayList<>();
        for (int source = 0; source < elements.sources().size(); source++) {
            String name = elements.sourceNames().get(source);
            Profile profile = elements.sources().get(source);
            if (profile.ramps()) {
                names.add(name);
            }
            for (int k = 0; k < profile.sines().size(); k++) {
                names.add(sineName(name, k));
                names.add(name + " cosine " + (k + 1));
            }
        }
        return names;
    }

    private static String sineName(String source, int index) {
        return source + " sine " + (index + 1);
    }

    /** The sources of a circuit just after a time, with named states after those of the circuit. */
    static Supply of(Elements elements, List<String> stateNames, double time) {
        int n = elements.sources().size();
        int stored = elements.stateCount();
        double[] values = new double[n];
        double[] slopes = new double[n];
        int[] states = new int[n];
        List<List<Oscillator>> oscillators = new ArrayList<>();
        for (int source = 0; source < n; source++) {
            String name = elements.sourceNames().get(source);
            Profile profile = elements.sources().get(source);
            values[source] = profile.withoutSines(time);
            slopes[source] = profile.slopeAt(time);
            int index = stateNames.indexOf(name);
            states[source] = index < 0 ? NONE : stored + index;
            List<Oscillator> ofSource = new ArrayList<>();
            for (int k = 0; k < profile.sines().size(); k++) {
                Profile.Sine sine = profile.sines().get(k);
                int first = stored + stateNames.indexOf(sineName(name, k));
                ofSource.add(new Oscillator(first, sine.angular(), sine.sineAt(time), sine.cosineAt(time)));
            }
            oscillators.add(ofSource);
        }
        return new Supply(values, slopes, states, oscillators, stored + stateNames.size());
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
        for (Oscillator oscillator : oscillators.get(source)) {
            row[oscillator.first()] += factor;
        }
    }

    /** The rates of the states of sources as affine rows; zero for the states of the circuit. */
    double[][] rates() {
        double[][] rates = new double[stateCount][stateCount + 1];
        for (int source = 0; source < states.length; source++) {
            if (states[source] != NONE) {
                rates[states[source]][stateCount] = slopes[source];
            }
            for (Oscillator oscillator : oscillators.get(source)) {
                rates[oscillator.first()][oscillator.first() + 1] = oscillator.angular();
                rates[oscillator.first() + 1][oscillator.first()] = -oscillator.angular();
            }
        }
        return rates;
    }

    /** Writes the values of sources that are states into a state. */
    void writeTo(double[] state) {
        for (int source = 0; source < states.length; source++) {
            if (states[source] != NONE) {
                state[states[source]] = values[source];
            }
            for (Oscillator oscillator : oscillators.get(source)) {
                state[oscillator.first()] = oscillator.sine();
                state[oscillator.first() + 1] = oscillator.cosine();
            }
        }
    }
}
