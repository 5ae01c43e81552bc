package org.voltsecond.sizing;

import org.voltsecond.units.PreferredSeries;

/**
 * The series of IEC 60063 from which values are proposed.
 *
 * <pre>{@code
 * PartSeries fine = new PartSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E24);
 * PartSeries usual = PartSeries.USUAL;
 * }</pre>
 *
 * @param inductance of the inductor
 * @param capacitance of the output capacitor
 * @param resistance of the limit of its ESR
 */
public record PartSeries(PreferredSeries inductance, PreferredSeries capacitance, PreferredSeries resistance) {
    /** What distributors keep: inductors and resistances in E12, capacitors in E6. */
    public static final PartSeries USUAL = new PartSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E12);
}
