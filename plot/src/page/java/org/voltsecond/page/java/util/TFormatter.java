package org.voltsecond.page.java.util;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;

/**
 * In place of the formatter of the compiler's class library, which brings along the names of all currencies and time zones of the
 * world: what texts of this library ask for, {@code s d x f e} with a width of zeros and a precision.
 */
public final class TFormatter {
    private final StringBuilder out = new StringBuilder();

    public TFormatter() {}

    public TFormatter(Locale locale) {
        if (locale == null) {
            throw new IllegalArgumentException("a locale");
        }
    }

    public TFormatter format(String format, Object... values) {
        int next = 0;
        int from = 0;
        for (int at = format.indexOf('%'); at >= 0; at = format.indexOf('%', from)) {
            out.append(format, from, at);
            int end = at + 1;
            while ("0123456789.".indexOf(format.charAt(end)) >= 0) {
                end++;
            }
            char letter = format.charAt(end);
            out.append(letter == '%' ? "%" : written(format.substring(at + 1, end), letter, values[next++]));
            from = end + 1;
        }
        out.append(format, from, format.length());
        return this;
    }

    public TFormatter format(Locale locale, String format, Object... values) {
        return format(format, values);
    }

    private static String written(String shape, char letter, Object value) {
        int dot = shape.indexOf('.');
        int precision = dot < 0 ? 6 : Integer.parseInt(shape.substring(dot + 1));
        String width = dot < 0 ? shape : shape.substring(0, dot);
        StringBuilder text = new StringBuilder(
                switch (letter) {
                    case 's', 'd' -> String.valueOf(value);
                    case 'x' -> Long.toHexString(((Number) value).longValue());
                    case 'f' -> fixed(((Number) value).doubleValue(), precision);
                    case 'e' -> scientific(((Number) value).doubleValue(), precision);
                    default -> throw new IllegalArgumentException("no such format in a page: " + letter);
                });
        int wanted = width.isEmpty() ? 0 : Integer.parseInt(width);
        while (text.length() < wanted) {
            text.insert(0, width.startsWith("0") ? '0' : ' ');
        }
        return text.toString();
    }

    private static String fixed(double value, int precision) {
        return Double.isFinite(value)
                ? BigDecimal.valueOf(value)
                        .setScale(precision, RoundingMode.HALF_UP)
                        .toPlainString()
                : String.valueOf(value);
    }

    private static String scientific(double value, int precision) {
        if (!Double.isFinite(value)) {
            return String.valueOf(value);
        }
        BigDecimal exact = BigDecimal.valueOf(value);
        int exponent = value == 0 ? 0 : exact.precision() - exact.scale() - 1;
        BigDecimal mantissa = exact.movePointLeft(exponent).setScale(precision, RoundingMode.HALF_UP);
        if (mantissa.abs().compareTo(BigDecimal.TEN) >= 0) {
            exponent++;
            mantissa = exact.movePointLeft(exponent).setScale(precision, RoundingMode.HALF_UP);
        }
        String digits = String.valueOf(Math.abs(exponent));
        return mantissa.toPlainString() + (exponent < 0 ? "e-" : "e+") + (digits.length() < 2 ? "0" : "") + digits;
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
