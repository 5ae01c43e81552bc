package org.voltsecond.design;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;

/**
 * What values of a stage are called in design files and in figures.json.
 *
 * <pre>{@code
 * String value = StageNames.of(StageValue.ON_RESISTANCE); // "on_resistance"
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
        Figures.stage().forEach(figure -> names.put(figure.key(), figure));
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
     * Returns words as a key.
     *
     * @param words for example "on-resistance"
     * @return for example "on_resistance"
     */
    public static String key(String words) {
        return words.replace(' ', '_').replace('-', '_');
    }
}
