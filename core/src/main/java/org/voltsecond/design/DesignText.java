package org.voltsecond.design;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import org.voltsecond.sizing.Span;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Pieces of a design file that is written. */
final class DesignText {
    private DesignText() {}

    /** To one significant digit. */
    static double roundedUp(double value) {
        return BigDecimal.valueOf(value)
                .round(new MathContext(1, RoundingMode.UP))
                .doubleValue();
    }

    /** To four significant digits, as one writes a value down. */
    static double rounded(double value) {
        return BigDecimal.valueOf(value).round(new MathContext(4)).doubleValue();
    }

    /** To six significant digits, where the output follows the value. */
    static double written(double value) {
        return new BigDecimal(value).round(new MathContext(6)).doubleValue();
    }

    static String range(Span range, Unit unit) {
        return Quantity.format(range.low(), unit) + " to " + Quantity.format(range.high(), unit);
    }

    static String ends(Span range, Unit unit) {
        return "from = " + quantity(range.low(), unit) + ", to = " + quantity(range.high(), unit);
    }

    static String table(String name, String... lines) {
        return "[" + name + "]\n" + String.join("\n", lines);
    }

    static String quantity(double value, Unit unit) {
        return quoted(Quantity.format(value, unit));
    }

    /** A basic string of TOML 1.0. */
    static String quoted(String text) {
        StringBuilder quoted = new StringBuilder("\"");
        text.codePoints().forEach(point -> {
            if (point == '"' || point == '\\') {
                quoted.append('\\').appendCodePoint(point);
            } else if (Character.isISOControl(point)) {
                quoted.append(String.format("\\u%04X", point));
            } else {
                quoted.appendCodePoint(point);
            }
        });
        return quoted.append('"').toString();
    }
}
