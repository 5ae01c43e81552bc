package org.voltsecond.sizing;

import org.voltsecond.units.PreferredSeries;

/**
 * The series of IEC 60063 from which values are proposed.
 *
 * <pre>{@code
 * SizingSeries fine = new SizingSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E24);
 * SizingSeries usual = SizingSeries.USUAL;
 * }</pre>
 *
 * @param inductance of the inductor
 * @param capacitance of the output capacitor
 * @param resistance of the limit of its ESR
 */
public record SizingSeries(PreferredSeries inductance, PreferredSeries capacitance, PreferredSeries resistance) {
    /** What distributors keep: inductors and resistances in E12, capacitors in E6. */
    public static final SizingSeries USUAL =
            new SizingSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E12);
}
