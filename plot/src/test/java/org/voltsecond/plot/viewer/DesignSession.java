package org.voltsecond.plot.viewer;

import java.awt.Color;
import java.awt.Component;
import java.awt.KeyboardFocusManager;
import java.awt.Rectangle;
import java.awt.Robot;
import java.awt.Toolkit;
import java.awt.event.KeyEvent;
import java.io.File;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.concurrent.FutureTask;
import javax.imageio.ImageIO;
import javax.swing.SwingUtilities;
import javax.swing.UIManager;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree;
import org.voltsecond.plot.report.Findings;

/**
 * Opens the window of a design, works its fields and sliders with the keyboard alone, and prints what it then says, as lines of
 * {@code name=value}. Runs in a Java machine of its own, on the display that DISPLAY names.
 */
final class DesignSession {
    private static final int PATIENCE_MS = 20_000;

    private final Viewer viewer;
    private final Robot robot;

    private DesignSession(String design) throws Exception {
        DesignTree tree = DesignFile.tree("rail.toml", design);
        viewer = DesignView.of(Findings.of(tree.design("rail")), tree).get().open();
        robot = new Robot();
        robot.setAutoDelay(20);
    }

    /**
     * Runs the session.
     *
     * @param arguments the files to write pictures of the screen into, "light" or "dark", and the design
     * @throws Exception whatever goes wrong
     */
    public static void main(String[] arguments) throws Exception {
        try {
            if (arguments[1].equals("dark")) {
                darken();
            }
            new DesignSession(arguments[2]).run(new File(arguments[0]));
            System.exit(0);
        } catch (Exception e) {
            e.printStackTrace();
            System.exit(1);
        }
    }

    /** As an application with a dark look would. */
    private static void darken() {
        for (String part : new String[] {
            "Panel",
            "Label",
            "CheckBox",
            "Button",
            "TextField",
            "TextArea",
            "Table",
            "TableHeader",
            "Slider",
            "SplitPane",
            "ScrollPane",
            "Viewport",
            "ToolBar",
            "ScrollBar"
        }) {
            UIManager.put(part + ".background", new Color(0x26, 0x28, 0x2c));
            UIManager.put(part + ".foreground", new Color(0xe6, 0xe6, 0xe6));
        }
        UIManager.put("TextField.caretForeground", Color.WHITE);
    }

    private static <T> T onEventThread(Callable<T> question) throws Exception {
        FutureTask<T> task = new FutureTask<>(question);
        SwingUtilities.invokeAndWait(task);
        return task.get();
    }

    private static void await(Callable<Boolean> condition) throws Exception {
        long end = System.nanoTime() + PATIENCE_MS * 1_000_000L;
        while (!onEventThread(condition) && System.nanoTime() < end) {
            Thread.sleep(20);
        }
    }

    private static void say(String name, Object value) {
        System.out.println(name + "=" + value);
    }

    private DesignPane pane() {
        return Objects.requireNonNull(viewer.view().designPane());
    }

    private String figure(String label) throws Exception {
        return onEventThread(() -> pane().figures().now(label));
    }

    private void run(File screen) throws Exception {
        await(() -> !pane().figures().now("output voltage mean").isEmpty());
        say("before", figure("output voltage mean"));
        tabTo(pane().row("load.resistance").field());
        replaceBy("100");
        await(() -> pane().figures().now("conduction").equals("discontinuous"));
        say("conduction", figure("conduction"));
        say("traces", onEventThread(() -> viewer.view().readout().readings().size()));
        key(KeyEvent.VK_Z, KeyEvent.VK_CONTROL);
        await(() -> pane().figures().now("conduction").equals("continuous"));
        say("undone", onEventThread(() -> pane().row("load.resistance").field().getText()));
        say("met", figure("limit: output ripple, 5.000 mV at most"));
        tabTo(pane().row("drive.duty_cycle").slider());
        String duty = figure("duty cycle");
        key(KeyEvent.VK_LEFT);
        await(() -> !pane().figures().now("duty cycle").equals(duty));
        say("slid", figure("duty cycle"));
        tabTo(pane().row("inductor.inductance").field());
        replaceBy("22 mF");
        await(() -> !pane().row("inductor.inductance").said().isEmpty());
        say(
                "fault",
                onEventThread(() -> pane().row("inductor.inductance").said()).replace('\n', ' '));
        await(() -> viewer.view().canvas().isDimmed());
        say("dimmed", onEventThread(() -> viewer.view().canvas().isDimmed()));
        shoot(new File(screen.getPath().replace(".png", "-fault.png")));
        replaceBy("10 uH");
        await(() -> pane().row("inductor.inductance").said().isEmpty());
        await(() -> !viewer.view().canvas().isDimmed());
        shoot(screen);
        viewer.close();
        viewer.awaitClose();
        say("open", viewer.isOpen());
    }

    private void shoot(File file) throws Exception {
        Thread.sleep(300);
        ImageIO.write(
                robot.createScreenCapture(
                        new Rectangle(Toolkit.getDefaultToolkit().getScreenSize())),
                "png",
                file);
    }

    /** From one part of the window to the next, as far as it takes. */
    private void tabTo(Component wanted) throws Exception {
        KeyboardFocusManager manager = KeyboardFocusManager.getCurrentKeyboardFocusManager();
        for (int k = 0; k < 200 && manager.getFocusOwner() != wanted; k++) {
            Component before = manager.getFocusOwner();
            key(KeyEvent.VK_TAB);
            await(() -> manager.getFocusOwner() != before);
        }
        say("focus", manager.getFocusOwner() == wanted);
    }

    private void replaceBy(String text) {
        key(KeyEvent.VK_A, KeyEvent.VK_CONTROL);
        for (int k = 0; k < text.length(); k++) {
            char c = text.charAt(k);
            int code = KeyEvent.getExtendedKeyCodeForChar(c);
            if (Character.isUpperCase(c)) {
                key(code, KeyEvent.VK_SHIFT);
            } else {
                key(code);
            }
        }
        key(KeyEvent.VK_ENTER);
    }

    private void key(int code, int... held) {
        for (int modifier : held) {
            robot.keyPress(modifier);
        }
        robot.keyPress(code);
        robot.keyRelease(code);
        for (int modifier : held) {
            robot.keyRelease(modifier);
        }
    }
}
