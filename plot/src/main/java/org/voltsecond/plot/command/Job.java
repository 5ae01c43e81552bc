package org.voltsecond.plot.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.design.DesignFile;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Watch;
import org.voltsecond.plot.beside.Revisions;
import org.voltsecond.plot.beside.Revisions.Revision;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.report.OutputFolder;
import org.voltsecond.plot.report.Report;
import org.voltsecond.plot.report.SummaryTable;
import org.voltsecond.plot.slides.Slides;
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
     * @param text its file, with the parts that were proposed
     * @param table what to print
     */
    record Done(Findings outcome, String text, List<String> table) {}

    /**
     * A design that has been read.
     *
     * @param told what to call it in faults
     * @param given the text of the file
     * @param text the text of the design
     */
    private record Read(String told, String given, String text, Design design) {
        boolean isProposed() {
            return !text.equals(given);
        }
    }

    /** Works the design out, and the one beside it, and writes its folder. */
    Done run(CommandLine line, Progress progress) throws DesignException, IOException {
        Path other = line.beside();
        if (other == null) {
            Read read = read(progress);
            return written(line, progress, read, findings(read.design, read.told, read.text, progress), null);
        }
        Job beside = of(other, DesignFile.baseName(other));
        Set<Fault> faults = new LinkedHashSet<>();
        Read mine = without(faults, () -> read(progress));
        Read its = without(faults, () -> beside.read(progress));
        if (mine == null || its == null) {
            throw new DesignException(List.copyOf(faults));
        }
        Findings found = without(faults, () -> findings(mine.design, mine.told, mine.text, progress));
        Findings foundOther = without(faults, () -> findings(its.design, its.told, its.text, progress));
        if (found == null || foundOther == null) {
            throw new DesignException(List.copyOf(faults));
        }
        String name = fileName();
        boolean alike = name.equals(beside.fileName()); // two files of one name, in two folders
        Revisions revisions = new Revisions(
                revision(alike ? label : name, mine, found),
                revision(alike ? beside.label : beside.fileName(), its, foundOther));
        return written(line, progress, mine, found, revisions);
    }

    private String fileName() {
        return file == null ? label : String.valueOf(file.getFileName());
    }

    private static Revision revision(String label, Read read, Findings found) {
        return new Revision(label, found, read.given, read.text);
    }

    /** Something that the design may forbid. */
    @FunctionalInterface
    private interface Step<T> {
        T go() throws DesignException;
    }

    /** Null with the faults kept where there are some, so that those of another design are told as well. */
    private static <T> @Nullable T without(Set<Fault> faults, Step<T> step) {
        try {
            return step.go();
        } catch (DesignException e) {
            faults.addAll(e.faults());
            return null;
        }
    }

    private Read read(Progress progress) throws DesignException {
        progress.step("reading");
        String given = text != null ? text : DesignFile.text(Objects.requireNonNull(file, label));
        progress.step("proposing parts");
        String read = DesignFile.completed(label, folder, given);
        Path near = file == null ? Path.of("") : DesignFile.folderOf(file);
        String told = read.equals(given) ? label : label + " (the proposed design)";
        return new Read(told, given, read, DesignFile.parse(told, folder, read, near));
    }

    private Done written(CommandLine line, Progress progress, Read read, Findings found, @Nullable Revisions revisions)
            throws IOException {
        progress.step("writing");
        List<String> table = new ArrayList<>(SummaryTable.of(found));
        boolean copied = text != null || read.isProposed();
        Report report = new Report(found, line.pictures(), line.binary(), read.text, copied);
        Slides slides = slides(line, found);
        Path written = OutputFolder.write(line.into(), folder, whole -> {
            report.writeTo(whole);
            if (slides != null) {
                slides.writeTo(whole);
            }
            if (revisions != null) {
                revisions.writeTo(whole, line.pictures());
            }
        });
        if (slides != null) {
            slides.leftOut().forEach((name, why) -> table.add("  no slide " + name + ": " + Printable.all(why)));
        }
        if (revisions != null) {
            table.addAll(revisions.summary());
        }
        table.add("  written to            " + Printable.all(written.toString()));
        return new Done(found, read.text, table);
    }

    private static @Nullable Slides slides(CommandLine line, Findings outcome) {
        List<String> chosen = line.slides();
        return chosen == null ? null : chosen.isEmpty() ? Slides.of(outcome) : Slides.of(outcome, chosen);
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
