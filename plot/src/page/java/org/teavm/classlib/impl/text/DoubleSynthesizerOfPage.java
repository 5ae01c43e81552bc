package org.teavm.classlib.impl.text;

import org.teavm.jso.JSBody;

/** {@link DoubleSynthesizer} in a page: a number from its digits by the browser, in place of a table of powers of ten. */
final class DoubleSynthesizerOfPage {
    /** The first digit of the mantissa stands for ones times ten to this power. */
    private static final int PLACE = 18;

    private DoubleSynthesizerOfPage() {}

    public static double synthesizeDouble(long mantissa, int exponent, boolean negative) {
        double value = number(Long.toUnsignedString(mantissa) + "e" + (exponent - PLACE));
        return negative ? -value : value;
    }

    @JSBody(params = "text", script = "return Number(text);")
    private static native double number(String text);
}
