package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;

/**
 * How a resistance goes with its temperature, as a factor to the value that the circuit has: from table points, straight between
 * them, and beyond the ends along the outermost two. Two points make the usual linear coefficient. Immutable.
 *
 * <pre>{@code
 * TemperatureCurve silicon = TemperatureCurve.linear(0.006, 25); // 1/K, from the data sheet's value at 25 °C
 * double hot = silicon.factorAt(125); // 1.6
 * double winding = TemperatureCurve.copper(25).factorAt(100); // 1.289
 * }</pre>
 *
 * @param points temperatures, °C, ascending, with the factor at each; two or more
 */
public record TemperatureCurve(List<Point> points) {
    /**
     * Temperature coefficient of the resistance of annealed copper at 20 °C, 1/K. Source: IEC 60028, International standard of
     * resistance for copper (1925); IEC 60228 has the same line for conductors of cables, as 254.5 / (234.5 + t). From memory.
     */
    public static final double COPPER = 0.00393;

    /** The temperature at which {@link #COPPER} holds, °C. */
    public static final double COPPER_REFERENCE = 20;

    /** Two points of a straight line; how far apart they are plays no part. */
    private static final double APART = 100;

    /**
     * One row of a table.
     *
     * @param temperature °C
     * @param factor to the value of the circuit; more than 0
     */
    public record Point(double temperature, double factor) {}

    /**
     * Checks the table.
     *
     * @param points temperatures, ascending, with the factor at each
     * @throws IllegalArgumentException telling every fault, if there are less than two, they do not ascend, or a factor is not more than 0
     */
    public TemperatureCurve {
        points = List.copyOf(points);
        List<String> faults = new ArrayList<>();
        if (points.size() < 2) {
            faults.add("it must have two points or more but had " + points.size());
        }
        for (int k = 0; k < points.size(); k++) {
            Point point = points.get(k);
            if (!(point.factor() > 0 && point.factor() < Double.POSITIVE_INFINITY)) {
                faults.add(
                        "the factor at " + point.temperature() + " °C must be more than 0 but was " + point.factor());
            }
            if (k > 0 && !(point.temperature() > points.get(k - 1).temperature())) {
                faults.add("temperatures must ascend but " + point.temperature() + " °C follows "
                        + points.get(k - 1).temperature() + " °C");
            }
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("resistance over temperature: " + String.join("; ", faults));
        }
    }

    /**
     * Returns a straight line.
     *
     * @param coefficient relative change, 1/K; any finite number
     * @param reference the temperature at which the circuit's value holds, °C
     * @return the line 1 + coefficient (T - reference)
     * @throws IllegalArgumentException if a value is not finite
     */
    public static TemperatureCurve linear(double coefficient, double reference) {
        // the second point lies where the line is above 1
        double apart = coefficient < 0 ? -APART : APART;
        Point first = new Point(reference, 1);
        Point second = new Point(reference + apart, 1 + coefficient * apart);
        return new TemperatureCurve(apart < 0 ? List.of(second, first) : List.of(first, second));
    }

    /**
     * Returns how the resistance of copper goes.
     *
     * @param reference the temperature at which the circuit's value holds, °C; above -234 °C, where the line ends
     * @return the line of {@link #COPPER} through the factor 1 at the reference
     * @throws IllegalArgumentException if the reference is out of its range
     */
    public static TemperatureCurve copper(double reference) {
        return linear(COPPER / (1 + COPPER * (reference - COPPER_REFERENCE)), reference);
    }

    /**
     * Returns the factor at a temperature.
     *
     * @param temperature °C
     * @return resistance over that of the circuit; below zero where a line is followed too far
     */
    public double factorAt(double temperature) {
        Point from = points.get(segment(temperature));
        return from.factor() + slopeAt(temperature) * (temperature - from.temperature());
    }

    /**
     * Returns the slope at a temperature.
     *
     * @param temperature °C; at a point of the table the slope above it counts
     * @return change of the factor, 1/K
     */
    public double slopeAt(double temperature) {
        int k = segment(temperature);
        Point from = points.get(k);
        Point to = points.get(k + 1);
        return (to.factor() - from.factor()) / (to.temperature() - from.temperature());
    }

    private int segment(double temperature) {
        int k = 0;
        while (k + 2 < points.size() && points.get(k + 1).temperature() <= temperature) {
            k++;
        }
        return k;
    }
}
