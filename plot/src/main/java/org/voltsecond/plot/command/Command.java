package org.voltsecond.plot.command;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignKeys;
import org.voltsecond.plot.report.Cautions;
import org.voltsecond.units.Printable;

/**
 * Runs a command line: reads every design, works it out, writes its folder, prints its table. The main of a program has only to call
 * it, so that a program with stages of its own has the command for them too. For one thread.
 *
 * <pre>{@code
 * Command command = new Command(System.out, System.err);
 * int exitCode = command.run("--version"); // 0
 * }</pre>
 */
public final class Command {
    /** Everything was done. */
    public static final int DONE = 0;
    /** Something failed that is not the fault of the command line or of a design. */
    public static final int FAILED = 1;
    /** The command line or a design is wrong. */
    public static final int WRONG_INPUT = 2;

    private static final String NOT_A_FOLDER_NAME =
            "a file of this name has no folder to write into; valid: a name " + "such as rail.toml";

    private final PrintStream out;
    private final PrintStream err;
    private final Progress progress;
    private final Demo demo;
    private int exitCode = DONE;
    private volatile boolean hushed;
    private boolean written;
    private @Nullable Windows windows;

    /**
     * Creates a command that tells nothing while it works.
     *
     * @param out where tables go
     * @param err where faults go
     */
    public Command(PrintStream out, PrintStream err) {
        this(out, err, Progress.on(new PrintStream(OutputStream.nullOutputStream()), true), Demo.NONE);
    }

    private Command(PrintStream out, PrintStream err, Progress progress, Demo demo) {
        this.out = out;
        this.err = err;
        this.progress = progress;
        this.demo = demo;
    }

    /**
     * Returns this command telling that work goes on, on its stream for faults.
     *
     * @param terminal whether a line can be written over there
     * @return the command
     */
    public Command tellingProgress(boolean terminal) {
        return new Command(out, err, Progress.on(err, terminal), demo);
    }

    /**
     * Returns this command with designs that it runs where none is given.
     *
     * @param designs the designs
     * @return the command
     */
    public Command withDemo(Demo designs) {
        return new Command(out, err, progress, designs);
    }

    /** Says no more: the program is being ended, and what then goes wrong is of no interest. */
    public void hush() {
        hushed = true;
    }

    /**
     * Runs the command.
     *
     * @param arguments the words of the command line
     * @return the exit code: {@link #DONE}, {@link #FAILED} or {@link #WRONG_INPUT}; wrong input outranks a failure
     */
    public int run(String... arguments) {
        try {
            CommandLine line = CommandLine.parse(arguments);
            if (line.help()) {
                out.println(Usage.TEXT);
            } else if (line.keys()) {
                out.print(DesignKeys.text());
            } else if (line.version()) {
                out.println("voltsecond " + Usage.version());
            } else {
                requireDisplay(line);
                runAll(line);
            }
        } catch (CommandLineException e) {
            e.faults().forEach(fault -> err.println("voltsecond: " + fault));
            exitCode = WRONG_INPUT;
        }
        if (out.checkError()) {
            tell(
                    "voltsecond: standard output is closed or full, so the output is incomplete; valid: an open one with room");
            exitCode = Math.max(exitCode, FAILED);
        }
        return exitCode;
    }

    private static void requireDisplay(CommandLine line) throws CommandLineException {
        Optional<String> fault = line.view() ? Windows.fault() : Optional.empty();
        if (fault.isPresent()) {
            throw new CommandLineException(List.of(fault.get()));
        }
    }

    private void runAll(CommandLine line) {
        if (line.designs().isEmpty()) {
            runDemo(line);
        } else {
            distinct(line.designs()).forEach(job -> run(job, line));
        }
        if (written) {
            Cautions.general().forEach(caution -> out.println("Caution: " + caution));
        }
        Windows opened = windows;
        if (opened != null && !opened.isEmpty()) {
            out.println(
                    "Press F1 in a window to see how to zoom and measure; the command ends when all windows are closed.");
            opened.awaitAllClosed();
        }
    }

