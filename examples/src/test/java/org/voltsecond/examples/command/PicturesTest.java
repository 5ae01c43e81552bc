package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the pictures of a design say in words. */
class PicturesTest {
    private static final String CURRENT_MODE =
            Designs.BUCK.substring(0, Designs.BUCK.indexOf("kind = \"fixed-duty\"")) + """
            kind = "peak-current-mode"
            switching_frequency = "300 kHz"
            current_command = "2.4 A"
            """;

    private static final String CHANGES = """
            [transient]
            duration = "0.6 ms"
            [[transient.change]]
            time = "0.2 ms"
            load = { resistance = "5 Ω" }
            [[transient.change]]
            time = "0.4 ms"
            input = { voltage = "15 V" }
            """;

    @TempDir
    Path folder;

    private void run(String design) throws IOException {
        CommandRun run = CommandRun.of(Designs.write(folder, "rail.toml", design), "--into", folder.resolve("out"));
        assertThat(run.err()).isEmpty();
    }

    private String text(String name) throws IOException {
        return Files.readString(folder.resolve("out/rail").resolve(name));
    }

    @Test
    void inCurrentModeTheSensedCurrentIsComparedWithTheCommandInAmperes() throws IOException {
        run(CURRENT_MODE + "slope_compensation = \"150 mA/µs\"\n" + CHANGES);
        assertThat(text("pulses.svg"))
                .contains("current command", "sensed current with slope", "gate, 1 = transistor on")
                .doesNotContain(">ramp<", "control voltage");
        assertThat(text("change-1.svg")).contains("12.00 V in, load 2.5 Ω", "to load 5 Ω");
        assertThat(text("change-2.svg")).contains("12.00 V in, load 5 Ω", "to input 15 V");
        assertThat(text("transient.svg")).contains("at the start: buck, 12.00 V in, load 2.5 Ω");
        assertThat(text("steady-state.svg")).doesNotContain("does not last");
        assertThat(text("report.html"))
                .contains("\"name\":\"sensed current with slope\"")
                .doesNotContain("\"name\":\"ramp\"");
    }

    /** At more than half the period, peak current mode without slope compensation leaves its orbit. */
    @Test
    void anOrbitThatDoesNotLastSaysSoInItsTitle() throws IOException {
        run(CURRENT_MODE.replace("\"12 V\"", "\"7.2 V\""));
        assertThat(text("steady-state.svg")).contains("unstable: it does not last");
        assertThat(text("report.html")).contains("Two periods of the steady state, unstable: it does not last");
    }

    @Test
    void hystereticPulsesAreDrawnWithTheirBand() throws IOException {
        run(Designs.BUCK.substring(0, Designs.BUCK.indexOf("kind = \"fixed-duty\"")) + """
                kind = "hysteretic"
                typical_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.2
                voltage_band = "2 mV"
                [transient]
                duration = "0.2 ms"
                """);
        assertThat(text("pulses.svg"))
                .contains("reference less sensed voltage", "turns on above", "turns off below")
                .doesNotContain(">ramp<");
    }

    /** Of a part of the time the extremes of the whole would be wrong: within the on interval the switch node is never low. */
    @Test
    void zoomedInTheReadingIsThatOfWhatIsSeen() throws IOException, InterruptedException {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "no browser on this computer");
        run(Designs.BUCK);
        String zooming = "<script>setTimeout(() => document.querySelector('figure.waves').figure.show(0, 1e-6), 100);"
                + "</script></body>";
        Path zoomed = folder.resolve("zoomed.html");
        Files.writeString(zoomed, text("report.html").replace("</body>", zooming));
        String dom = browser.get().open(zoomed, folder.resolve("profile")).dom();
        Matcher reading = Pattern.compile("<bdi>switch node</bdi><output[^>]*>([^<]*)</output>")
                .matcher(dom);
        assertThat(reading.find()).isTrue();
        assertThat(reading.group(1)).contains("V").doesNotContain("-");
        assertThat(dom).contains("over what is seen, from 0 s to 1 µs, from lowest to highest");
    }

    /** Who hears the page gets what the canvases show. */
    @Test
    void canvasesSayWhatTheyShowInABrowser() throws IOException, InterruptedException {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "no browser on this computer");
        run(Designs.BUCK + CHANGES);
        Browser.Visit visit = browser.get().open(folder.resolve("out/rail/report.html"), folder.resolve("profile"));
        assertThat(visit.dom())
                .containsPattern(
                        "<canvas[^>]* role=\"img\" aria-label=\"inductor current in A over time: over the whole "
                                + "time, from lowest to highest; inductor current [^\"]*A to [^\"]*A\"")
                .contains("<ol class=\"marks\"><li><bdi>at 200 µs: load 5 Ω</bdi></li>")
                .contains("role=\"status\"", "role=\"group\"");
    }
}
