package org.voltsecond.plot.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** What is told while work goes on. Waits for what is to come, and judges no time. */
class ProgressTest {
    private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    private final PrintStream err = new PrintStream(bytes, true, StandardCharsets.UTF_8);

    private String told() {
        return bytes.toString(StandardCharsets.UTF_8);
    }

    @Test
    void aLineIsWrittenOverAndTakenAway() throws InterruptedException {
        try (Progress progress = Progress.on(err, true).begin("rail.toml")) {
            progress.step("steady state");
            while (told().isEmpty()) {
                Thread.sleep(20);
            }
        }
        assertThat(told())
                .startsWith("\rrail.toml: steady state, ")
                .endsWith("\r")
                .doesNotContain("\n");
        String[] lines = told().split("\r", -1);
        assertThat(lines[lines.length - 2]).isBlank();
    }

    @Test
    void shortWorkIsSilent() {
        try (Progress progress = Progress.on(err, true).begin("rail.toml")) {
            progress.step("steady state");
        }
        assertThat(told()).isEmpty();
    }
}
