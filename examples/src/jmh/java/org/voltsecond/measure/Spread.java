package org.voltsecond.measure;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;

/** The values of one row in several Java machines. */
final class Spread {
    private final List<Double> values = new ArrayList<>();

    void add(double value) {
        values.add(value);
    }

    boolean isEmpty() {
        return values.isEmpty();
    }

    double median() {
        List<Double> sorted = values.stream().sorted().toList();
        int half = sorted.size() / 2;
        return sorted.size() % 2 == 1 ? sorted.get(half) : 0.5 * (sorted.get(half - 1) + sorted.get(half));
    }

    /** Median and range, three digits. */
    @Override
    public String toString() {
        return isEmpty()
                ? "failed"
                : digits(median()) + " (" + digits(Collections.min(values)) + " to " + digits(Collections.max(values))
                        + ")";
    }

    static String digits(double value) {
        int decimals = value <= 0 ? 0 : Math.max(0, 2 - (int) Math.floor(Math.log10(value)));
        return String.format(Locale.ROOT, "%,." + decimals + "f", value);
    }
}
