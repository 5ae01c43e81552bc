package org.voltsecond.units;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** Writes a rounded decimal number with the prefix that leaves one to three digits before the point. */
final class EngineeringNotation {

    /** A {@code double} needs no more digits to be told from its neighbours (IEEE 754-2019, 5.12.2). */
    static final int MOST_DIGITS = 17;

    private static final int SMALLEST_PLAIN = -4;
    private static final int LARGEST_PLAIN = 5;

    private EngineeringNotation() {}

    /** The finite value, rounded half to even to exactly so many significant digits; zero is just 0. */
    static BigDecimal rounded(double value, int digits) {
        BigDecimal rounded = new BigDecimal(value).round(new MathContext(digits, RoundingMode.HALF_EVEN));
        return rounded.signum() == 0
                ? BigDecimal.ZERO
                : rounded.setScale(rounded.scale() + digits - rounded.precision(), RoundingMode.UNNECESSARY);
    }

    /** The finite value with as few digits as tell it from every other {@code double}. */
    static BigDecimal shortest(double value) {
        // Not Double.toString, which gives more digits than needed on some Java releases and not on others.
        int digits = 1;
        while (digits < MOST_DIGITS && rounded(value, digits).doubleValue() != value) {
            digits++;
        }
        return rounded(value, digits);
    }

    static String write(BigDecimal number, Unit unit) {
        if (number.signum() == 0) {
            return withUnit("0", unit.symbol());
        }
        int exponent = number.precision() - number.scale() - 1;
        if (!unit.takesPrefix() && SMALLEST_PLAIN <= exponent && exponent <= LARGEST_PLAIN) {
            return withUnit(number.toPlainString(), unit.symbol());
        }
        int thousands = 3 * Math.floorDiv(exponent, 3);
        String scaled = number.scaleByPowerOfTen(-thousands).toPlainString();
        if (unit.takesPrefix()) {
            for (Prefix prefix : Prefix.values()) {
                if (prefix.exponent() == thousands) {
                    return withUnit(scaled, prefix.symbol() + unit.symbol());
                }
            }
        }
        return withUnit(thousands == 0 ? scaled : scaled + "e" + thousands, unit.symbol());
    }

    static String withUnit(String number, String unit) {
        return unit.isEmpty() ? number : number + " " + unit;
    }
}
