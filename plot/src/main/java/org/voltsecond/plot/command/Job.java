package org.voltsecond.plot.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Watch;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.report.OutputFolder;
import org.voltsecond.plot.report.Report;
import org.voltsecond.plot.report.SummaryTable;
import org.voltsecond.units.Printable;

/**
 * One design to run.
 *
 * @param label what to call it in messages
 * @param folder the name of its folder
 * @param file its file; null for a design that is given as text
 * @param text its text; null for a file
 */
record Job(
        String label,
        String folder,
        @Nullable Path file,
        @Nullable String text) {
    static Job of(Path file, String folder) {
        return new Job(file.toString(), folder, file, null);
    }

    static Job of(String label, String folder, String text) {
        return new Job(label, folder, null, text);
    }

    /**
     * A design that has been written.
     *
     * @param outcome what it does
     * @param table what to print
     */
    record Done(Findings outcome, List<String> table) {}

    /** Works the design out and writes its folder. */
    Done run(CommandLine line, Progress progress) throws DesignException, IOException {
        progress.step("reading");
        String given = text != null ? text : DesignFile.text(Objects.requireNonNull(file, label));
        progress.step("proposing parts");
        String read = DesignFile.completed(label, folder, given);
        Path beside = file == null ? Path.of("") : DesignFile.folderOf(file);
        String told = read.equals(given) ? label : label + " (the proposed design)";
        Design design = DesignFile.parse(told, folder, read, beside);
        Findings outcome = findings(design, told, read, progress);
        progress.step("writing");
        List<String> table = new ArrayList<>(SummaryTable.of(outcome));
        Report report = new Report(outcome, line.pictures(), line.binary(), read, text != null || !read.equals(given));
        Path written = OutputFolder.write(line.into(), folder, report::writeTo);
        table.add("  written to            " + Printable.all(written.toString()));
        return new Done(outcome, table);
    }

    /** A run that cannot go on is the fault of the design: of the part that has to be there. */
    private static Findings findings(Design design, String told, String read, Progress progress)
            throws DesignException {
        try {
            return Watch.of()
                    .telling((activity, seconds) -> progress.step(activity))
                    .over(() -> Findings.of(design));
        } catch (SwitchingException e) {
            String message = String.valueOf(e.getMessage());
            Advice advice = Advice.on(message, design);
            throw DesignFile.wrong(told, read, advice.table(), message + advice.words());
        }
    }

    /** Where the file is wrong when a run cannot go on, and what helps. */
    private record Advice(String table, String words) {
        static Advice on(String message, Design design) {
            if (design.stage().isEmpty()) {
                return new Advice("part", "");
            }
            boolean interrupted = message.contains("interrupted");
            if (interrupted && (message.contains(" of LF ") || message.contains(" of LS "))) {
                return new Advice(
                        message.contains(" of LF ") ? "input_filter" : "input",
                        "; valid: with a capacitor at the stage: [input_capacitor], or capacitance in the table [input_filter]");
            }
            return interrupted && design.stage().get().parts().transistor().bodyDiode() == null
                    ? new Advice(
                            "transistor",
                            "; valid: with a body diode, which a MOSFET has: body_diode_drop = \"0.8 V\" in the table "
                                    + "[transistor]")
                    : new Advice("stage", "");
        }
    }
}
