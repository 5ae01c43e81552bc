package org.voltsecond.characteristic;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;

/**
 * Where the incremental value of an inductor or a capacitor changes: from this magnitude of its current or voltage on, up to the
 * next bend, it has another inductance dλ/di or capacitance dq/dv. Flux and charge are continuous and piecewise linear.
 * Immutable.
 *
 * <pre>{@code
 * List<Bend> saturation = List.of(new Bend(4, micro(12)), new Bend(6, micro(5))); // above 4 A 12 µH, above 6 A 5 µH
 * Part choke = new Part.Inductor("L1", "sw", "out", micro(22), 0, 0, saturation);
 * double[] ampere = {0, 2, 4, 6};
 * double[] henry = {micro(22), micro(21), micro(15), micro(7)};
 * Bend.Fit fit = Bend.fit(ampere, henry, 0.05); // a curve of a data sheet, to 5 %
 * int segments = fit.bends().size(); // as many bends
 * }</pre>
 *
 * @param above magnitude of the current, A, or of the voltage, V, from which it holds; more than 0
 * @param value incremental inductance, H, or capacitance, F, from there on; more than 0
 */
public record Bend(double above, double value) {
    /**
     * The curve of a data sheet as segments.
     *
     * @param value inductance, H, or capacitance, F, below the first bend
     * @param bends what follows, in ascending order
     * @param error largest deviation of the incremental value from the curve, relative to it
     * @param storedError largest deviation of the flux or charge from that of the curve, relative to it
     */
    public record Fit(double value, List<Bend> bends, double error, double storedError) {
        /**
         * Copies the list.
         *
         * @param value inductance, H, or capacitance, F, below the first bend
         * @param bends what follows
         * @param error largest relative deviation of the incremental value
         * @param storedError largest relative deviation of the flux or charge
         */
        public Fit {
            bends = List.copyOf(bends);
        }
    }

    /**
     * Turns a table of a data sheet into as few segments as an error allows: incremental inductance over current, or incremental
     * capacitance over voltage, straight between the points, constant before the first and beyond the last. Each segment has the
     * mean of the curve over it, so that flux and charge are right at every bend, and reaches as far as that mean is within the
     * error of the curve.
     *
     * @param at currents, A, or voltages, V; ascending, 0 or more
     * @param values inductances, H, or capacitances, F; more than 0
     * @param error how far a segment may be from the curve, relative to the curve; more than 0, below 1
     * @return the segments
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static Fit fit(double[] at, double[] values, double error) {
        return new Curve(at, values, error).fit();
    }

    /** A curve of a data sheet that is being cut into segments. */
    private static final class Curve {
        /** Halvings by which the end of a segment is found: to the last digit. */
        private static final int HALVINGS = 60;

        private final double[] at;
        private final double[] values;
        private final double error;

        Curve(double[] at, double[] values, double error) {
            boolean fits = at.length == values.length && at.length > 0 && at[0] >= 0 && error > 0 && error < 1;
            for (int k = 0; fits && k < at.length; k++) {
                fits = Double.isFinite(at[k])
                        && values[k] > 0
                        && values[k] < Double.POSITIVE_INFINITY
                        && (k == 0 || at[k] > at[k - 1]);
            }
            if (!fits) {
                throw new IllegalArgumentException(
                        "a curve needs as many values as places, the places ascending from 0 on, the "
                                + "values more than 0, and an error above 0 and below 1, but was "
                                + Arrays.toString(values)
                                + " at " + Arrays.toString(at) + ", error " + error);
            }
            this.at = at.clone();
            this.values = values.clone();
            this.error = error;
        }

        private double valueAt(double x) {
            int above = 0;
            while (above < at.length && at[above] <= x) {
                above++;
            }
            if (above == 0 || above == at.length) {
                return values[above == 0 ? 0 : at.length - 1];
            }
            double share = (x - at[above - 1]) / (at[above] - at[above - 1]);
            return values[above - 1] + share * (values[above] - values[above - 1]);
        }

        /** The places of the table between two others, with these. */
        private double[] places(double from, double to) {
            return DoubleStream.concat(
                            DoubleStream.of(from, to), Arrays.stream(at).filter(x -> x > from && x < to))
                    .sorted()
                    .toArray();
        }

        /** Flux or charge of the curve between two places: it is straight between those of the table. */
        private double stored(double from, double to) {
            double sum = 0;
            double[] places = places(from, to);
            for (int k = 1; k < places.length; k++) {
                sum += (valueAt(places[k - 1]) + valueAt(places[k])) / 2 * (places[k] - places[k - 1]);
            }
            return sum;
        }

