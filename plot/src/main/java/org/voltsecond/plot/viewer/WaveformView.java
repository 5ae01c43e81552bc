package org.voltsecond.plot.viewer;

import java.awt.BorderLayout;
import java.awt.Dimension;
import java.awt.Font;
import javax.swing.AbstractButton;
import javax.swing.Box;
import javax.swing.JButton;
import javax.swing.JCheckBox;
import javax.swing.JOptionPane;
import javax.swing.JPanel;
import javax.swing.JSplitPane;
import javax.swing.JTextArea;
import javax.swing.JToolBar;
import javax.swing.SwingUtilities;
import javax.swing.Timer;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.Picture;

/**
 * Waveforms on a screen, to be zoomed and measured, for a window of your own; {@link Viewer#builder} begins one.
 *
 * <p>To be used on the event thread alone. The bound property {@value #READOUT} tells listeners of each new measurement.
 *
 * <pre>{@code
 * SwingUtilities.invokeAndWait(() -> {
 *     WaveformView view = Viewer.builder("start-up").panel(start.of(rail.outputVoltage())).view();
 *     view.show(0, micro(200)); // zoomed in
 *     view.measure(micro(50), micro(100)); // the two cursors
 *     new JPanel().add(view); // a component like any other
 * });
 * }</pre>
 */
public final class WaveformView extends JPanel {
    /** The bound property that holds what the cursors measure, a {@link Readout}. */
    public static final String READOUT = "readout";

    private static final long serialVersionUID = 1L;
    /** What is answered sooner would only flicker, ms. A choice. */
    private static final int DIMMED_AFTER = 100;

    private final transient ViewModel model;
    private final transient WaveformCanvas canvas;
    private final transient ReadoutPane readoutPane;
    private transient Readout last;
    private transient @Nullable DesignPane designPane;

    WaveformView(ViewerContent content, @Nullable DesignModel design) {
        super(new BorderLayout());
        requireEventThread();
        model = new ViewModel(content);
        canvas = new WaveformCanvas(model);
        readoutPane = new ReadoutPane(model);
        last = model.readout();
        new Gestures(model, canvas);
        JPanel waves = new JPanel(new BorderLayout());
        Keys.bind(model, waves, this::timePerPixel, this::help);
        waves.add(tools(), BorderLayout.NORTH);
        waves.add(canvas, BorderLayout.CENTER);
        waves.add(readoutPane, BorderLayout.SOUTH);
        model.onChange(this::tell);
        if (design == null) {
            add(waves, BorderLayout.CENTER);
        } else {
            addValues(design, waves);
        }
    }

    /** What is seen and measured stays where it is while the waveforms follow the values. */
    private void addValues(DesignModel design, JPanel waves) {
        DesignPane values = new DesignPane(design);
        designPane = values;
        JSplitPane split = new JSplitPane(JSplitPane.HORIZONTAL_SPLIT, values, waves);
        split.setContinuousLayout(true);
        add(split, BorderLayout.CENTER);
        Timer dimming = new Timer(DIMMED_AFTER, event -> canvas.setDimmed(design.isBusy()));
        dimming.setRepeats(false);
        design.onChange(() -> {
            if (design.isBusy()) {
                dimming.start();
                return;
            }
            dimming.stop();
            canvas.setDimmed(design.hasFaults());
        });
        design.onContent(model::replace);
        design.begin();
    }

    private double timePerPixel() {
        return canvas.panelAt(0)
                .map(area -> (area.to() - area.from()) / area.width())
                .orElse(0.0);
    }

    private void tell() {
        Readout former = last;
        last = model.readout();
        firePropertyChange(READOUT, former, last);
    }

    private JToolBar tools() {
        JToolBar bar = new JToolBar();
        bar.setFloatable(false);
        button(bar, "Whole run", "all the time of the run (Home)", model::showAll);
        AbstractButton back = button(bar, "Back", "the view before (Backspace)", model::back);
        button(bar, "Zoom in", "about the middle (+)", () -> zoom(0.5));
        button(bar, "Zoom out", "about the middle (-)", () -> zoom(2));
        button(bar, "A to B", "what is between the cursors (Z)", () -> show(last.timeA(), last.timeB()));
        button(bar, "Cursors here", "bring both cursors into view (C)", model::placeCursors);
        button(bar, "Fit values", "value axes to what the traces show (V)", model::fitValues);
        JCheckBox periods = new JCheckBox("Period marks");
        look(periods, "where switching periods begin (M)");
        periods.addActionListener(event -> model.setPeriodMarks(periods.isSelected()));
        bar.add(periods);
        bar.add(Box.createHorizontalGlue());
        button(bar, "Help", "what mouse and keys do (F1)", this::help);
        Runnable update = () -> {
            back.setEnabled(model.canGoBack());
            periods.setVisible(model.hasPeriods());
            periods.setSelected(model.periodMarks());
            boolean many = model.tooManyPeriods(Overlay.mostPeriods(canvas.getWidth()));
            periods.setText(many && model.periodMarks() ? "Period marks (zoom in to see them)" : "Period marks");
        };
        update.run();
        model.onChange(update);
        return bar;
    }

