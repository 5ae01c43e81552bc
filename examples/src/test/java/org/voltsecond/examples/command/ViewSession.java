package org.voltsecond.examples.command;

import java.awt.Component;
import java.awt.Container;
import java.awt.Frame;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import javax.swing.SwingUtilities;
import org.voltsecond.examples.ViewStartUp;
import org.voltsecond.plot.viewer.Readout;
import org.voltsecond.plot.viewer.WaveformView;

/**
 * Runs the command with {@code --view}, measures in its windows, closes them, and prints what came out. Runs in a Java
 * machine of its own, on the display that DISPLAY names.
 */
final class ViewSession {
    private static final int PATIENCE_MS = 60_000;

    private ViewSession() {}

    /**
     * Runs the session.
     *
     * @param arguments folder to write into, and two designs
     * @throws Exception whatever goes wrong
     */
    public static void main(String[] arguments) throws Exception {
        try {
            CompletableFuture<CommandRun> command = CompletableFuture.supplyAsync(() -> CommandRun.of(
                    Path.of(arguments[1]), Path.of(arguments[2]), "--into", arguments[0], "--no-pictures", "--view"));
            measureAndClose(2);
            CommandRun run = command.get(PATIENCE_MS, TimeUnit.MILLISECONDS);
            System.out.println("exit=" + run.exitCode());
            System.out.println("err=" + run.err());
            ViewStartUp.main(new String[0]);
            measureAndClose(1);
            System.exit(0);
        } catch (Exception e) {
            e.printStackTrace();
            System.exit(1);
        }
    }

    private static void measureAndClose(int expected) throws Exception {
        long end = System.nanoTime() + PATIENCE_MS * 1_000_000L;
        while (showing().size() < expected && System.nanoTime() < end) {
            Thread.sleep(50);
        }
        SwingUtilities.invokeAndWait(() -> showing().forEach(frame -> {
            WaveformView view = find(frame);
            view.measure(0, 2e-6);
            Readout readout = view.readout();
            System.out.println(frame.getTitle() + ", current="
                    + readout.of("inductor current").difference());
            System.out.println(
                    frame.getTitle() + ", node=" + readout.of("switch node").a().after());
            frame.dispose();
        }));
    }

    private static List<Frame> showing() {
        return Arrays.stream(Frame.getFrames())
                .filter(Component::isShowing)
                .sorted(Comparator.comparing(Frame::getTitle))
                .toList();
    }

    private static WaveformView find(Container container) {
        for (Component child : container.getComponents()) {
            if (child instanceof WaveformView view) {
                return view;
            }
            if (child instanceof Container inner && inner.getComponentCount() > 0) {
                return find(inner);
            }
        }
        throw new IllegalStateException("the window holds no view of waveforms");
    }
}
