package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.Component;
import java.awt.Container;
import java.awt.Graphics2D;
import java.awt.event.MouseEvent;
import java.awt.event.MouseWheelEvent;
import java.awt.image.BufferedImage;
import java.util.ArrayList;
import java.util.List;
import javax.swing.SwingUtilities;
import org.junit.jupiter.api.Test;
import org.voltsecond.plot.PanelArea;
import org.voltsecond.plot.Waves;

/** The component, painted into an image and fed with events; needs no display. */
class WaveformViewTest {
    private static final int WIDTH = 1000;
    private static final int HEIGHT = 700;

    /** Work on the event thread. */
    private interface Work {
        void on(WaveformView view) throws Exception;
    }

    private static void withView(Work work) throws Exception {
        List<Exception> thrown = new ArrayList<>();
        SwingUtilities.invokeAndWait(() -> {
            try {
                WaveformView view = Viewer.builder("Three periods")
                        .panel(Waves.switchNode().repeated(3))
                        .panel(Waves.inductorCurrent().repeated(3))
                        .panel(Waves.outputVoltage().repeated(3))
                        .mark(Waves.PERIOD, "here")
                        .period(Waves.PERIOD)
                        .view();
                view.setSize(WIDTH, HEIGHT);
                layOut(view);
                paint(view);
                work.on(view);
            } catch (Exception e) {
                thrown.add(e);
            }
        });
        if (!thrown.isEmpty()) {
            throw thrown.get(0);
        }
    }

    private static void layOut(Container container) {
        container.doLayout();
        for (Component child : container.getComponents()) {
            if (child instanceof Container inner) {
                layOut(inner);
            }
        }
    }

