package org.teavm.classlib.impl.text;

/** {@link FloatAnalyzer} in a page, where no text shows a number of single precision: by those of double precision. */
final class FloatAnalyzerOfPage {
    /** From eighteen digits to nine. */
    private static final long DROPPED = 1_000_000_000L;

    private FloatAnalyzerOfPage() {}

    public static void analyze(float value, FloatAnalyzer.Result result) {
        DoubleAnalyzer.Result exact = new DoubleAnalyzer.Result();
        DoubleAnalyzer.analyze(value, exact);
        result.sign = exact.sign;
        result.mantissa = (int) (exact.mantissa / DROPPED);
        result.exponent = exact.exponent;
    }
}
