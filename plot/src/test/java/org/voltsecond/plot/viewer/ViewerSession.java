package org.voltsecond.plot.viewer;

import java.awt.Point;
import java.awt.Rectangle;
import java.awt.Robot;
import java.awt.Toolkit;
import java.awt.event.InputEvent;
import java.awt.event.KeyEvent;
import java.io.File;
import java.util.concurrent.Callable;
import java.util.concurrent.FutureTask;
import javax.imageio.ImageIO;
import javax.swing.SwingUtilities;
import org.voltsecond.plot.PanelArea;
import org.voltsecond.plot.Waves;

/**
 * Opens the real window, works it with mouse and keys as a user does, and prints what it then says, as lines of
 * {@code name=value}. Runs in a Java machine of its own, on the display that DISPLAY names.
 */
final class ViewerSession {
    private static final int PATIENCE_MS = 20_000;

    private final Viewer viewer;
    private final Robot robot;

    private ViewerSession() throws Exception {
        viewer = Viewer.builder("Three periods of a rail")
                .subtitle("discontinuous conduction")
                .panel(Waves.switchNode().repeated(3))
                .panel(Waves.inductorCurrent().repeated(3))
                .panel(Waves.outputVoltage().repeated(3))
                .period(Waves.PERIOD)
                .open();
        robot = new Robot();
        robot.setAutoDelay(30);
    }

    /**
     * Runs the session.
     *
     * @param arguments the file to write a picture of the screen into
     * @throws Exception whatever goes wrong
     */
    public static void main(String[] arguments) throws Exception {
        try {
            new ViewerSession().run(new File(arguments[0]));
            System.exit(0);
        } catch (Exception e) {
            e.printStackTrace();
            System.exit(1);
        }
    }

    private static <T> T onEventThread(Callable<T> question) throws Exception {
        FutureTask<T> task = new FutureTask<>(question);
        SwingUtilities.invokeAndWait(task);
        return task.get();
    }

    private void await(Callable<Boolean> condition) throws Exception {
        long end = System.nanoTime() + PATIENCE_MS * 1_000_000L;
        while (!onEventThread(condition) && System.nanoTime() < end) {
            Thread.sleep(20);
        }
    }

    private static void say(String name, Object value) {
        System.out.println(name + "=" + value);
    }

    private void run(File screen) throws Exception {
        await(() -> viewer.view().canvas().areas().size() == 3);
        clickCursors();
        zoomByKeys();
        zoomByDrag();
        panAndWheel();
        switchByKeys();
        ImageIO.write(
                robot.createScreenCapture(
                        new Rectangle(Toolkit.getDefaultToolkit().getScreenSize())),
                "png",
                screen);
        viewer.close();
        viewer.awaitClose();
        say("open", viewer.isOpen());
    }

    private void clickCursors() throws Exception {
        Readout before = readout();
        click(Waves.ON, 3, InputEvent.BUTTON1_DOWN_MASK);
        await(() -> viewer.view().readout().timeA() != before.timeA());
        click(Waves.ON + Waves.OFF, -3, InputEvent.BUTTON3_DOWN_MASK);
        await(() -> viewer.view().readout().timeB() != before.timeB());
        say("timeA", readout().timeA());
        say("interval", readout().interval());
        say("frequency", readout().frequency());
        say("node.before", readout().of("Switch node").a().before());
        say("node.after", readout().of("Switch node").a().after());
        say("current.difference", readout().of("Inductor current").difference());
        say("line", onEventThread(() -> viewer.view().readoutPane().timeLine()));
        say("cell", onEventThread(() -> viewer.view().readoutPane().cell(0, 2)));
    }

    private void zoomByKeys() throws Exception {
        double whole = viewer.view().shownTo();
        key(KeyEvent.VK_Z);
        await(() -> viewer.view().shownTo() != whole);
        say("between.from", viewer.view().shownFrom());
        say("between.to", viewer.view().shownTo());
        key(KeyEvent.VK_BACK_SPACE);
        await(() -> viewer.view().shownTo() == whole);
        say("back.to", viewer.view().shownTo());
    }

    private void zoomByDrag() throws Exception {
        drag(10e-6, 20e-6, InputEvent.BUTTON1_DOWN_MASK);
        await(() -> viewer.view().shownFrom() > 0);
        say("drag.from", viewer.view().shownFrom());
        say("drag.to", viewer.view().shownTo());
        say("pixel", 30e-6 / area().width());
    }

    private void panAndWheel() throws Exception {
        double from = viewer.view().shownFrom();
        drag(15e-6, 13e-6, InputEvent.BUTTON3_DOWN_MASK);
        await(() -> viewer.view().shownFrom() > from);
        say("pan", viewer.view().shownFrom() - from);
        double length = viewer.view().shownTo() - viewer.view().shownFrom();
        Point place = place(18e-6, 0);
        robot.mouseMove(place.x, place.y);
        robot.mouseWheel(-2);
        await(() -> viewer.view().shownTo() - viewer.view().shownFrom() < 0.7 * length);
        say("wheel", (viewer.view().shownTo() - viewer.view().shownFrom()) / length);
    }

    private void switchByKeys() throws Exception {
        key(KeyEvent.VK_3);
        await(() -> viewer.view().canvas().areas().size() == 2);
        say("panels", onEventThread(() -> viewer.view().canvas().areas().size()));
        key(KeyEvent.VK_M);
        await(() -> !viewer.view().model().periodMarks());
        say("marks", onEventThread(() -> viewer.view().model().periodMarks()));
        key(KeyEvent.VK_A);
        robot.keyPress(KeyEvent.VK_CONTROL);
        key(KeyEvent.VK_RIGHT);
        robot.keyRelease(KeyEvent.VK_CONTROL);
        await(() -> viewer.view().readout().interval() == 0);
        say("next.interval", readout().interval());
    }

    private Readout readout() throws Exception {
        return onEventThread(() -> viewer.view().readout());
    }

    private PanelArea area() throws Exception {
        return onEventThread(() -> viewer.view().canvas().areas().get(1));
    }

    /** On the screen, in the middle panel. */
    private Point place(double time, int beside) throws Exception {
        Point corner = onEventThread(() -> viewer.view().canvas().getLocationOnScreen());
        PanelArea area = area();
        return new Point(
                corner.x + (int) Math.round(area.x(time)) + beside,
                corner.y + (int) Math.round(area.top() + 0.3 * area.height()));
    }

    private void click(double time, int beside, int button) throws Exception {
        Point place = place(time, beside);
        robot.mouseMove(place.x, place.y);
        robot.mousePress(button);
        robot.mouseRelease(button);
    }

    private void drag(double from, double to, int button) throws Exception {
        Point start = place(from, 0);
        Point end = place(to, 0);
        robot.mouseMove(start.x, start.y);
        robot.mousePress(button);
        robot.mouseMove((start.x + end.x) / 2, start.y);
        robot.mouseMove(end.x, end.y);
        robot.mouseRelease(button);
    }

    private void key(int code) {
        robot.keyPress(code);
        robot.keyRelease(code);
    }
}