    private static BufferedImage paint(WaveformView view) {
        BufferedImage image = new BufferedImage(2 * WIDTH, 2 * HEIGHT, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        try {
            g.scale(2, 2);
            view.paint(g);
        } finally {
            g.dispose();
        }
        return image;
    }

    private static PanelArea area(WaveformView view, int panel) {
        return view.canvas().areas().get(panel);
    }

    private static void mouse(WaveformView view, int id, double x, double y, int modifiers, int button) {
        view.canvas()
                .dispatchEvent(new MouseEvent(
                        view.canvas(), id, 0, modifiers, (int) Math.round(x), (int) Math.round(y), 1, false, button));
    }

    private static void click(WaveformView view, double x, double y, int button) {
        int mask = button == MouseEvent.BUTTON1 ? MouseEvent.BUTTON1_DOWN_MASK : MouseEvent.BUTTON3_DOWN_MASK;
        mouse(view, MouseEvent.MOUSE_PRESSED, x, y, mask, button);
        mouse(view, MouseEvent.MOUSE_RELEASED, x, y, mask, button);
    }

    private static void drag(WaveformView view, double x1, double y1, double x2, double y2, int more) {
        int mask = MouseEvent.BUTTON1_DOWN_MASK | more;
        mouse(view, MouseEvent.MOUSE_PRESSED, x1, y1, mask, MouseEvent.BUTTON1);
        mouse(view, MouseEvent.MOUSE_DRAGGED, 0.5 * (x1 + x2), 0.5 * (y1 + y2), mask, MouseEvent.NOBUTTON);
        mouse(view, MouseEvent.MOUSE_DRAGGED, x2, y2, mask, MouseEvent.NOBUTTON);
        mouse(view, MouseEvent.MOUSE_RELEASED, x2, y2, more, MouseEvent.BUTTON1);
    }

    private static void wheel(WaveformView view, double x, double y, int turns, int modifiers) {
        view.canvas()
                .dispatchEvent(new MouseWheelEvent(
                        view.canvas(),
                        MouseEvent.MOUSE_WHEEL,
                        0,
                        modifiers,
                        (int) Math.round(x),
                        (int) Math.round(y),
                        0,
                        false,
                        MouseWheelEvent.WHEEL_UNIT_SCROLL,
                        1,
                        turns));
    }

    @Test
    void newWaveformsAreDrawnAndMeasuredInTheSameComponent() throws Exception {
        withView(view -> {
            view.show(0, 10e-6);
            view.replace(Viewer.builder("Half the current, alone")
                    .panel(Waves.inductorCurrent().times(0.5).repeated(3).named("half")));
            paint(view);
            assertThat(view.canvas().areas()).hasSize(1);
            assertThat(area(view, 0).to()).isEqualTo(10e-6);
            view.measure(2e-6, 4e-6);
            assertThat(view.readoutPane().cell(0, 1)).isEqualTo("half");
            assertThat(view.readout().of("half").a().after())
                    .isCloseTo(0.5 * Waves.inductorCurrent().at(2e-6), within(1e-15));
        });
    }

    @Test
    void everyPanelAndBothCursorsArePainted() throws Exception {
        withView(view -> {
            BufferedImage image = paint(view);
            assertThat(view.canvas().areas()).hasSize(3);
            int top = view.canvas().getY();
            for (int panel = 0; panel < 3; panel++) {
                PanelArea area = area(view, panel);
                assertThat(inked(image, area, top)).as("panel %s", panel).isGreaterThan(800);
            }
            // the solid line of cursor A is dark from top to bottom of a panel
            PanelArea last = area(view, 2);
            int x = (int) Math.round(2 * last.x(view.readout().timeA()));
            int dark = 0;
            for (int y = (int) (2 * (top + last.top())); y < 2 * (top + last.top() + last.height()); y++) {
                dark += (image.getRGB(x, y) & 0xff) < 0x70 ? 1 : 0;
            }
            assertThat(dark).isGreaterThan((int) (1.9 * last.height()));
        });
    }

    private static int inked(BufferedImage image, PanelArea area, int top) {
        int count = 0;
        for (int y = (int) (2 * (top + area.top())); y < 2 * (top + area.top() + area.height()); y++) {
            for (int x = (int) (2 * area.left()); x < 2 * (area.left() + area.width()); x++) {
                int rgb = image.getRGB(x, y);
                int red = rgb >> 16 & 0xff;
                int green = rgb >> 8 & 0xff;
                int blue = rgb & 0xff;
                count += Math.max(red, Math.max(green, blue)) - Math.min(red, Math.min(green, blue)) > 60 ? 1 : 0;
            }
        }
        return count;
    }

    @Test
    void clicksPlaceTheCursorsAtTheInstantsNearby() throws Exception {
        withView(view -> {
            PanelArea area = area(view, 1);
            click(view, area.x(Waves.ON) + 3, area.top() + 20, MouseEvent.BUTTON1);
            click(view, area.x(Waves.ON + Waves.OFF) - 3, area.top() + 20, MouseEvent.BUTTON3);
            Readout readout = view.readout();
            assertThat(readout.timeA()).isEqualTo(Waves.ON);
            assertThat(readout.timeB()).isCloseTo(Waves.ON + Waves.OFF, within(1e-18));
            assertThat(view.readoutPane().timeLine())
                    .isEqualTo("2.50000000 µs | 6.50000000 µs | 4.00000 µs | 250.000 kHz");
            assertThat(view.readoutPane().cell(0, 2)).isEqualTo("12.0000 V  →  −400.000 mV");
            assertThat(view.readoutPane().cell(1, 4)).isEqualTo("−280.000 mA");
            assertThat(view.readoutPane().cell(1, 3)).isEqualTo("0 A");
        });
    }

    @Test
    void dragsZoomMoveCursorsAndPan() throws Exception {
        withView(view -> {
            PanelArea area = area(view, 0);
            double y = area.top() + 30;
            drag(view, area.x(12e-6), y, area.x(22e-6), y, 0);
            double pixel = 30e-6 / area.width();
            assertThat(view.shownFrom()).isCloseTo(12e-6, within(pixel));
            assertThat(view.shownTo()).isCloseTo(22e-6, within(pixel));
            paint(view);
            area = area(view, 0);
            double before = view.shownFrom();
            drag(view, area.x(20e-6), y, area.x(20e-6) - 0.2 * area.width(), y, MouseEvent.SHIFT_DOWN_MASK);
            assertThat(view.shownFrom() - before).isCloseTo(0.2 * 10e-6, within(2 * pixel));
            view.back();
            view.back();
            assertThat(view.shownTo()).isEqualTo(Waves.switchNode().repeated(3).endTime());
            paint(view);
            area = area(view, 0);
            drag(view, area.x(view.readout().timeB()), y, area.x(11.3e-6), y, 0);
            assertThat(view.readout().timeB()).isCloseTo(11.3e-6, within(pixel));
            assertThat(view.shownFrom()).isZero();
        });
    }

    @Test
    void wheelZoomsTimeAndValuesAboutThePointer() throws Exception {
        withView(view -> {
            PanelArea area = area(view, 0);
            double x = Math.round(area.x(15e-6));
            double time = area.time(x);
            wheel(view, x, area.top() + 30, -3, 0);
            assertThat(view.shownTo() - view.shownFrom()).isCloseTo(30e-6 / Math.pow(1.25, 3), within(1e-15));
            paint(view);
            assertThat(area(view, 0).x(time)).isCloseTo(x, within(1e-6));
            double span = area(view, 0).high() - area(view, 0).low();
            wheel(view, x, area.top() + 30, -1, MouseEvent.CTRL_DOWN_MASK);
            paint(view);
            assertThat(area(view, 0).high() - area(view, 0).low()).isCloseTo(span / 1.25, within(1e-9));
            double from = view.shownFrom();
            wheel(view, x, area.top() + 30, 1, MouseEvent.SHIFT_DOWN_MASK);
            assertThat(view.shownFrom()).isGreaterThan(from);
        });
    }

    @Test
    void aBoxZoomsTheValuesOfItsPanelToo() throws Exception {
        withView(view -> {
            PanelArea area = area(view, 1);
            drag(view, area.x(2e-6), area.y(0.25), area.x(5e-6), area.y(0.15), MouseEvent.CTRL_DOWN_MASK);
            paint(view);
            double pixel = (area.high() - area.low()) / area.height();
            assertThat(area(view, 1).low()).isCloseTo(0.15, within(pixel));
            assertThat(area(view, 1).high()).isCloseTo(0.25, within(pixel));
            assertThat(view.shownTo()).isCloseTo(5e-6, within(30e-6 / area.width()));
        });
    }

    @Test
    void listenersHearOfMeasurementsAndTracesGoOff() throws Exception {
        withView(view -> {
            List<Object> heard = new ArrayList<>();
            view.addPropertyChangeListener(WaveformView.READOUT, event -> heard.add(event.getNewValue()));
            view.measure(1e-6, 2e-6);
            assertThat(heard).last().isEqualTo(view.readout());
            view.switchTrace("Inductor current", false);
            paint(view);
            assertThat(view.canvas().areas().stream().map(PanelArea::panel)).containsExactly(0, 2);
            assertThat(view.picture().svg()).contains(">Switch node<").doesNotContain(">Inductor current<");
            assertThatThrownBy(() -> view.switchTrace("no such", true)).hasMessageContaining("Switch node");
            view.switchTrace("Switch node", false);
            view.switchTrace("Output voltage", false);
            paint(view);
            assertThat(view.canvas().areas()).isEmpty();
        });
    }

    @Test
    void otherThreadsAreTurnedAway() {
        ViewerBuilder builder = Viewer.builder("rail").panel(Waves.switchNode());
        assertThatThrownBy(builder::view)
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("SwingUtilities.invokeLater");
    }

    @Test
    void withoutADisplayTheWindowIsRefusedInWords() {
        assertThat(Viewer.displayFault()).isPresent();
        ViewerBuilder builder = Viewer.builder("rail").panel(Waves.switchNode());
        assertThatThrownBy(builder::open)
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("without a display");
    }
}
