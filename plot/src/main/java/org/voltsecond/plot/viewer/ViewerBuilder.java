package org.voltsecond.plot.viewer;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Supplier;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import javax.swing.SwingUtilities;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignTree;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.TimeMark;
import org.voltsecond.waveform.Waveform;

/**
 * Collects what a viewer shows: panels of waveforms on one time axis, from top to bottom. To be used by one thread.
 *
 * <pre>{@code
 * ViewerBuilder viewer = Viewer.builder("load step")
 *         .subtitle("2.5 Ω to 5 Ω")
 *         .panel(Panel.ripple(start.of(rail.outputVoltage())).limit(0.25, "permitted"))
 *         .mark(milli(1), "load step");
 * }</pre>
 */
public final class ViewerBuilder {
    private static final double MOST_PERIODS = 20e6;

    private final String title;
    private final List<Panel> panels = new ArrayList<>();
    private final List<Waveform> growing = new ArrayList<>();
    private final List<TimeMark> marks = new ArrayList<>();
    private String subtitle = "";
    private double period = Double.NaN;
    private @Nullable Supplier<DesignModel> design;
    private Instants periodStarts = Instants.of(DoubleStream.empty());

    ViewerBuilder(String title) {
        this.title = title;
    }

    /**
     * Sets the line below the title.
     *
     * @param text for example the operating point
     * @return this builder
     */
    public ViewerBuilder subtitle(String text) {
        subtitle = text;
        return this;
    }

    /**
     * Adds a panel below those there are.
     *
     * @param panel the panel
     * @return this builder
     */
    public ViewerBuilder panel(Panel panel) {
        endOfTraces();
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
    public ViewerBuilder panel(Waveform... waveforms) {
        return panel(Panel.of(waveforms));
    }

    /**
     * Adds a waveform to the panel of the trace before if that has the same unit, else begins a panel with it.
     *
     * @param waveform the waveform
     * @return this builder
     */
    public ViewerBuilder trace(Waveform waveform) {
        if (!growing.isEmpty() && !growing.get(0).unit().equals(waveform.unit())) {
            endOfTraces();
        }
        growing.add(waveform);
        return this;
    }

    private void endOfTraces() {
        if (!growing.isEmpty()) {
            panels.add(Panel.of(growing.toArray(Waveform[]::new)));
            growing.clear();
        }
    }

    /**
     * Marks an instant.
     *
     * @param time when, s
     * @param label what happens then; short
     * @return this builder
     */
    public ViewerBuilder mark(double time, String label) {
        marks.add(new TimeMark(time, label));
        return this;
    }

    /**
     * Tells how long a switching period is, so that the start of each can be marked: at every whole multiple of it.
     *
     * @param switchingPeriod the period, s; more than 0
     * @return this builder
     * @throws IllegalArgumentException if the period is not more than 0 s
     */
    public ViewerBuilder period(double switchingPeriod) {
        if (!(switchingPeriod > 0) || switchingPeriod == Double.POSITIVE_INFINITY) {
            throw new IllegalArgumentException("viewer " + title
                    + ": a switching period must be more than 0 s and finite " + "but was " + switchingPeriod + " s");
        }
        period = switchingPeriod;
        return this;
    }

    /**
     * Tells where switching periods begin, for a converter without a clock.
     *
     * @param times s, in any order
     * @return this builder
     */
    public ViewerBuilder periodStarts(double... times) {
        periodStarts = Instants.of(Arrays.stream(times));
        return this;
    }

    /** Adds fields and sliders. */
    ViewerBuilder values(DesignTree tree, String name, boolean withRun) {
        design = () -> new DesignModel(tree, name, withRun, SwingUtilities::invokeLater);
        return this;
    }

    /** The design whose values have fields; a new one for each view. */
    @Nullable
    DesignModel design() {
        return design == null ? null : design.get();
    }

    /**
     * Makes a component for a window of your own; needs no display itself. To be called on the event thread.
     *
     * @return the component
     * @throws IllegalArgumentException if there is no waveform, or there are too many periods to be marked
     * @throws IllegalStateException on another thread
     */
    public WaveformView view() {
        return new WaveformView(content(), design());
    }

    /**
     * Opens a window and returns at once; to be called on any thread. The window lives on until it is closed.
     *
     * @return the open window
     * @throws IllegalArgumentException if there is no waveform, or there are too many periods to be marked
     * @throws IllegalStateException if there is no display; {@link Viewer#displayFault} tells beforehand
     */
    public Viewer open() {
        return Viewer.open(content(), design());
    }

    ViewerContent content() {
        endOfTraces();
        if (panels.isEmpty()) {
            throw new IllegalArgumentException("viewer " + title
                    + ": it has nothing to show; add a waveform with panel(waveform) or trace(waveform)");
        }
        ViewerContent content = new ViewerContent(title, subtitle, panels, marks, periodStarts);
        return Double.isNaN(period)
                ? content
                : new ViewerContent(title, subtitle, panels, marks, multiples(content.whole()));
    }

    private Instants multiples(TimeWindow whole) {
        double first = Math.ceil(whole.from() / period);
        double last = Math.floor(whole.to() / period);
        if (!(last - first < MOST_PERIODS)) {
            throw new IllegalArgumentException("viewer " + title + ": a period of " + period + " s is there "
                    + (last - first) + " times between " + whole.from() + " s and " + whole.to() + " s; valid: up to "
                    + MOST_PERIODS + " times");
        }
        return Instants.of(IntStream.rangeClosed(0, (int) (last - first)).mapToDouble(k -> (first + k) * period));
    }
}
