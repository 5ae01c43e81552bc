package org.voltsecond.figures;

import org.voltsecond.units.Unit;

/**
 * What a design may be held to: in the steady state, at the start, and from each change to the next. Voltages of the output
 * are magnitudes.
 *
 * <pre>{@code
 * String key = Limit.OUTPUT_RIPPLE.key(); // "output_ripple"
 * boolean least = Limit.OUTPUT_RIPPLE.isLeast(); // false
 * }</pre>
 */
public enum Limit implements Restriction {
    /** The peak-to-peak output voltage of one period once settled, at most. */
    OUTPUT_RIPPLE(Figures.OUTPUT_RIPPLE, false),
    /** The lowest output voltage, ripple included, at least; a start rises from 0 V and is left out. */
    LOWEST_OUTPUT_VOLTAGE("lowest_output_voltage", true, Unit.VOLT),
    /** The highest output voltage, ripple included, at most. */
    HIGHEST_OUTPUT_VOLTAGE("highest_output_voltage", false, Unit.VOLT),
    /** The peak inductor current, at most. */
    PEAK_INDUCTOR_CURRENT(Figures.PEAK_INDUCTOR_CURRENT, false),
    /** The peak voltage across the transistor, at most. */
    TRANSISTOR_VOLTAGE("transistor_voltage", false, Unit.VOLT),
    /** The peak voltage across the rectifier, at most. */
    RECTIFIER_VOLTAGE("rectifier_voltage", false, Unit.VOLT),
    /** The droop after a change, at most. */
    DROOP(Figures.DROOP, false),
    /** The overshoot at the start and after a change, at most. */
    OVERSHOOT(Figures.OVERSHOOT, false),
    /** The settling time after a change, at most. */
    SETTLING_TIME(Figures.SETTLING_TIME, false),
    /** The time from the start until the output has settled, at most. */
    START_TIME("start_time", false, Unit.SECOND),
    /** The root of the mean square of the input capacitor's current once settled, at most: its rating. */
    INPUT_CAPACITOR_RMS("input_capacitor_rms", false, Unit.AMPERE),
    /** The peak-to-peak voltage of the input capacitor in one period once settled, at most. */
    INPUT_CAPACITOR_RIPPLE("input_capacitor_ripple", false, Unit.VOLT),
    /** The peak-to-peak current drawn from the source in one period once settled, at most. */
    SOURCE_CURRENT_RIPPLE("source_current_ripple", false, Unit.AMPERE),
    /** The peak current drawn from the source, that of switching the input on included, at most. */
    PEAK_SOURCE_CURRENT(Figures.PEAK_SOURCE_CURRENT, false),
    /** What is left of an inductance at the peak of its current, as a share of that without current, at least: of the one worst off. */
    INDUCTANCE_LEFT("inductance_left", true, Unit.ONE),
    /** What is left of a capacitance at the peak of its voltage, as a share of that without voltage, at least: of the one worst off. */
    CAPACITANCE_LEFT("capacitance_left", true, Unit.ONE),
    /** The hottest junction of the transistors and rectifiers whose heat is told, once settled, at most. */
    JUNCTION_TEMPERATURE("junction_temperature", false, Unit.CELSIUS),
    /** The hottest coil or transformer whose heat is told, once settled, at most. */
    WINDING_TEMPERATURE("winding_temperature", false, Unit.CELSIUS),
    /** The hottest capacitor whose heat is told, once settled, at most. */
    CAPACITOR_TEMPERATURE("capacitor_temperature", false, Unit.CELSIUS),
    /** The largest share that a ripple current has of what its capacitor's rating permits, once settled, at most. */
    RIPPLE_CURRENT_SHARE("ripple_current_share", false, Unit.ONE),
    /** The highest flux density of the cores that are given, at most. */
    FLUX_DENSITY("flux_density", false, Unit.TESLA),
    /** The efficiency once settled, at least. */
    EFFICIENCY(Figures.EFFICIENCY, true),
    /** By how much the emissions into the supply stay below their limit, that of the average detector, in the steady state, at least. */
    EMISSION_MARGIN("emission_margin", true, Unit.DECIBEL);

    private final String key;
    private final boolean least;
    private final Unit unit;

    Limit(Figure<?> figure, boolean least) {
        this(figure.key(), least, figure.unit());
    }

    Limit(String key, boolean least, Unit unit) {
        this.key = key;
        this.least = least;
        this.unit = unit;
    }

    @Override
    public String key() {
        return key;
    }

    @Override
    public boolean isLeast() {
        return least;
    }

    @Override
    public Unit unit() {
        return unit;
    }

    @Override
    public String toString() {
        return key.replace('_', ' ');
    }
}