    private void runDemo(CommandLine line) {
        out.println(demo.introduction());
        demo.jobs().forEach(job -> run(job, line));
        if (written) {
            out.println("Look into " + Printable.all(line.into().toString())
                    + ": each design has its figures.json, waveforms.csv"
                    + (line.pictures() ? ", report.html (open it in a browser), pictures" : "")
                    + " and the design.toml behind them.");
        }
    }

    /** All jobs whose folders differ from one another; on some systems names that differ in case alone are the same. */
    private List<Job> distinct(List<Path> files) {
        Map<String, List<Path>> byFolder = new HashMap<>();
        for (Path file : files) {
            String key = DesignFile.baseName(file).toLowerCase(Locale.ROOT);
            byFolder.computeIfAbsent(key, name -> new ArrayList<>()).add(file);
        }
        List<Job> jobs = new ArrayList<>();
        for (Path file : new LinkedHashSet<>(files)) {
            String name = DesignFile.baseName(file);
            List<Path> same = byFolder.getOrDefault(name.toLowerCase(Locale.ROOT), List.of());
            if (name.isEmpty() || name.equals(".") || name.equals("..")) {
                wrong(file, NOT_A_FOLDER_NAME);
            } else if (same.size() > 1 && same.stream().allMatch(file::equals)) {
                wrong(file, "is given more than once; valid: each file once");
            } else if (same.size() > 1) {
                wrong(
                        file,
                        "its folder would be " + Printable.of(name) + ", which is also that of "
                                + Printable.of(other(same, file)) + "; valid: each name once");
            } else {
                jobs.add(Job.of(file, name));
            }
        }
        return jobs;
    }

    private static String other(List<Path> same, Path file) {
        return same.stream()
                .filter(path -> !path.equals(file))
                .findFirst()
                .orElse(file)
                .toString();
    }

    private void wrong(Path file, String message) {
        report(List.of(new Fault(file.toString(), 1, "file", message)));
    }

    private void run(Job job, CommandLine line) {
        try (Progress working = progress.begin(Printable.of(job.label()))) {
            Job.Done done = job.run(line, working);
            working.end();
            done.table().forEach(out::println);
            out.println();
            written = true;
            if (line.view()) {
                view(job, done);
            }
        } catch (DesignException e) {
            report(e.faults());
        } catch (IOException e) {
            failed(job, "cannot be written: " + reason(e));
        } catch (OutOfMemoryError e) {
            failed(job, "needs more memory than there is; shorten its transient or run java with a larger -Xmx");
        } catch (StackOverflowError e) {
            failed(job, "needs a larger stack; run java with a larger -Xss");
        } catch (RuntimeException e) {
            failed(job, String.valueOf(e.getMessage() == null ? e : e.getMessage()));
        }
    }

    private void view(Job job, Job.Done done) throws DesignException {
        Windows opened = windows == null ? new Windows() : windows;
        windows = opened;
        opened.open(done.outcome(), DesignFile.tree(job.label(), done.text()))
                .ifPresent(reason -> out.println(Printable.all(job.label()) + ": no window: " + Printable.all(reason)));
    }

    private void report(List<Fault> faults) {
        faults.forEach(fault -> tell(fault.toString()));
        exitCode = WRONG_INPUT;
    }

    private void failed(Job job, String message) {
        tell("voltsecond: " + Printable.all(job.label()) + ": " + Printable.all(message));
        exitCode = Math.max(exitCode, FAILED);
    }

    private void tell(String line) {
        if (!hushed) {
            err.println(line);
        }
    }

    private static String reason(IOException e) {
        if (e instanceof AccessDeniedException denied) {
            return denied.getFile() + ": access denied; write --into a folder that you may write";
        }
        if (e instanceof NoSuchFileException missing) {
            return missing.getFile() + ": no folder can be made there; write --into a folder that you may write";
        }
        boolean terse = e instanceof FileSystemException file && file.getReason() == null;
        return e.getMessage() + (terse ? " (" + e.getClass().getSimpleName() + ")" : "");
    }
}
