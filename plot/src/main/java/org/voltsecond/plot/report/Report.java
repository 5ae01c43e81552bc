package org.voltsecond.plot.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.voltsecond.units.Result;

/**
 * Everything that is written for one design.
 *
 * @param outcome what the design does
 * @param pictures whether to draw pictures
 * @param binary whether to write the waveforms in binary as well
 * @param designText the text of the design
 * @param copied whether to put this text beside the figures
 */
public record Report(Findings outcome, boolean pictures, boolean binary, String designText, boolean copied) {
    /**
     * Writes all files, several at a time where there are several processors.
     *
     * @param folder an empty folder
     * @throws IOException if a file cannot be written
     */
    public void writeTo(Path folder) throws IOException {
        List<SideBySide.Task> tasks = new ArrayList<>();
        tasks.add(() -> write(folder.resolve("waveforms.csv"), WaveformsCsv::write));
        tasks.addAll(StudyFiles.tables(outcome.studies(), folder));
        if (binary) {
            tasks.add(() -> WaveformsBinary.write(outcome, folder.resolve("waveforms.h5")));
        }
        if (pictures) {
            tasks.addAll(PictureFiles.tasks(outcome, folder));
            tasks.add(
                    () -> Files.writeString(folder.resolve("report.html"), new HtmlReport(outcome, designText).html()));
        }
        Result<FrequencyOutcome> response = outcome.frequencyResponse();
        if (response != null && response.exists()) {
            FrequencyOutcome found = response.get();
            tasks.add(() -> write(
                    folder.resolve("frequency-response.csv"), (all, writer) -> FrequencyFiles.writeCsv(found, writer)));
        }
        tasks.add(() -> write(folder.resolve("figures.json"), FiguresJson::write));
        if (copied) {
            tasks.add(() -> Files.writeString(folder.resolve("design.toml"), designText));
        }
        SideBySide.run(tasks);
    }

    private void write(Path file, TextFile content) throws IOException {
        try (BufferedWriter writer = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            content.write(outcome, writer);
        }
    }

    /** A kind of file that is written as text. */
    @FunctionalInterface
    private interface TextFile {
        void write(Findings outcome, BufferedWriter writer) throws IOException;
    }
}
