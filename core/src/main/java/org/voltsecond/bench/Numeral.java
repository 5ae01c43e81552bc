package org.voltsecond.bench;

/** Decimal numbers as instruments write them. Stricter than Java: no NaN, no Infinity, no letters but e. */
final class Numeral {
    private Numeral() {}

    /** The value; NaN if the text is no finite number. */
    static double value(String text, char decimal) {
        String number = text.strip();
        if (!isNumber(number, decimal)) {
            return Double.NaN;
        }
        double value = Double.parseDouble(decimal == '.' ? number : number.replace(decimal, '.'));
        return Double.isInfinite(value) ? Double.NaN : value;
    }

    static boolean is(String text, char decimal) {
        return !Double.isNaN(value(text, decimal));
    }

    private static boolean isNumber(String text, char decimal) {
        int at = sign(text, 0);
        int digits = digits(text, at);
        at += digits;
        if (at < text.length() && text.charAt(at) == decimal) {
            int fraction = digits(text, at + 1);
            digits += fraction;
            at += 1 + fraction;
        }
        if (digits > 0 && at < text.length() && (text.charAt(at) | 0x20) == 'e') {
            at = sign(text, at + 1);
            int exponent = digits(text, at);
            return exponent > 0 && at + exponent == text.length();
        }
        return digits > 0 && at == text.length();
    }

    private static int sign(String text, int at) {
        return at < text.length() && (text.charAt(at) == '+' || text.charAt(at) == '-') ? at + 1 : at;
    }

    private static int digits(String text, int from) {
        int at = from;
        while (at < text.length() && text.charAt(at) >= '0' && text.charAt(at) <= '9') {
            at++;
        }
        return at - from;
    }
}
