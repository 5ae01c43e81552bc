package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The real window of a design on a virtual display, worked with the keyboard alone. */
class DesignWindowTest {
    @TempDir
    private Path folder;

    @ParameterizedTest
    @ValueSource(strings = {"light", "dark"})
    void fieldsAndSlidersAreWorkedByKeys(String look) throws Exception {
        Optional<Path> program = VirtualDisplay.program();
        assumeTrue(program.isPresent(), "skipped: no virtual display here; install Xvfb (package xvfb) to run it");
        Path screen = folder.resolve(look + ".png");
        Map<String, String> said;
        try (VirtualDisplay display = VirtualDisplay.start(program.get())) {
            said = display.session(DesignSession.class, folder, screen.toString(), look, DesignModelTest.RAIL);
        }
        assertThat(said)
                .containsEntry("before", "5.0468 V")
                .containsEntry("focus", "true")
                .containsEntry("conduction", "discontinuous")
                .containsEntry("traces", "6")
                .containsEntry("undone", "2.5 Ω")
                .containsEntry("met", "met: 4.389 mV")
                .containsEntry("slid", "44.900 %")
                .containsEntry("dimmed", "true")
                .containsEntry("open", "false");
        assertThat(said.get("fault")).contains("22 mF");
        assertThat(ImageIO.read(screen.toFile()).getWidth()).isEqualTo(1280);
    }
}
