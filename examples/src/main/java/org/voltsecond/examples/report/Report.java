package org.voltsecond.examples.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Everything that is written for one design.
 *
 * @param outcome what the design does
 * @param pictures whether to draw pictures
 * @param designText the text of the design to put beside its figures; null for none
 */
public record Report(Outcome outcome, boolean pictures, @Nullable String designText) {
    /**
     * Writes all files.
     *
     * @param folder an empty folder
     * @throws IOException if a file cannot be written
     */
    public void writeTo(Path folder) throws IOException {
        try (BufferedWriter writer = writer(folder, "figures.json")) {
            FiguresJson.write(outcome, writer);
        }
        try (BufferedWriter writer = writer(folder, "waveforms.csv")) {
            WaveformsCsv.write(outcome, writer);
        }
        if (designText != null) {
            Files.writeString(folder.resolve("design.toml"), designText);
        }
        if (pictures) {
            PictureFiles.write(outcome, folder);
        }
    }

    private static BufferedWriter writer(Path folder, String name) throws IOException {
        return Files.newBufferedWriter(folder.resolve(name), StandardCharsets.UTF_8);
    }
}
