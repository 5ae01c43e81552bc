package org.voltsecond.numeric;

import java.util.stream.DoubleStream;

/**
 * What a Java machine offers and a page of a browser does not: there this class is replaced, with the same results.
 *
 * <pre>{@code
 * double lost = Machine.lostByProduct(0.1, 0.1, 0.1 * 0.1); // -8.33e-19
 * }</pre>
 */
public final class Machine {
    private Machine() {}

    /**
     * Returns how much memory there may be.
     *
     * @return the most that may be taken, bytes
     */
    public static long mostMemory() {
        return Runtime.getRuntime().maxMemory();
    }

    /**
     * Returns what the rounding of a product loses.
     *
     * @param a a factor
     * @param b the other factor
     * @param product a b, rounded
     * @return a b less the product, exact where nothing overflows or underflows
     */
    public static double lostByProduct(double a, double b, double product) {
        return Math.fma(a, b, -product);
    }

    /**
     * Lets a stream be worked off on as many threads as there are.
     *
     * @param values the stream
     * @return the stream, in the same order
     */
    public static DoubleStream onAnyThread(DoubleStream values) {
        return values.parallel();
    }
}