    private void zoom(double factor) {
        model.zoom(factor, model.time().middle());
    }

    private static AbstractButton button(JToolBar bar, String text, String explanation, Runnable action) {
        JButton button = new JButton(text);
        look(button, explanation);
        button.addActionListener(event -> action.run());
        bar.add(button);
        return button;
    }

    /** Keys go to the traces, not to the button that was last pressed. */
    private static void look(AbstractButton button, String explanation) {
        button.setFont(new Font(Font.SANS_SERIF, Font.PLAIN, 13));
        button.setToolTipText(explanation);
        button.setFocusable(false);
    }

    private void help() {
        JTextArea text = new JTextArea(Keys.HELP);
        text.setFont(new Font(Font.MONOSPACED, Font.PLAIN, 13));
        text.setEditable(false);
        text.setOpaque(false);
        JOptionPane.showMessageDialog(this, text, "What mouse and keys do", JOptionPane.PLAIN_MESSAGE);
    }

    /**
     * Returns what the cursors measure.
     *
     * @return the measurement
     */
    public Readout readout() {
        requireEventThread();
        return model.readout();
    }

    /**
     * Places both cursors.
     *
     * @param timeA time of cursor A, s; moved to the nearest time that the run covers
     * @param timeB time of cursor B, s; moved likewise
     */
    public void measure(double timeA, double timeB) {
        requireEventThread();
        model.place(Which.B, timeB);
        model.place(Which.A, timeA);
    }

    /**
     * Shows a stretch of time.
     *
     * @param from one end, s
     * @param to the other end, s; a stretch beyond the run, or too short to be drawn, is moved or widened
     */
    public void show(double from, double to) {
        requireEventThread();
        model.select(from, to);
    }

    /**
     * Shows other waveforms in the place of those shown, such as those of the same converter after a value was changed. The
     * time seen stays as it is, or all of it where all was seen; so do the cursors, value axes that were zoomed, what is switched
     * off (by name and place), and the way back.
     *
     * <pre>{@code
     * SwingUtilities.invokeAndWait(() -> {
     *     WaveformView view = Viewer.builder("start-up").panel(start.of(rail.outputVoltage())).view();
     *     view.show(0, micro(200));
     *     Converter slower = rail.withInductor(micro(47), milli(30));
     *     view.replace(Viewer.builder("47 µH").panel(slower.startUp(milli(2)).of(slower.outputVoltage())));
     *     double still = view.shownTo(); // 200 µs
     * });
     * }</pre>
     *
     * @param next what to show
     * @throws IllegalArgumentException if there is no waveform, or there are too many periods to be marked
     */
    public void replace(ViewerBuilder next) {
        requireEventThread();
        model.replace(next.content());
    }

    /** Shows all the time of all waveforms, and fits the values to it. */
    public void showAll() {
        requireEventThread();
        model.showAll();
    }

    /** Shows what was seen before the last change of view, if there was any. */
    public void back() {
        requireEventThread();
        model.back();
    }

    /**
     * Returns the start of the time shown.
     *
     * @return s
     */
    public double shownFrom() {
        return model.time().from();
    }

    /**
     * Returns the end of the time shown.
     *
     * @return s
     */
    public double shownTo() {
        return model.time().to();
    }

    /**
     * Switches traces on or off.
     *
     * @param name name of the traces
     * @param on whether to show them
     * @throws IllegalArgumentException if there is no trace of that name
     */
    public void switchTrace(String name, boolean on) {
        requireEventThread();
        model.readout().of(name);
        model.traces().stream()
                .filter(trace -> trace.waveform().name().equals(name))
                .forEach(trace -> model.switchTrace(trace, on));
    }

    /**
     * Switches the marks where switching periods begin.
     *
     * @param on whether to show them; where they are too many to be told apart none is shown
     */
    public void setPeriodMarks(boolean on) {
        requireEventThread();
        model.setPeriodMarks(on);
    }

    /**
     * Returns a picture of what is seen, without cursors, to be written as PNG or SVG.
     *
     * @return the picture
     * @throws IllegalArgumentException if every trace is switched off
     */
    public Picture picture() {
        requireEventThread();
        return model.picture().build();
    }

    @Override
    public Dimension getMinimumSize() {
        return new Dimension(480, 320);
    }

    ViewModel model() {
        return model;
    }

    WaveformCanvas canvas() {
        return canvas;
    }

    ReadoutPane readoutPane() {
        return readoutPane;
    }

    @Nullable
    DesignPane designPane() {
        return designPane;
    }

    private static void requireEventThread() {
        if (!SwingUtilities.isEventDispatchThread()) {
            throw new IllegalStateException("a waveform view must be made and used on the event thread, but was on \""
                    + Thread.currentThread().getName() + "\"; wrap the call in SwingUtilities.invokeLater");
        }
    }
}
