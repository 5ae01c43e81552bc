package org.voltsecond.units;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Series of preferred values for resistors, capacitors and inductors.
 *
 * <p>Source: IEC 60063:2015, Preferred number series for resistors and capacitors. E48, E96 and E192 are the rounded
 * geometric series 10<sup>k/N</sup> with three digits, with one exception in E192 (9.20 where rounding gives 9.19). E24
 * and its subsets differ from rounding in eight places and are listed.
 *
 * <p><b>Accuracy.</b> Every value is the correctly rounded {@code double}: 4.7e-6, not 4.7 times something.
 *
 * <pre>{@code
 * double inductor = PreferredSeries.E6.atLeast(19.4e-6); // 22 µH
 * double divider = PreferredSeries.E96.nearest(5.2e3); // 5.23 kΩ
 * List<Double> capacitors = PreferredSeries.E3.between(10e-6, 47e-6); // F: three of them
 * }</pre>
 */
@SuppressWarnings("ImmutableEnumChecker") // its list comes from Stream.toList, which cannot be changed
public enum PreferredSeries {
    /** 3 values a decade. */
    E3(3),
    /** 6 values a decade. */
    E6(6),
    /** 12 values a decade. */
    E12(12),
    /** 24 values a decade. */
    E24(24),
    /** 48 values a decade. */
    E48(48),
    /** 96 values a decade. */
    E96(96),
    /** 192 values a decade. */
    E192(192);

    /** Far from where values would overflow or lose digits, and far beyond any part. */
    private static final double SMALLEST = 1e-100;

    private static final double LARGEST = 1e100;

    private final List<Integer> hundredths;

    PreferredSeries(int count) {
        this.hundredths = IntStream.range(0, count)
                .map(index -> count <= 24 ? listed(index * (24 / count)) : computed(index, count))
                .boxed()
                .toList();
    }

    /**
     * Values of the decade from 1 up to, but without, 10.
     *
     * @return the values, ascending
     */
    public List<Double> decade() {
        return IntStream.range(0, hundredths.size()).mapToObj(this::valueAt).toList();
    }

    /**
     * Preferred value that differs least from the value given; of two equally near ones the smaller.
     *
     * @param value value wanted, in any unit, 1e-100 to 1e100
     * @return the preferred value in the same unit
     * @throws IllegalArgumentException if the value is not in that range
     */
    public double nearest(double value) {
        double above = atLeast(value);
        double below = atMost(value);
        return value - below <= above - value ? below : above;
    }

    /**
     * Smallest preferred value that is not below the value given.
     *
     * @param value value wanted, in any unit, 1e-100 to 1e100
     * @return the preferred value in the same unit
     * @throws IllegalArgumentException if the value is not in that range
     */
    public double atLeast(double value) {
        return valueAt(firstAtLeast(checked("value", value)));
    }

    /**
     * Largest preferred value that is not above the value given.
     *
     * @param value value wanted, in any unit, 1e-100 to 1e100
     * @return the preferred value in the same unit
     * @throws IllegalArgumentException if the value is not in that range
     */
    public double atMost(double value) {
        int index = firstAtLeast(checked("value", value));
        return valueAt(index) == value ? value : valueAt(index - 1);
    }

    /**
     * All preferred values in a range, its ends included.
     *
     * @param low lower end, in any unit, 1e-100 to 1e100
     * @param high upper end in the same unit, not below the lower one
     * @return the values, ascending; empty if none lies in the range
     * @throws IllegalArgumentException if an end is out of its range
     */
    public List<Double> between(double low, double high) {
        checked("lower end", low);
        checked("upper end", high);
        if (low > high) {
            throw new IllegalArgumentException(
                    "range of preferred values: lower end " + low + " is above upper end " + high + "; swap them");
        }
        List<Double> values = new ArrayList<>();
        for (int index = firstAtLeast(low); valueAt(index) <= high; index++) {
            values.add(valueAt(index));
        }
        return List.copyOf(values);
    }

    /** Index, counted from the value 1, of the first preferred value that is not below a value. */
    private int firstAtLeast(double value) {
        // The logarithm is only a first guess, corrected against the values themselves.
        int index = hundredths.size() * (int) Math.floor(Math.log10(value));
        while (valueAt(index) >= value) {
            index--;
        }
        while (valueAt(index) < value) {
            index++;
        }
        return index;
    }

    private double valueAt(int index) {
        int decade = Math.floorDiv(index, hundredths.size());
        int position = Math.floorMod(index, hundredths.size());
        return BigDecimal.valueOf(hundredths.get(position), 2 - decade).doubleValue();
    }

    private static double checked(String what, double value) {
        if (!(value >= SMALLEST && value <= LARGEST)) {
            throw new IllegalArgumentException(
                    "preferred values: " + what + " " + value + " given, valid is " + SMALLEST + " to " + LARGEST);
        }
        return value;
    }

    private static int listed(int index) {
        int[] tenths = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};
        return 10 * tenths[index];
    }

    private static int computed(int index, int count) {
        return count == 192 && index == 185 ? 920 : (int) Math.round(100 * StrictMath.pow(10, (double) index / count));
    }
}
