package org.voltsecond.plot.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.plot.report.OutputFolder.SideBySide;
import org.voltsecond.review.Provenance;
import org.voltsecond.units.Result;

/**
 * Everything that is written about a design, or about a converter: figures, waveforms, pictures, and a page that holds all.
 *
 * <pre>{@code
 * Report report = Report.of(rail);
 * report.writeTo(folder);
 * String page = report.html();
 * String figures = report.figuresJson();
 * }</pre>
 *
 * @param outcome what the design does
 * @param pictures whether to draw pictures
 * @param binary whether to write the waveforms in binary as well
 * @param designText the text of the design
 * @param copied whether to put this text beside the figures
 */
public record Report(Findings outcome, boolean pictures, boolean binary, String designText, boolean copied) {
    /**
     * Returns the report of a converter.
     *
     * @param converter the converter
     * @return its report, with pictures
     */
    public static Report of(Converter converter) {
        return of(Findings.of(converter));
    }

    /**
     * Returns the report of what was found.
     *
     * @param findings what was found
     * @return its report, with pictures
     */
    public static Report of(Findings findings) {
        return new Report(findings, true, false, "", false);
    }

    /**
     * Returns the page that holds everything and needs nothing but a browser.
     *
     * @return the page
     */
    public String html() {
        return HtmlReport.of(outcome, designText).html(PictureFiles.Shared.of(outcome));
    }

    /**
     * Returns all figures.
     *
     * @return what stands in figures.json
     */
    public String figuresJson() {
        StringWriter text = new StringWriter();
        try {
            FiguresJson.write(outcome, Provenance.of(designText), text);
        } catch (IOException e) {
            throw new UncheckedIOException("nothing that is written to memory fails", e);
        }
        return text.toString();
    }

    /**
     * Writes all files, several at a time where there are several processors.
     *
     * @param folder the folder; made if it does not exist
     * @throws IOException if a file cannot be written
     */
    public void writeTo(Path folder) throws IOException {
        Files.createDirectories(folder);
        List<SideBySide.Task> tasks = new ArrayList<>();
        // first, since it asks for the measures of all waveforms, which the pages then find worked out
        tasks.add(() -> write(
                folder.resolve("figures.json"),
                (all, writer) -> FiguresJson.write(all, Provenance.of(designText), writer)));
        tasks.add(() -> write(
                folder.resolve("waveforms.csv"),
                (all, writer) -> WaveformTables.of(all).writeCsv(writer)));
        tasks.addAll(StudyFiles.tables(outcome.studies(), folder));
        if (binary) {
            tasks.add(() -> WaveformTables.of(outcome).writeBinary(folder.resolve("waveforms.h5")));
        }
        if (pictures) {
            PictureFiles.Shared shared = PictureFiles.Shared.of(outcome);
            tasks.addAll(PictureFiles.tasks(outcome, shared, folder));
            tasks.add(() -> writePages(HtmlReport.of(outcome, designText), shared, folder));
        }
        Result<FrequencyOutcome> response = outcome.frequencyResponse();
        if (response != null && response.exists()) {
            FrequencyOutcome found = response.get();
            tasks.add(() -> write(
                    folder.resolve("frequency-response.csv"), (all, writer) -> FrequencyFiles.writeCsv(found, writer)));
        }
        if (copied) {
            tasks.add(() -> Files.writeString(folder.resolve("design.toml"), designText));
        }
        SideBySide.run(tasks);
    }

    /** One after the other, since the second tells much of what the first does. */
    private static void writePages(HtmlReport report, PictureFiles.Shared shared, Path folder) throws IOException {
        Files.writeString(folder.resolve("report.html"), report.html(shared));
        if (report.canExplore()) {
            Files.writeString(folder.resolve("explore.html"), report.explorer());
        }
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
