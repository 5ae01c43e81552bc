package org.voltsecond.sizing;

import java.util.List;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.units.PreferredSeries;

/**
 * The series of IEC 60063 from which values are proposed, and what the output capacitors of that series lose under bias. Immutable.
 *
 * <pre>{@code
 * PartSeries fine = new PartSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E24);
 * PartSeries ceramic = PartSeries.USUAL.fading(List.of(new Bend(2, 0.8), new Bend(4, 0.5))); // half is left above 4 V
 * double share = ceramic.leftAt(5); // 0.5
 * }</pre>
 *
 * @param inductance of the inductor
 * @param capacitance of the output capacitor
 * @param resistance of the limit of its ESR
 * @param fading from each magnitude of the voltage on, V, the share of its capacitance that is left, incremental; in ascending
 *     order; empty if it does not fade
 */
public record PartSeries(
        PreferredSeries inductance, PreferredSeries capacitance, PreferredSeries resistance, List<Bend> fading) {
    /** What distributors keep: inductors and resistances in E12, capacitors in E6. */
    public static final PartSeries USUAL = new PartSeries(PreferredSeries.E12, PreferredSeries.E6, PreferredSeries.E12);

    /**
     * Copies the bends.
     *
     * @param inductance of the inductor
     * @param capacitance of the output capacitor
     * @param resistance of the limit of its ESR
     * @param fading what is left of the output capacitor's capacitance
     */
    public PartSeries {
        fading = List.copyOf(fading);
    }

    /**
     * Of capacitors that do not fade.
     *
     * @param inductance of the inductor
     * @param capacitance of the output capacitor
     * @param resistance of the limit of its ESR
     */
    public PartSeries(PreferredSeries inductance, PreferredSeries capacitance, PreferredSeries resistance) {
        this(inductance, capacitance, resistance, List.of());
    }

    /**
     * Returns the same series with capacitors that fade under bias.
     *
     * @param shares from each magnitude of the voltage on, V, the share that is left; in ascending order
     * @return the series
     */
    public PartSeries fading(List<Bend> shares) {
        return new PartSeries(inductance, capacitance, resistance, shares);
    }

    /**
     * Returns what is left of an output capacitor's capacitance.
     *
     * @param voltage V; its magnitude counts
     * @return share of the capacitance without voltage
     */
    public double leftAt(double voltage) {
        return Bend.valueAt(fading, 1, Math.abs(voltage));
    }

    /** The bends of a capacitor of the series. */
    List<Bend> bias(double farad) {
        return fading.stream()
                .map(bend -> new Bend(bend.above(), farad * bend.value()))
                .toList();
    }
}
