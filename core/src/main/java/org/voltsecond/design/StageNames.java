package org.voltsecond.design;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageValue;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

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

    /** Table and key of each value. */
    private static final Map<StageValue, String[]> PLACES = Map.ofEntries(
            place(StageValue.INPUT_VOLTAGE, "input", "voltage"),
            place(StageValue.INDUCTANCE, "inductor", "inductance"),
            place(StageValue.CAPACITANCE, "output_capacitor", "capacitance"),
            place(StageValue.INDUCTOR_RESISTANCE, "inductor", "resistance"),
            place(StageValue.CAPACITOR_RESISTANCE, "output_capacitor", "resistance"),
            place(StageValue.ON_RESISTANCE, "transistor", "on_resistance"),
            place(StageValue.RECTIFIER_RESISTANCE, "rectifier", "resistance"),
            place(StageValue.FORWARD_DROP, "rectifier", "forward_drop"),
            place(StageValue.LOAD_RESISTANCE, "load", "resistance"),
            place(StageValue.LOAD_CURRENT, "rail.load", "from"),
            place(StageValue.DUTY_CYCLE, "drive", "duty_cycle"),
            place(StageValue.FREQUENCY, "drive", "switching_frequency"),
            place(StageValue.REFERENCE, "drive", "reference"),
            place(StageValue.DIVIDER, "drive", "divider"));

    private StageNames() {}

    private static Map.Entry<StageValue, String[]> place(StageValue value, String table, String key) {
        return Map.entry(value, new String[] {table, key});
    }

    private static Map<String, StageValue> values() {
        Map<String, StageValue> names = new TreeMap<>();
        for (StageValue value : StageValue.usual()) {
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
     * The value of a part that a file names, such as "L1.inductance"; null after a fault, and where there is no converter that could
     * tell.
     */
    static @Nullable StageValue ofPart(Section section, String key, String name, @Nullable Converter converter) {
        try {
            return converter == null ? null : StageValue.of(converter, name);
        } catch (IllegalArgumentException e) {
            section.fault(key, String.valueOf(e.getMessage()));
            return null;
        }
    }

    /** Tells of a value that the converter cannot have. */
    static void check(Section section, String key, @Nullable Converter converter, StageValue value, double to) {
        if (converter == null || Double.isNaN(to)) {
            return;
        }
        try {
            value.set(converter, to);
        } catch (InvalidStageException e) {
            section.fault(key, "reaches " + Quantity.brief(to, value.unit()) + ": " + String.join("; ", e.faults()));
        }
    }

    /** What a value may be: as where it stands in the file. */
    static Kind kind(StageValue value) {
        String[] place = PLACES.get(value);
        if (place != null) {
            return DesignKeys.of(place[0], place[1]).kind();
        }
        Unit unit = value.unit();
        return unit == Unit.HENRY || unit == Unit.FARAD
                ? new Kind(unit, Kind.Range.POSITIVE, unit == Unit.HENRY ? "\"22 µH\"" : "\"47 µF\"")
                : unit == Unit.OHM
                        ? new Kind(unit, Kind.Range.NOT_NEGATIVE, "\"30 mΩ\"")
                        : new Kind(unit, Kind.Range.FINITE, "1");
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
