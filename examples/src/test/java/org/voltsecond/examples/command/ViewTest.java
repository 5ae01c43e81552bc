package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.plot.viewer.VirtualDisplay;

/** The option that opens a window for each design. */
class ViewTest {
    @TempDir
    private Path folder;

    @Test
    void withoutADisplayItIsRefusedBeforeAnythingIsWritten() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        CommandRun run = CommandRun.of(design, "--into", folder.resolve("out"), "--view");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err())
                .containsExactly(
                        "voltsecond: --view: this Java machine runs without a display; valid: on a computer with "
                                + "a screen. Without --view, report.html shows the same waveforms");
        assertThat(folder.resolve("out")).doesNotExist();
    }

    /** From rest the buck's inductor sees its input less the drops, almost none yet; the boost is ideal: V_in t / L. */
    @Test
    void eachDesignHasItsWindowAndTheCommandEndsWhenAllAreClosed() throws Exception {
        Optional<Path> program = VirtualDisplay.program();
        assumeTrue(program.isPresent(), "skipped: no virtual display here; install Xvfb (package xvfb) to run it");
        Path buck = Designs.write(folder, "logic.toml", Designs.BUCK + "[transient]\nduration = \"2 ms\"\n");
        Path boost = Designs.write(folder, "radio.toml", Designs.IDEAL_BOOST);
        Map<String, String> said;
        try (VirtualDisplay display = VirtualDisplay.start(program.get())) {
            said = display.session(
                    ViewSession.class, folder, folder.resolve("out").toString(), buck.toString(), boost.toString());
        }
        assertThat(said).containsEntry("exit", "0").containsEntry("err", "[]");
        assertThat(number(said, "radio rail: steady state, current")).isCloseTo(12 * 2e-6 / 47e-6, within(1e-9));
        // on for 1.5 µs, then off for 0.5 µs with nothing but the forward drop across the inductor
        double rise = (12 * 1.5e-6 - 0.4 * 0.5e-6) / 22e-6;
        assertThat(number(said, "logic rail: transient, current")).isCloseTo(rise, within(0.02 * rise));
        assertThat(number(said, "Start-up of the logic rail, current")).isCloseTo(12 * 1.5e-6 / 22e-6, within(0.02));
        assertThat(number(said, "Start-up of the logic rail, node")).isEqualTo(12);
        assertThat(folder.resolve("out/logic/figures.json")).isNotEmptyFile();
    }

    private static double number(Map<String, String> said, String name) {
        assertThat(said).containsKey(name);
        return Double.parseDouble(said.getOrDefault(name, ""));
    }
}
