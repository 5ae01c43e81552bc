package org.voltsecond.numeric;

import java.util.stream.DoubleStream;

/** {@link Machine} in a page. */
final class MachineOfPage {
    /** A page gets about as much of a browser; common practice, no source. */
    private static final long MEMORY = 1L << 30;
    /** Splits a number of 53 bits into two halves (T. J. Dekker, A floating-point technique for extending the precision, 1971). */
    private static final double SPLITTER = 134217729;

    private MachineOfPage() {}

    public static long mostMemory() {
        return MEMORY;
    }

    public static double lostByProduct(double a, double b, double product) {
        double highA = high(a);
        double lowA = a - highA;
        double highB = high(b);
        double lowB = b - highB;
        return lowA * lowB - (((product - highA * highB) - lowA * highB) - highA * lowB);
    }

    public static DoubleStream onAnyThread(DoubleStream values) {
        return values;
    }

    private static double high(double value) {
        double scaled = SPLITTER * value;
        return scaled - (scaled - value);
    }
}