        private double mean(double from, double to) {
            return to > from ? stored(from, to) / (to - from) : valueAt(from);
        }

        /** How far the mean of a stretch is from the curve there: its extremes lie at places of the table or at its ends. */
        private double errorOf(double from, double to) {
            double mean = mean(from, to);
            return Arrays.stream(places(from, to))
                    .map(x -> Math.abs(mean / valueAt(x) - 1))
                    .max()
                    .orElse(0);
        }

        Fit fit() {
            List<Bend> segments = new ArrayList<>();
            double last = at[at.length - 1];
            double from = 0;
            double largest = 0;
            double largestStored = 0;
            while (segments.isEmpty() || from < last) {
                double to = end(from, last);
                double mean = mean(from, to);
                largest = Math.max(largest, errorOf(from, to));
                for (double x : places(from, to)) {
                    // between places the deviation is largest where the curve meets the mean, at most so much
                    double kept = x > 0 ? stored(0, from) + mean * (x - from) : 0;
                    double away = x > 0 ? Math.abs(kept / stored(0, x) - 1) : 0;
                    largestStored = Math.max(largestStored, away);
                }
                largestStored = Math.max(largestStored, meeting(from, to, mean));
                segments.add(new Bend(from, mean));
                from = to;
            }
            segments.add(new Bend(last, values[values.length - 1]));
            return new Fit(segments.get(0).value, segments.subList(1, segments.size()), largest, largestStored);
        }

        /** The deviation of the flux where the curve meets the mean, between places of the table. */
        private double meeting(double from, double to, double mean) {
            double largest = 0;
            double[] places = places(from, to);
            for (int k = 1; k < places.length; k++) {
                double left = valueAt(places[k - 1]);
                double right = valueAt(places[k]);
                if ((left - mean) * (right - mean) < 0) {
                    double x = places[k - 1] + (mean - left) / (right - left) * (places[k] - places[k - 1]);
                    largest = Math.max(largest, Math.abs((stored(0, from) + mean * (x - from)) / stored(0, x) - 1));
                }
            }
            return largest;
        }

        /** How far a segment reaches that begins somewhere. */
        private double end(double from, double last) {
            double low = from;
            double high = last;
            if (errorOf(from, last) <= error) {
                return last;
            }
            for (int k = 0; k < HALVINGS; k++) {
                double middle = 0.5 * (low + high);
                if (errorOf(from, middle) <= error) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return low;
        }
    }

    /**
     * Checks bends of a part: all values positive, in ascending order.
     *
     * @param faults where what is wrong is added
     * @param bends what is checked
     * @param what its name, such as "saturation"
     * @param quantity name of the value, such as "inductance"
     * @param unit its unit
     * @param unitOfKnee unit of where it begins
     */
    public static void check(
            Faults faults, List<Bend> bends, String what, String quantity, String unit, String unitOfKnee) {
        double last = 0;
        for (int k = 0; k < bends.size(); k++) {
            Bend bend = bends.get(k);
            faults.positive(what + "[" + k + "].above", bend.above, unitOfKnee)
                    .positive(what + "[" + k + "]." + quantity, bend.value, unit);
            if (k > 0 && bend.above <= last) {
                faults.add(what + "[" + k + "].above must be more than that of the bend before it, " + last + " "
                        + unitOfKnee + ", but was " + bend.above + " " + unitOfKnee);
            }
            last = bend.above;
        }
    }

    /**
     * Returns the incremental value at a magnitude.
     *
     * @param bends as they are, in ascending order
     * @param value the value below the first bend
     * @param magnitude of the current, A, or the voltage, V; at a bend the value below it holds
     * @return H, F, or a share, as the values are
     */
    public static double valueAt(List<Bend> bends, double value, double magnitude) {
        double found = value;
        for (Bend bend : bends) {
            if (magnitude > bend.above) {
                found = bend.value;
            }
        }
        return found;
    }

    /**
     * Returns bends of which a share is left.
     *
     * @param bends as they are, in ascending order
     * @param value the value below the first bend, H or F
     * @param share from 0 (none is left) to 1 (as they are)
     * @return the less bent ones
     */
    public static List<Bend> straightened(List<Bend> bends, double value, double share) {
        return share == 0
                ? List.of()
                : bends.stream()
                        .map(bend -> new Bend(bend.above, value + share * (bend.value - value)))
                        .toList();
    }
}
