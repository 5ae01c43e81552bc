package org.voltsecond.design;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import org.voltsecond.converter.StageFigure;
import org.voltsecond.converter.StageFigure.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;

/**
 * What values and figures of a stage are called in design files and in figures.json.
 *
 * <pre>{@code
 * String value = StageNames.of(StageValue.ON_RESISTANCE); // "on_resistance"
 * String figure = StageNames.of(StageFigure.outputRipple()); // "output_ripple"
 * }</pre>
 */
public final class StageNames {
    /** Values by their names, in alphabetical order. */
    static final Map<String, StageValue> VALUES = values();

    /** Figures by their names, those that a designer looks at first in front. */
    static final Map<String, StageFigure> FIGURES = figures();

    private StageNames() {}

    private static Map<String, StageValue> values() {
        Map<String, StageValue> names = new TreeMap<>();
        for (StageValue value : StageValue.values()) {
            names.put(of(value), value);
        }
        return Collections.unmodifiableMap(names);
    }

    private static Map<String, StageFigure> figures() {
        Map<String, StageFigure> names = new LinkedHashMap<>();
        names.put("output_voltage", StageFigure.outputVoltage());
        names.put("output_ripple", StageFigure.outputRipple());
        names.put("inductor_ripple", StageFigure.inductorRipple());
        names.put("inductor_peak", StageFigure.inductorPeak());
        names.put("inductor_rms", StageFigure.of(Measure.RMS, StageSignal.INDUCTOR_CURRENT));
        names.put("efficiency", StageFigure.efficiency());
        names.put("duty_cycle", StageFigure.dutyCycle());
        names.put("idle_time", StageFigure.of(Measure.IDLE_TIME));
        names.put("transistor_rms", StageFigure.of(Measure.RMS, StageSignal.TRANSISTOR_CURRENT));
        names.put("rectifier_mean", StageFigure.of(Measure.MEAN, StageSignal.RECTIFIER_CURRENT));
        names.put("capacitor_rms", StageFigure.of(Measure.RMS, StageSignal.CAPACITOR_CURRENT));
        names.put("input_current", StageFigure.of(Measure.MEAN, StageSignal.INPUT_CURRENT));
        return Collections.unmodifiableMap(names);
    }

    /**
     * Returns the name of a value.
     *
     * @param value the value
     * @return for example "load_current"
     */
    public static String of(StageValue value) {
        return key(value.toString());
    }

    /**
     * Returns the name of a figure.
     *
     * @param figure the figure
     * @return for example "output_ripple"
     */
    public static String of(StageFigure figure) {
        return FIGURES.entrySet().stream()
                .filter(entry -> entry.getValue().equals(figure))
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse(key(figure.name()));
    }

    /**
     * Returns words as a key.
     *
     * @param words for example "on-resistance"
     * @return for example "on_resistance"
     */
    public static String key(String words) {
        return words.replace(' ', '_').replace('-', '_');
    }
}
