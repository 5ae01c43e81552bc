package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.plot.Waves;

/** The real window on a virtual display, worked with mouse and keys; what it says is held to the polynomials shown. */
class ViewerWindowTest {
    @TempDir
    private Path folder;

    @Test
    void mouseAndKeysMeasureWhatTheWaveformsAre() throws Exception {
        Optional<Path> program = VirtualDisplay.program();
        assumeTrue(program.isPresent(), "skipped: no virtual display here; install Xvfb (package xvfb) to run it");
        Path screen = folder.resolve("screen.png");
        Map<String, String> said;
        try (VirtualDisplay display = VirtualDisplay.start(program.get())) {
            said = display.session(ViewerSession.class, folder, screen.toString());
        }
        measured(said);
        zoomed(said);
        assertThat(said)
                .containsEntry("panels", "2")
                .containsEntry("marks", "false")
                .containsEntry("open", "false");
        assertThat(number(said, "next.interval")).isZero();
        assertThat(ImageIO.read(screen.toFile()).getWidth()).isEqualTo(1280);
    }

    private static void measured(Map<String, String> said) {
        assertThat(number(said, "timeA")).isEqualTo(Waves.ON);
        assertThat(number(said, "interval")).isCloseTo(Waves.OFF, within(1e-18));
        assertThat(number(said, "frequency")).isCloseTo(1 / Waves.OFF, within(1e-6));
        assertThat(number(said, "node.before")).isEqualTo(12);
        assertThat(number(said, "node.after")).isEqualTo(-0.4);
        assertThat(number(said, "current.difference")).isCloseTo(-0.28, within(1e-15));
        assertThat(said)
                .containsEntry("line", "2.50000000 µs | 6.50000000 µs | 4.00000 µs | 250.000 kHz")
                .containsEntry("cell", "12.0000 V  →  −400.000 mV");
    }

    private static void zoomed(Map<String, String> said) {
        double pixel = number(said, "pixel");
        assertThat(number(said, "between.from")).isEqualTo(Waves.ON);
        assertThat(number(said, "between.to")).isCloseTo(Waves.ON + Waves.OFF, within(1e-18));
        assertThat(number(said, "back.to"))
                .isEqualTo(Waves.switchNode().repeated(3).endTime());
        assertThat(number(said, "drag.from")).isCloseTo(10e-6, within(pixel));
        assertThat(number(said, "drag.to")).isCloseTo(20e-6, within(pixel));
        assertThat(number(said, "pan")).isCloseTo(2e-6, within(pixel));
        assertThat(number(said, "wheel")).isCloseTo(1 / (1.25 * 1.25), within(1e-9));
    }

    private static double number(Map<String, String> said, String name) {
        return Double.parseDouble(said.getOrDefault(name, ""));
    }
}
