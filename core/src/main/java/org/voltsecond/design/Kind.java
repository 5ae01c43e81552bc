package org.voltsecond.design;

import java.util.Arrays;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a key that takes a quantity wants.
 *
 * @param unit the unit
 * @param range which values are valid
 * @param example a valid value as it would be written
 */
record Kind(Unit unit, Range range, String example) {
    boolean isPlausible(double value) {
        double size = Math.abs(value);
        return size == 0 || (size >= least(unit) && size <= most(unit));
    }

    /** The example as a number in SI units; not a number if it is an array. */
    double exampleValue() {
        if (example.startsWith("[")) {
            return Double.NaN;
        }
        return example.startsWith("\"") ? Quantity.parse(example.replace("\"", ""), unit) : Double.parseDouble(example);
    }

    /** What is plausible, in words that follow "valid: ". */
    String plausible() {
        String symbol = unit.symbol().isEmpty() ? "" : " " + unit.symbol();
        return (range.contains(0) ? "0, or from " : "from ") + written(least(unit)) + " to " + written(most(unit))
                + symbol + ", for example " + example;
    }

    private static String written(double value) {
        return String.format(java.util.Locale.ROOT, "%.0e", value).replaceFirst("e\\+?(-?)0?", "e$1");
    }

    /**
     * Less than this is no part, whatever the unit that it is written with: a fraction of what a trace on a board has.
     * Common practice, no source. A share of the period below the last digit of a time would be none.
     */
    private static double least(Unit unit) {
        return switch (unit) {
            case FARAD -> 1e-13;
            case HENRY -> 1e-10;
            case OHM, VOLT -> 1e-9;
            case SECOND, COULOMB, ONE -> 1e-15;
            case HERTZ -> 1e-3;
            default -> 1e-12;
        };
    }

    /** More than this is no converter; common practice, no source. */
    private static double most(Unit unit) {
        return switch (unit) {
            case FARAD, HENRY, COULOMB -> 1e4;
            case VOLT, AMPERE, SECOND -> 1e7;
            case HERTZ -> 1e10;
            default -> 1e12;
        };
    }

    /** What is valid, in words that follow "valid: ". */
    String valid() {
        String of = range == Range.FINITE ? " of " : " ";
        return range.words() + (unit.symbol().isEmpty() ? "" : of + unit.symbol()) + ", for example " + example;
    }

    /** Which numbers a key takes. Every test is one that NaN fails. */
    enum Range {
        POSITIVE("more than 0"),
        NOT_NEGATIVE("0 or more"),
        FRACTION("from 0 to 1"),
        SHARE("more than 0, at most 1"),
        TO_TWO("more than 0, at most 2"),
        PHASE("0 or more, below 1"),
        RIGHT_ANGLE("more than 0, below 90"),
        FINITE("any finite number");

        private final String words;

        Range(String words) {
            this.words = words;
        }

        static Range of(String words) {
            return Arrays.stream(values())
                    .filter(range -> range.words.equals(words))
                    .findFirst()
                    .orElseThrow(() -> new IllegalStateException("no range of values: " + words));
        }

        boolean contains(double value) {
            return switch (this) {
                case POSITIVE -> value > 0 && value < Double.POSITIVE_INFINITY;
                case NOT_NEGATIVE -> value >= 0 && value < Double.POSITIVE_INFINITY;
                case FRACTION -> value >= 0 && value <= 1;
                case SHARE -> value > 0 && value <= 1;
                case TO_TWO -> value > 0 && value <= 2;
                case RIGHT_ANGLE -> value > 0 && value < 90;
                case PHASE -> value >= 0 && value < 1;
                case FINITE -> Double.isFinite(value);
            };
        }

        String words() {
            return words;
        }
    }
}
