package org.voltsecond.plot.viewer;

import java.awt.AWTError;
import java.awt.Dimension;
import java.awt.GraphicsEnvironment;
import java.awt.HeadlessException;
import java.awt.Rectangle;
import java.awt.event.WindowAdapter;
import java.awt.event.WindowEvent;
import java.lang.reflect.InvocationTargetException;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import javax.swing.JFrame;
import javax.swing.SwingUtilities;
import javax.swing.WindowConstants;
import org.jspecify.annotations.Nullable;

/**
 * A window in which one looks at waveforms: zoom by mouse, wheel and keys, pan, two cursors that measure every trace.
 * However far one zooms, what is seen is the exact waveform, and no peak is lost however many periods are seen.
 *
 * <p>Safe to use from any thread.
 *
 * <pre>{@code
 * if (Viewer.displayFault().isEmpty()) { // there is a screen
 *     Viewer.builder("start-up of the logic rail")
 *             .panel(start.of(rail.switchNode()))
 *             .panel(start.of(rail.inductorCurrent()))
 *             .panel(start.of(rail.outputVoltage()))
 *             .period(1 / kilo(300))
 *             .open();
 * }
 * }</pre>
 */
public final class Viewer {
    private final CountDownLatch closed = new CountDownLatch(1);
    private final JFrame frame;
    private final WaveformView view;

    private Viewer(ViewerContent content, @Nullable DesignModel design) {
        view = new WaveformView(content, design);
        frame = new JFrame(titled(content));
        frame.setDefaultCloseOperation(WindowConstants.DISPOSE_ON_CLOSE);
        frame.addWindowListener(new WindowAdapter() {
            @Override
            public void windowClosed(WindowEvent event) {
                if (design != null) {
                    design.stop();
                }
                closed.countDown();
            }
        });
        frame.add(view);
        frame.pack();
        frame.setSize(fitting(frame.getSize()));
        frame.setLocationByPlatform(true);
        frame.setVisible(true);
        view.canvas().requestFocusInWindow();
    }

    private static Dimension fitting(Dimension wanted) {
        Rectangle screen = GraphicsEnvironment.getLocalGraphicsEnvironment().getMaximumWindowBounds();
        return new Dimension(Math.min(wanted.width, screen.width), Math.min(wanted.height, screen.height));
    }

    /**
     * Starts a viewer.
     *
     * @param title what is shown, for the title of the window and in bold at the top
     * @return a builder
     */
    public static ViewerBuilder builder(String title) {
        return new ViewerBuilder(title);
    }

    /**
     * Tells why no window can be opened.
     *
     * @return the reason; empty where one can
     */
    public static Optional<String> displayFault() {
        try {
            if (GraphicsEnvironment.isHeadless()) {
                return Optional.of("this Java machine runs without a display");
            }
            GraphicsEnvironment.getLocalGraphicsEnvironment().getDefaultScreenDevice();
            return Optional.empty();
        } catch (HeadlessException | AWTError | LinkageError e) {
            return Optional.of("the display cannot be opened: "
                    + String.valueOf(e.getMessage()).lines().findFirst().orElse(""));
        }
    }

    static Viewer open(ViewerContent content, @Nullable DesignModel design) {
        displayFault().ifPresent(fault -> {
            throw new IllegalStateException("no window can be opened: " + fault
                    + "; on a machine without a display draw a picture with Pictures.stack()");
        });
        return onEventThread(() -> new Viewer(content, design));
    }

    private interface Making {
        Viewer make();
    }

    private static Viewer onEventThread(Making making) {
        if (SwingUtilities.isEventDispatchThread()) {
            return making.make();
        }
        @Nullable Viewer[] made = new Viewer[1];
        try {
            SwingUtilities.invokeAndWait(() -> made[0] = making.make());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while a window was opened", e);
        } catch (InvocationTargetException e) {
            throw new IllegalStateException("a window could not be opened: " + e.getCause(), e.getCause());
        }
        Viewer viewer = made[0];
        if (viewer == null) {
            throw new IllegalStateException("a window was not opened");
        }
        return viewer;
    }

    /**
     * Returns the component in the window; to be used on the event thread alone.
     *
     * @return the component
     */
    public WaveformView view() {
        return view;
    }

    /**
     * Shows other waveforms in the window, and its title; zoom, cursors and what is switched off stay, see
     * {@link WaveformView#replace}. To be called on any thread.
     *
     * @param next what to show
     * @throws IllegalArgumentException if there is no waveform, or there are too many periods to be marked
     */
    public void replace(ViewerBuilder next) {
        ViewerContent content = next.content();
        SwingUtilities.invokeLater(() -> {
            frame.setTitle(titled(content));
            view.model().replace(content);
        });
    }

    private static String titled(ViewerContent content) {
        return content.title().isEmpty() ? "Waveforms" : content.title();
    }

    /** Closes the window, if it is still open. */
    public void close() {
        SwingUtilities.invokeLater(frame::dispose);
    }

    /**
     * Tells whether the window is open.
     *
     * @return false once it has been closed
     */
    public boolean isOpen() {
        return closed.getCount() > 0;
    }

    /**
     * Waits until the window is closed; not to be called on the event thread, which closes it.
     *
     * @throws InterruptedException if the thread is interrupted
     */
    public void awaitClose() throws InterruptedException {
        closed.await();
    }
}
