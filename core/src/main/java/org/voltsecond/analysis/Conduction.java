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
    BOUNDARY
}
