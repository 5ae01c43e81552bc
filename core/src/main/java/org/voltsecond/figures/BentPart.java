package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * How far a part that bends is driven: an inductor or a core by its current, a capacitor by its voltage (that of its capacitance,
 * without series resistance). Immutable.
 *
 * <pre>{@code
 * Converter bent = stage.saturation(new Bend(2.5, micro(12))).load(Load.resistor(2.5)).input(12)
 *         .drive(Drive.fixedDuty(0.45, kilo(300)));
 * BentPart inductor = BentPart.of(bent, bent.steadyState()).get(0);
 * double peak = inductor.peak(); // 2.240 A
 * double left = inductor.left(); // 1
 * }</pre>
 *
 * @param name its reference designator
 * @param isInductor whether it is an inductor or a core, else a capacitor
 * @param lowest least magnitude of its current, A, or voltage, V
 * @param peak largest magnitude of its current, A, or voltage, V
 * @param value inductance, H, or capacitance, F, below the first bend
 * @param bends where it changes, in ascending order
 */
public record BentPart(String name, boolean isInductor, double lowest, double peak, double value, List<Bend> bends) {
    /**
     * Below this share of its inductance left at the peak an inductor counts as saturated: where data sheets give its saturation
     * current (common practice, no source).
     */
    public static final double SATURATED = 0.7;

    /**
     * Copies the bends.
     *
     * @param name its reference designator
     * @param isInductor whether it is an inductor or a core, else a capacitor
     * @param lowest least magnitude of its current or voltage
     * @param peak largest magnitude of its current or voltage
     * @param value inductance or capacitance below the first bend
     * @param bends where it changes
     */
    public BentPart {
        bends = List.copyOf(bends);
    }

    /**
     * Looks at every part of a converter that bends.
     *
     * @param converter the converter
     * @param source its waveforms: a steady state, or a run or a part of one
     * @return the parts, in the order of the circuit; empty if none bends
     */
    public static List<BentPart> of(Converter converter, WaveformSource source) {
        List<BentPart> bent = new ArrayList<>();
        for (Part part : converter.circuit().parts()) {
            if (part instanceof Part.Inductor l && !l.saturation().isEmpty()) {
                Waveform current = source.of(converter.driven().current(l.name()));
                bent.add(of(l.name(), true, current, l.inductance(), l.saturation()));
            } else if (part instanceof Part.Capacitor c && !c.bias().isEmpty()) {
                Waveform voltage = source.of(converter.driven().voltageAcross(c.name()));
                Waveform charging = source.of(converter.driven().current(c.name()));
                Waveform stored = voltage.minus(charging.as("drop", Unit.VOLT).times(c.seriesResistance()));
                bent.add(of(c.name(), false, c.seriesResistance() == 0 ? voltage : stored, c.capacitance(), c.bias()));
            }
        }
        return List.copyOf(bent);
    }

    private static BentPart of(String name, boolean isInductor, Waveform waveform, double value, List<Bend> bends) {
        double low = waveform.minimum();
        double high = waveform.maximum();
        double least = low <= 0 && high >= 0 ? 0 : Math.min(Math.abs(low), Math.abs(high));
        return new BentPart(name, isInductor, least, Math.max(Math.abs(low), Math.abs(high)), value, bends);
    }

    /**
     * Returns the incremental inductance or capacitance at a magnitude.
     *
     * @param magnitude of the current, A, or the voltage, V; at a bend the value below it holds
     * @return H or F
     */
    public double valueAt(double magnitude) {
        return Bend.valueAt(bends, value, magnitude);
    }

    /**
     * Returns what is left of the inductance or capacitance at the peak.
     *
     * @return share of the value below the first bend; 1 if the peak does not reach it
     */
    public double left() {
        return valueAt(peak) / value;
    }

    /**
     * Returns whether this is an inductor or a core that saturates.
     *
     * @return true if less than {@link #SATURATED} is left at the peak
     */
    public boolean isSaturated() {
        return isInductor && left() < SATURATED;
    }

    /**
     * Returns the unit of the inductance or capacitance.
     *
     * @return henry or farad
     */
    public Unit unit() {
        return isInductor ? Unit.HENRY : Unit.FARAD;
    }

    /**
     * Returns the unit of the current or voltage.
     *
     * @return ampere or volt
     */
    public Unit unitOfPeak() {
        return isInductor ? Unit.AMPERE : Unit.VOLT;
    }
}
