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

    /** A term of a series below this share is the last: a sixteenth of {@link #UNIT}, so that all that follow do not show. */
    public static final double OF_A_SERIES = 0x1p-57;

    /** Instants nearer to each other than this share of the period are one: some units in the last place of either. */
    public static final double OF_AN_INSTANT = 8 * ULP;

    /** A coefficient below this share of the largest one of its form is left from the rounding of what it was solved from. */
    public static final double OF_A_FORM = 8 * ULP;

    /**
     * A pivot of a scaled map of a period below this is none: the direction never comes back. Chosen: some hundred units of
     * round-off, which a product of the maps of many intervals gathers.
     */
    public static final double OF_A_PIVOT = 1e-13;

    /**
     * A singular value below this share of the largest one, after equilibration, is zero, and so is a sum that ought to vanish
     * below this share of its terms. Chosen: ten times {@link #OF_A_PIVOT}, since both are worked out from eliminations.
     */
    public static final double OF_A_RANK = 1e-12;

    /** An entry below this share of the largest one is left from an elimination. Chosen: ten times {@link #OF_A_RANK}. */
    public static final double OF_AN_ELIMINATION = 1e-11;

    /**
     * A condition below zero by more than this share of its terms was violated when it was entered, and ends its phase at
     * once; one that an event has just reached is nearer to zero by far ({@link #OF_A_SUM}). Chosen between the two.
     */
    public static final double OF_A_CONDITION = 1e-11;

    private RoundOff() {}
}
