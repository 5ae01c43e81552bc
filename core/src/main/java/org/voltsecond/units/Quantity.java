package org.voltsecond.units;

import java.math.BigDecimal;
import java.math.MathContext;

/**
 * Quantities in engineering notation: {@code "22 µH"} read into 22e-6 and written from it.
 *
 * <p>Values are plain {@code double}s in units without prefix. Nothing depends on the locale or on the Java release.
 *
 * <pre>{@code
 * double inductance = Quantity.parse("22 uH", Unit.HENRY); // 22 µH
 * String ripple = Quantity.format(0.0044031, Unit.VOLT, 3); // "4.40 mV"
 * String exact = Quantity.format(47e-6, Unit.FARAD); // "47 µF"
 * }</pre>
 */
public final class Quantity {
    private static final MathContext BRIEF = new MathContext(6);

    private Quantity() {}

    /**
     * Reads a quantity with its unit, such as "22 µH", "22uH", "80 mΩ", "80 mohm", "50 mA/µs" or "1e-3 s".
     *
     * <p>The prefixes are f, p, n, µ (or u), m, k, M, G and T; they and the units are case sensitive. A space may stand
     * before the unit. Both code points of µ and of Ω are read alike.
     *
     * <p><b>Accuracy.</b> Correctly rounded: {@code parse("22 µH", HENRY) == 22e-6}, bit for bit.
     *
     * @param text the quantity as written
     * @param unit unit that the quantity must have
     * @return the value in that unit without prefix; always finite
     * @throws IllegalArgumentException if the text is empty, no finite number, has no unit, another or an unknown one;
     *     the message gives the text, what is wrong and what would be valid
     */
    public static double parse(String text, Unit unit) {
        return new QuantityReader(text, unit).read();
    }

    /**
     * Writes a value with a given number of significant digits and the prefix that leaves one to three digits before
     * the point: 999.95 Hz with three digits is "1.00 kHz".
     *
     * <p>Beyond the prefixes an exponent is written ("1.00e-18 V"). Where the unit takes no prefix, numbers from 1e-4
     * to a million are written plainly. Zero is "0 V", whatever the number of digits.
     *
     * <p><b>Accuracy.</b> The nearest decimal number to the exact value of the {@code double}, a tie to the even digit.
     *
     * @param value the value in the unit without prefix; if it is not finite, it is written as NaN or Infinity
     * @param unit its unit
     * @param digits significant digits, 1 to 17
     * @return the text
     * @throws IllegalArgumentException if the number of digits is out of range
     */
    public static String format(double value, Unit unit, int digits) {
        if (digits < 1 || digits > EngineeringNotation.MOST_DIGITS) {
            throw new IllegalArgumentException(
                    "significant digits: " + digits + " given, valid are 1 to " + EngineeringNotation.MOST_DIGITS);
        }
        return Double.isFinite(value)
                ? EngineeringNotation.write(EngineeringNotation.rounded(value, digits), unit)
                : notFinite(value, unit);
    }

    /**
     * Writes a value with as few digits as are needed to read the very same value back.
     *
     * @param value the value in the unit without prefix; if it is not finite, it is written as NaN or Infinity
     * @param unit its unit
     * @return the text, for instance "22 µH"
     */
    public static String format(double value, Unit unit) {
        return Double.isFinite(value)
                ? EngineeringNotation.write(EngineeringNotation.shortest(value), unit)
                : notFinite(value, unit);
    }

    /**
     * Writes a value for a sentence: up to six significant digits, none that say nothing.
     *
     * @param value the value in the unit without prefix; if it is not finite, it is written as NaN or Infinity
     * @param unit its unit
     * @return the text, for instance "3.33333 µs" or "15 ms"
     */
    public static String brief(double value, Unit unit) {
        return Double.isFinite(value)
                ? format(new BigDecimal(value).round(BRIEF).doubleValue(), unit)
                : notFinite(value, unit);
    }

    private static String notFinite(double value, Unit unit) {
        return EngineeringNotation.withUnit(Double.toString(value), unit.symbol());
    }
}
