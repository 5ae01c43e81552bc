package org.voltsecond.analysis;

/**
 * Whether a period contains an idle interval, in which neither a switch nor a rectifier conducts.
 *
 * <pre>{@code
 * Conduction full = rail.steadyState().conduction(); // CONTINUOUS
 * Conduction light = rail.withLoad(Load.resistor(100)).steadyState().conduction(); // DISCONTINUOUS
 * }</pre>
 */
public enum Conduction {
    /** The inductor current flows throughout the period: no idle interval. */
    CONTINUOUS,
    /** The rectifier current ends before the period does: an idle interval follows. */
    DISCONTINUOUS,
    /** The rectifier current reaches zero just as the period ends, to within 1e-9 of the period or of its peak. */
    BOUNDARY,
    /** Nothing stores a current, as in a charge pump: there is none that could end, and so no mode. */
    UNDEFINED;

    private static final double WIDTH = 1e-9;

    /**
     * Tells the mode by how far a steady state is from the boundary.
     *
     * @param margin of continuous conduction, the rectifier current as it ends over its peak; of discontinuous conduction,
     *     the idle part of the period, negative; not a number where the rectifier never blocks by itself
     * @return the mode
     */
    public static Conduction of(double margin) {
        if (margin < -WIDTH) {
            return DISCONTINUOUS;
        }
        return margin <= WIDTH ? BOUNDARY : CONTINUOUS;
    }
}
