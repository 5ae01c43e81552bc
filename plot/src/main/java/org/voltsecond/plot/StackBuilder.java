package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.voltsecond.plot.StackDrawing.Stack;
import org.voltsecond.waveform.Waveform;

/**
 * Collects what a stacked picture shows: panels of waveforms on one time axis, from top to bottom.
 *
 * <pre>{@code
 * Picture picture = Pictures.stack()
 *         .title("Logic rail at start-up")
 *         .subtitle("12 V, 2.5 Ω, duty cycle 0.45 at 300 kHz")
 *         .panel(start.of(rail.inductorCurrent()))
 *         .panel(start.of(rail.outputVoltage()))
 *         .window(0, milli(0.5)) // s
 *         .build();
 * }</pre>
 */
public final class StackBuilder {
    private static final int WIDTH = 1100;
    private static final int PANEL_HEIGHT = 165;

    private final List<Panel> panels = new ArrayList<>();
    private final List<TimeBand> bands = new ArrayList<>();
    private final List<TimeMark> marks = new ArrayList<>();
    private String title = "";
    private String subtitle = "";
    private String caution = Sheet.CAUTION;
    private double from = Double.NaN;
    private double to = Double.NaN;

    StackBuilder() {}

    /**
     * Sets the title.
     *
     * @param text in bold at the top
     * @return this builder
     */
    public StackBuilder title(String text) {
        title = text;
        return this;
    }

    /**
     * Sets the line below the title.
     *
     * @param text for example the operating point
     * @return this builder
     */
    public StackBuilder subtitle(String text) {
        subtitle = text;
        return this;
    }

    /**
     * Replaces the caution at the bottom.
     *
     * @param text what the reader must know before relying on the picture; not blank
     * @return this builder
     */
    public StackBuilder caution(String text) {
        caution = text;
        return this;
    }

    /**
     * Adds a panel below those there are.
     *
     * @param panel the panel
     * @return this builder
     */
    public StackBuilder panel(Panel panel) {
        panels.add(panel);
        return this;
    }

    /**
     * Adds a panel below those there are.
     *
     * @param waveforms one or more waveforms in one unit
     * @return this builder
     * @throws IllegalArgumentException if there is no waveform or the units differ
     */
    public StackBuilder panel(Waveform... waveforms) {
        return panel(Panel.of(waveforms));
    }

    /**
     * Adds a panel with the ripple of a waveform enlarged.
     *
     * @param waveform the waveform
     * @return this builder
     */
    public StackBuilder ripplePanel(Waveform waveform) {
        return panel(Panel.ripple(waveform));
    }

    /**
     * Shades stretches of time. Bands too narrow to be told apart are left out.
     *
     * @param more the stretches
     * @return this builder
     */
    public StackBuilder bands(List<TimeBand> more) {
        bands.addAll(more);
        return this;
    }

    /**
     * Marks an instant.
     *
     * @param time when, s
     * @param label what happens then; short
     * @return this builder
     */
    public StackBuilder mark(double time, String label) {
        marks.add(new TimeMark(time, label));
        return this;
    }

    /**
     * Shows only a part of the time; without it all the time of all waveforms is shown.
     *
     * @param start start, s
     * @param end end, s
     * @return this builder
     */
    public StackBuilder window(double start, double end) {
        from = start;
        to = end;
        return this;
    }

    /**
     * Builds the picture.
     *
     * @return the picture
     * @throws IllegalArgumentException if there is no panel or nothing to show, the window is empty or shows nothing of a waveform, or the
     *     caution is blank; all faults at once
     */
    public Picture build() {
        return new Picture(new StackDrawing(stack(new Sheet(title, subtitle, caution))), WIDTH, height(), 1);
    }

    /** The height that it takes with a sheet around it. */
    int height() {
        double weights = panels.stream()
                .filter(panel -> !panel.isEmpty())
                .mapToDouble(Panel::weight)
                .sum();
        long shown = panels.stream().filter(panel -> !panel.isEmpty()).count();
        double sheet = new Sheet(title, subtitle, caution).height();
        return (int) Math.ceil(sheet + weights * PANEL_HEIGHT + shown * (double) StackDrawing.HEADING + 70);
    }

    /** The panels alone, within a picture that has its own title and caution. */
    StackDrawing bare() {
        return new StackDrawing(stack(new Sheet("", "", "")));
    }

    /**
     * Draws the picture, as a component on a screen does, and tells where each panel has come to lie. It covers the
     * rectangle from (0, 0) to the given width and height.
     *
     * @param graphics where to draw; its transform says how many pixels a unit has
     * @param width width, in units of which the text is some 12 high
     * @param height height, in the same units
     * @return the panels that are shown, from top to bottom
     * @throws IllegalArgumentException as {@link #build()} does
     */
    public List<PanelArea> drawInto(Graphics2D graphics, int width, int height) {
        StackDrawing drawing = new StackDrawing(stack(new Sheet(title, subtitle, caution)));
        Look.prepare(graphics);
        return List.copyOf(drawing.drawAndTell(graphics, width, height));
    }

    private Stack stack(Sheet sheet) {
        double start = Double.isNaN(from)
                ? all().mapToDouble(Waveform::startTime).min().orElse(0)
                : from;
        double end =
                Double.isNaN(to) ? all().mapToDouble(Waveform::endTime).max().orElse(0) : to;
        check(start, end);
        return new Stack(sheet, List.copyOf(panels), List.copyOf(bands), List.copyOf(marks), start, end);
    }

    /** Every waveform that is shown. */
    private Stream<Waveform> all() {
        return panels.stream()
                .flatMap(panel -> IntStream.range(0, panel.waveforms().size())
                        .filter(panel::shows)
                        .mapToObj(panel.waveforms()::get));
    }

    private void check(double start, double end) {
        List<String> faults = new ArrayList<>();
        if (panels.isEmpty()) {
            faults.add("it has no panel; add one with panel(waveform)");
        } else if (panels.stream().allMatch(Panel::isEmpty)) {
            faults.add("all of its waveforms are left out; show at least one");
        } else if (!(start < end)) {
            faults.add("its window must last but goes from " + start + " s to " + end + " s");
        }
        all().filter(waveform -> !(waveform.startTime() < end && waveform.endTime() > start))
                .forEach(waveform -> faults.add("its window from " + start + " s to " + end + " s shows nothing of "
                        + waveform.name() + ", which goes from " + waveform.startTime() + " s to " + waveform.endTime()
                        + " s"));
        if (caution.isBlank()) {
            faults.add("its caution must not be blank: a reader takes a picture without it for a safe design");
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("stacked picture: " + String.join("; ", faults));
        }
    }
}
