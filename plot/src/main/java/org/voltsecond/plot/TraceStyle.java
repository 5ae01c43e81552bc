package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Stroke;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.waveform.Waveform;

/**
 * How a trace of a stacked picture is drawn; colours and strokes tell the traces of one panel apart in print as well. What
 * plays a known role in a converter, such as the inductor current, looks the same in every picture.
 *
 * <pre>{@code
 * Panel panel = Panel.of(steady.of(rail.transistorCurrent()), steady.of(rail.rectifierCurrent()));
 * TraceStyle second = TraceStyle.of(panel, 0, 1); // the rectifier current in the first panel
 * String legend = "color: #" + Integer.toHexString(second.color().getRGB()).substring(2);
 * }</pre>
 *
 * @param hue which of the {@link #HUES} colours, counted from 0; that number itself for grey
 * @param dash which of the line styles, counted from 0, the solid one
 */
public record TraceStyle(int hue, int dash) {
    /** The number of colours. */
    public static final int HUES = 7;

    /** How the name ends of a waveform that is shown for comparison alone, and so is grey. */
    public static final String COMPARED = ", as in the file";

    private static final TraceStyle GREY = new TraceStyle(HUES, 1);

    /** Signals that stand in one panel differ in both. */
    private static final Map<String, TraceStyle> ROLES = Map.ofEntries(
            Map.entry("switch node", new TraceStyle(0, 0)),
            Map.entry("inductor current", new TraceStyle(1, 0)),
            Map.entry("output voltage", new TraceStyle(2, 0)),
            Map.entry("transistor current", new TraceStyle(0, 0)),
            Map.entry("transistor voltage", new TraceStyle(0, 0)),
            Map.entry("rectifier current", new TraceStyle(5, 1)),
            Map.entry("rectifier voltage", new TraceStyle(5, 1)),
            Map.entry("output capacitor current", new TraceStyle(6, 2)),
            Map.entry("capacitor current", new TraceStyle(6, 0)),
            Map.entry("inductor voltage", new TraceStyle(0, 0)),
            Map.entry("power into the inductor", new TraceStyle(1, 0)),
            Map.entry("input voltage", new TraceStyle(3, 0)),
            Map.entry("input current", new TraceStyle(3, 0)),
            Map.entry("source current", new TraceStyle(1, 0)),
            Map.entry("input capacitor current", new TraceStyle(6, 2)),
            Map.entry("input capacitor voltage", new TraceStyle(3, 0)),
            Map.entry("filter capacitor current", new TraceStyle(4, 3)),
            Map.entry("filter capacitor voltage", new TraceStyle(3, 0)),
            Map.entry("damping current", new TraceStyle(0, 1)),
            Map.entry("load current", new TraceStyle(4, 3)),
            Map.entry("magnetizing current", new TraceStyle(3, 1)),
            Map.entry("second inductor current", new TraceStyle(3, 1)),
            Map.entry("control voltage", new TraceStyle(4, 0)),
            Map.entry("current command", new TraceStyle(4, 0)),
            Map.entry("ramp", new TraceStyle(3, 1)),
            Map.entry("sensed current", new TraceStyle(3, 1)),
            Map.entry("sensed current with slope", new TraceStyle(3, 1)),
            Map.entry("duty cycle left", new TraceStyle(3, 1)),
            Map.entry("error voltage", new TraceStyle(5, 0)),
            Map.entry("reference less sensed voltage", new TraceStyle(5, 0)),
            Map.entry("turns on above", new TraceStyle(0, 1)),
            Map.entry("turns off above", new TraceStyle(0, 1)),
            Map.entry("turns off below", new TraceStyle(6, 2)),
            Map.entry("turns on below", new TraceStyle(6, 2)),
            Map.entry("a pulse begins above", new TraceStyle(0, 1)),
            Map.entry("gate", new TraceStyle(6, 0)));

    /**
     * Returns how a trace is drawn: by its role where its name, up to a comma or a parenthesis, tells one; else one colour
     * after the other in a panel of several traces, a colour for each panel of one. No colour comes twice in a panel of
     * up to {@link #HUES} traces.
     *
     * @param panel the panel
     * @param index place of the panel in the picture, counted from 0
     * @param position place of the trace in the panel, counted from 0
     * @return its style, whether or not another trace is left out
     */
    public static TraceStyle of(Panel panel, int index, int position) {
        return all(panel.waveforms(), index).get(position);
    }

    /**
     * Returns how the traces of a panel are drawn.
     *
     * @param waveforms its waveforms
     * @param index place of the panel in the picture, counted from 0
     * @return a style for each
     */
    public static List<TraceStyle> all(List<Waveform> waveforms, int index) {
        List<TraceStyle> styles = new ArrayList<>();
        for (Waveform waveform : waveforms) {
            TraceStyle role = role(waveform.name());
            styles.add(role == null || taken(styles, role.hue) ? free(styles, waveforms.size() > 1 ? 0 : index) : role);
        }
        return List.copyOf(styles);
    }

    private static @Nullable TraceStyle role(String name) {
        return name.endsWith(COMPARED)
                ? GREY
                : ROLES.get(name.split("[,(]", 2)[0].strip().toLowerCase(Locale.ROOT));
    }

    private static boolean taken(List<TraceStyle> styles, int hue) {
        return styles.stream().anyMatch(style -> style.hue == hue);
    }

    private static TraceStyle free(List<TraceStyle> styles, int panel) {
        int hue = (panel + styles.size()) % HUES;
        for (int tried = 0; tried < HUES && taken(styles, hue); tried++) {
            hue = (hue + 1) % HUES;
        }
        return new TraceStyle(hue, styles.size());
    }

    /** {@return its colour} */
    public Color color() {
        return hue == HUES ? Color.GRAY : Look.trace(hue);
    }

    /** {@return its line} */
    public Stroke stroke() {
        return Look.line(dash);
    }
}
