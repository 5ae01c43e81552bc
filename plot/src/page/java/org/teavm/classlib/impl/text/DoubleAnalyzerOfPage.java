package org.teavm.classlib.impl.text;

import org.teavm.jso.JSBody;

/** {@link DoubleAnalyzer} in a page: the digits of a number by the browser, in place of a table of powers of ten. */
final class DoubleAnalyzerOfPage {
    /** The digits that the other gives, padded by zeros. */
    private static final int DIGITS = 18;

    private DoubleAnalyzerOfPage() {}

    public static void analyze(double value, DoubleAnalyzer.Result result) {
        String shortest = exponential(value);
        int end = shortest.indexOf('e');
        String digits = shortest.substring(0, 1) + (end > 2 ? shortest.substring(2, end) : "");
        result.sign = value < 0 || 1 / value < 0;
        result.mantissa = Long.parseLong(digits + "0".repeat(DIGITS - digits.length()));
        result.exponent = Integer.parseInt(shortest.substring(end + 1));
    }

    @JSBody(params = "value", script = "return Math.abs(value).toExponential();")
    private static native String exponential(double value);
}
