package org.voltsecond.plot.viewer;

import java.awt.event.ActionEvent;
import java.util.function.DoubleSupplier;
import javax.swing.AbstractAction;
import javax.swing.JComponent;
import javax.swing.KeyStroke;

/** What the keys do. */
final class Keys {
    static final String HELP = """
            Mouse
              drag                    zoom into a stretch of time
              control + drag          zoom into a box: time, and the values of one panel
              wheel                   zoom in and out about the pointer
              shift + wheel           move along the time; so does dragging with the right button, or with shift
              control + wheel         zoom the values of the panel at the pointer
              click                   place cursor A (at a switching instant if one is near)
              right or shift + click  place cursor B
              drag a cursor           move it

            Keys
              +  -                    zoom in and out about the middle
              left  right             move along the time
              Home                    the whole run
              Backspace               the view before
              Z                       zoom to what is between the cursors
              V                       fit the values to the traces again
              A  B                    choose the cursor that the keys move (its flag is filled)
              shift + left, right     move this cursor by a pixel
              control + left, right   move this cursor to the switching instant before or after
              C                       bring both cursors into view
              M                       marks where switching periods begin, on and off
              1 to 9                  traces on and off

            Values of a design, where they are shown
              Tab, shift + Tab        from one field or slider to the next
              Enter                   take the value typed, a number in SI units or with its unit
              left  right             move a slider
              control + Z, Y          undo, redo
              control + S             save the values as a design file

            Where a trace jumps, the table shows its value before and after the instant; differences are taken
            between the values after.
            """;

    private static final double STEP = 1.5;
    private static final double PAN = 0.1;
    private static final int DIGITS = 9;

    private final ViewModel model;
    private final JComponent component;

    private Keys(ViewModel model, JComponent component) {
        this.model = model;
        this.component = component;
    }

    /**
     * Binds the keys.
     *
     * @param timePerPixel how far a cursor goes when a key moves it by a pixel, s
     * @param help what tells all this to the user
     */
    static void bind(ViewModel model, JComponent component, DoubleSupplier timePerPixel, Runnable help) {
        Keys keys = new Keys(model, component);
        keys.bindView();
        keys.bindCursors(timePerPixel);
        keys.bindTraces();
        keys.on(help, "F1", "typed ?");
    }

    private void bindView() {
        on(() -> zoom(1 / STEP), "typed +", "typed =");
        on(() -> zoom(STEP), "typed -");
        on(() -> model.pan(-PAN * model.time().length()), "LEFT");
        on(() -> model.pan(PAN * model.time().length()), "RIGHT");
        on(model::showAll, "HOME");
        on(model::back, "BACK_SPACE", "alt LEFT");
        on(model::fitValues, "V");
        on(() -> model.select(model.cursor(Which.A), model.cursor(Which.B)), "Z");
        on(() -> model.setPeriodMarks(!model.periodMarks()), "M");
    }

    private void zoom(double factor) {
        model.zoom(factor, model.time().middle());
    }

    private void bindCursors(DoubleSupplier timePerPixel) {
        on(() -> model.activate(Which.A), "A");
        on(() -> model.activate(Which.B), "B");
        on(model::placeCursors, "C");
        on(() -> model.nudge(-timePerPixel.getAsDouble()), "shift LEFT");
        on(() -> model.nudge(timePerPixel.getAsDouble()), "shift RIGHT");
        on(model::toPreviousInstant, "ctrl LEFT");
        on(model::toNextInstant, "ctrl RIGHT");
    }

    private void bindTraces() {
        for (int i = 0; i < DIGITS; i++) {
            int place = i;
            on(() -> switchTrace(place), "typed " + (i + 1));
        }
    }

    private void switchTrace(int place) {
        if (place < model.traces().size()) {
            Traced trace = model.traces().get(place);
            model.switchTrace(trace, !model.isOn(trace));
        }
    }

    private void on(Runnable action, String... strokes) {
        for (String stroke : strokes) {
            component
                    .getInputMap(JComponent.WHEN_ANCESTOR_OF_FOCUSED_COMPONENT)
                    .put(KeyStroke.getKeyStroke(stroke), stroke);
            component.getActionMap().put(stroke, new AbstractAction() {
                private static final long serialVersionUID = 1L;

                @Override
                public void actionPerformed(ActionEvent event) {
                    action.run();
                }
            });
        }
    }
}
