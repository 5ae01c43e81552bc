package org.voltsecond.figures;

import org.voltsecond.waveform.Waveform;

/** What is round-off is told as 0. */
final class RoundOff {
    /** A number below this part of the largest figure of its signal is round-off: some units in the last place of that. */
    private static final double SHARE = 1e-15;

    private RoundOff() {}

    static double told(double value, double largest) {
        return Math.abs(value) < SHARE * Math.abs(largest) ? 0 : value;
    }

    static double told(double value, Waveform waveform) {
        return told(value, Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum())));
    }
}
