package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A value of a data sheet over the frequency: straight between its points on a logarithmic axis of frequency, and beyond the ends as at
 * the ends. Immutable.
 *
 * <pre>{@code
 * FrequencyTable factors = FrequencyTable.of(120, 0.5, kilo(10), 0.9, kilo(100), 1);
 * double between = factors.at(kilo(31.6228)); // 0.95
 * double beyond = factors.at(mega(1)); // 1
 * }</pre>
 *
 * @param points frequencies, Hz, ascending, more than 0, with the value at each, 0 or more; one or more
 */
public record FrequencyTable(List<Point> points) {
    /**
     * One row.
     *
     * @param frequency Hz
     * @param value what holds there
     */
    public record Point(double frequency, double value) {}

    /**
     * Checks the rows.
     *
     * @param points frequencies with the value at each
     * @throws IllegalArgumentException telling every fault, if there is none, they do not ascend, or a value is below 0
     */
    public FrequencyTable {
        points = List.copyOf(points);
        List<String> faults = new ArrayList<>();
        if (points.isEmpty()) {
            faults.add("it must have one point or more");
        }
        double before = 0;
        for (Point point : points) {
            if (!(point.frequency() > before && point.frequency() < Double.POSITIVE_INFINITY)) {
                faults.add("frequencies must ascend from above 0 Hz but " + point.frequency() + " Hz follows " + before
                        + " Hz");
            }
            before = point.frequency();
            if (!(point.value() >= 0 && point.value() < Double.POSITIVE_INFINITY)) {
                faults.add("the value at " + point.frequency() + " Hz must be 0 or more but was " + point.value());
            }
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("table over the frequency: " + String.join("; ", faults));
        }
    }

    /**
     * Returns a table.
     *
     * @param pairs frequency in Hz and value, in turns
     * @return the table
     * @throws IllegalArgumentException if there is an odd number of them, or they are no table
     */
    public static FrequencyTable of(double... pairs) {
        if (pairs.length % 2 != 0) {
            throw new IllegalArgumentException(
                    "a table over the frequency must be given in pairs but was " + Arrays.toString(pairs));
        }
        List<Point> points = new ArrayList<>();
        for (int k = 0; k < pairs.length; k += 2) {
            points.add(new Point(pairs[k], pairs[k + 1]));
        }
        return new FrequencyTable(points);
    }

    /**
     * Returns the value at a frequency.
     *
     * @param frequency Hz; more than 0
     * @return the value
     */
    public double at(double frequency) {
        Point before = points.get(0);
        for (Point point : points) {
            if (frequency <= point.frequency()) {
                double decades = StrictMath.log(point.frequency() / before.frequency());
                double share = decades > 0 ? StrictMath.log(frequency / before.frequency()) / decades : 1;
                return before.value() + (point.value() - before.value()) * share;
            }
            before = point;
        }
        return before.value();
    }

    /** From where on it is constant, Hz. */
    double last() {
        return points.get(points.size() - 1).frequency();
    }
}
