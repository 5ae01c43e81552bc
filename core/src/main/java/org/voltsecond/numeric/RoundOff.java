package org.voltsecond.numeric;

/**
 * What counts as round-off, each with where it comes from. All are relative to the largest of the terms that a number was
 * added up from.
 *
 * <pre>{@code
 * double sum = 0.1 + 0.2 - 0.3;
 * boolean isZero = Math.abs(sum) <= RoundOff.OF_A_SUM * 0.3; // true
 * }</pre>
 */
public final class RoundOff {
    /** Half a unit in the last place of 1: the largest relative error of one operation (IEEE 754, binary64). */
    public static final double UNIT = 0x1p-53;

    /** A unit in the last place of 1. */
    public static final double ULP = 0x1p-52;

    /** A sum below this share of its largest term has lost all its digits: that of 64 terms at worst, a state's at most. */
    public static final double OF_A_SUM = 64 * UNIT;

    private RoundOff() {}
}
