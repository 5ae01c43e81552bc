package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.voltsecond.engine.Watch;

/**
 * A folder that appears whole or not at all: files are written into a hidden sibling, which is then moved into place. What
 * was there before is replaced only then, and only if this command wrote it.
 *
 * <pre>{@code
 * Path written = OutputFolder.write(folder, "rail", Report.of(rail)::writeTo);
 * }</pre>
 */
public final class OutputFolder {
    /** Every file that this command has ever reason to write; anything else in a folder belongs to the user. */
    static final Set<String> OWN_FILES = Set.of(
            "beside.html",
            "beside.json",
            "beside.csv",
            "bench.png",
            "bench.svg",
            "explore.html",
            "figures.json",
            "slides",
            "slides.html",
            "report.html",
            "waveforms.csv",
            "waveforms.h5",
            "frequency-response.csv",
            "design.toml",
            "steady-state.png",
            "steady-state.svg",
            "volt-seconds.png",
            "volt-seconds.svg",
            "conversion-ratio.png",
            "conversion-ratio.svg",
            "current-paths.png",
            "current-paths.svg",
            "transient.png",
            "transient.svg",
            "start.png",
            "start.svg",
            "pulses.png",
            "pulses.svg",
            "loop-gain.png",
            "loop-gain.svg",
            "loop-gain-plane.png",
            "loop-gain-plane.svg",
            "losses.csv",
            "losses.png",
            "losses.svg",
            "temperatures.png",
            "temperatures.svg",
            "efficiency.csv",
            "efficiency.png",
            "efficiency.svg",
            "map.csv",
            "map.json",
            "map-boundary.csv",
            "tolerance.csv",
            "tolerance.json",
            "sizing.csv",
            "emissions.csv",
            "emissions.png",
            "emissions.svg",
            "output-impedance.png",
            "output-impedance.svg",
            "input-impedance.png",
            "input-impedance.svg",
            "input-impedance-damped.png",
            "input-impedance-damped.svg");

    /** One picture for each change, each figure of a map, each part that bends and each edge after which something rings. */
    private static final Pattern OWN_PATTERN = Pattern.compile(
            "((beside-)?change-[1-9][0-9]*|map-[a-z-]+|bend-.+|bent-and-straight|beside-(steady-state|transient|start)|ringing-[a-z-]+)[.](png|svg)");

    private OutputFolder() {}

    /** Writes the files of a folder. */
    @FunctionalInterface
    public interface Content {
        /**
         * Writes all files.
         *
         * @param folder an empty folder
         * @throws IOException if a file cannot be written
         */
        void writeTo(Path folder) throws IOException;
    }

    /**
     * Writes a folder.
     *
     * @param parent the folder to write into; made if it does not exist
     * @param name the name of the folder
     * @param content what to write
     * @return the folder
     * @throws IOException if it cannot be written; what was there before is then untouched
     */
    public static Path write(Path parent, String name, Content content) throws IOException {
        if (Files.exists(parent) && !Files.isDirectory(parent)) {
            throw new FileAlreadyExistsException(
                    parent.toString(),
                    null,
                    "is a file, so that no folder can be made in it; write --into another folder");
        }
        Files.createDirectories(parent);
        Path target = behindLink(parent.resolve(name));
        requireReplaceable(target);
        Path beside = Objects.requireNonNull(target.toAbsolutePath().getParent());
        Path fresh = Files.createTempDirectory(beside, ".voltsecond-");
        Abandoned abandoned = new Abandoned(fresh);
        Runtime.getRuntime().addShutdownHook(abandoned);
        try {
            Path whole = Files.createDirectory(fresh.resolve("whole"));
            content.writeTo(whole);
            requireOwn(whole);
            abandoned.unlessEnded(() -> replace(target, whole, fresh.resolve("former")));
        } finally {
            abandoned.unlessEnded(() -> delete(fresh));
            abandoned.dismiss();
        }
        return parent.resolve(name);
    }

    /** What is not known as the command's own could not be replaced the next time. */
    private static void requireOwn(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            List<String> unknown = files.map(file -> file.getFileName().toString())
                    .filter(file -> !isOwn(file))
                    .toList();
            if (!unknown.isEmpty()) {
                throw new IllegalStateException("not in the list of files that may be written: " + unknown);
            }
        }
    }

    /** Where a link leads; the user put it there, and it stays. */
    private static Path behindLink(Path target) throws IOException {
        if (!Files.isSymbolicLink(target)) {
            return target;
        }
        if (!Files.exists(target)) {
            throw new FileAlreadyExistsException(
                    target.toString(), null, "is a link that leads nowhere; remove it or write --into another folder");
        }
        return target.toRealPath();
    }

    /** Takes the unfinished folder away when the Java machine is ended while it is written. */
    private static final class Abandoned extends Thread {
        /** Another thread may still be writing into the folder, for so many times 20 ms at most. */
        private static final int TRIES = 50;

        private final Path folder;
        private boolean ended;

        Abandoned(Path folder) {
            super("abandoned folder");
            this.folder = folder;
        }

        /** What to do with files. */
        private interface Work {
            void run() throws IOException;
        }

        /** Does it whole, or not at all. */
        synchronized void unlessEnded(Work work) throws IOException {
            if (!ended) {
                work.run();
            }
        }

        void dismiss() {
            try {
                Runtime.getRuntime().removeShutdownHook(this);
            } catch (IllegalStateException ending) {
                // It runs already, and finds nothing to do.
                return;
            }
        }

        @Override
        public synchronized void run() {
            ended = true;
            for (int i = 0; i < TRIES && Files.exists(folder); i++) {
                try {
                    delete(folder);
                } catch (UncheckedIOException | IOException stillWritten) {
                    pause();
                }
            }
        }

        private static void pause() {
            try {
                Thread.sleep(20);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    private static boolean isOwn(String file) {
        return OWN_FILES.contains(file) || OWN_PATTERN.matcher(file).matches();
    }

    private static void requireReplaceable(Path target) throws IOException {
        if (!Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        if (!Files.isDirectory(target)) {
            throw new FileAlreadyExistsException(
                    target.toString(), null, "is in the way and is no folder; move it or write --into another folder");
        }
        Set<String> foreign = new TreeSet<>();
        try (Stream<Path> files = Files.list(target)) {
            files.map(file -> String.valueOf(file.getFileName()))
                    .filter(file -> !isOwn(file))
                    .forEach(foreign::add);
        }
        if (!foreign.isEmpty()) {
            throw new FileAlreadyExistsException(
                    target.toString(),
                    null,
                    "holds files that this command did not write and would not replace, such as "
                            + foreign.iterator().next() + "; move them or write --into another folder");
        }
    }

    private static void replace(Path target, Path whole, Path former) throws IOException {
        boolean existed = Files.exists(target, LinkOption.NOFOLLOW_LINKS);
        if (existed) {
            Files.move(target, former);
        }
        try {
            Files.move(whole, target);
        } catch (IOException e) {
            if (existed) {
                Files.move(former, target);
            }
            throw e;
        }
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> files = Files.walk(folder)) {
            List<Path> deepestFirst =
                    files.sorted((a, b) -> b.getNameCount() - a.getNameCount()).toList();
            for (Path file : deepestFirst) {
                Files.deleteIfExists(file);
            }
        }
    }

    /** Does independent pieces of work at the same time, under the watches of who asks, and fails as the first of them does. */
    static final class SideBySide {
        private SideBySide() {}

        /** A piece of work that writes something. */
        @FunctionalInterface
        interface Task {
            void run() throws IOException;
        }

        static void run(List<Task> tasks) throws IOException {
            int threads = Math.min(tasks.size(), Runtime.getRuntime().availableProcessors());
            Watch.Handing watched = Watch.handing();
            ExecutorService executor = Executors.newFixedThreadPool(threads);
            try {
                for (Future<Object> future : executor.invokeAll(
                        tasks.stream().map(task -> callable(watched, task)).toList())) {
                    future.get();
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new InterruptedIOException("interrupted while writing");
            } catch (ExecutionException e) {
                throw rethrown(e);
            } finally {
                executor.shutdownNow();
            }
        }

        private static Callable<Object> callable(Watch.Handing watched, Task task) {
            return () -> {
                watched.over(() -> {
                    try {
                        task.run();
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    }
                });
                return task;
            };
        }

        /** What the task threw, as if it had been run here. */
        private static IOException rethrown(ExecutionException e) {
            if (e.getCause() instanceof UncheckedIOException unchecked) {
                return Objects.requireNonNull(unchecked.getCause());
            }
            if (e.getCause() instanceof RuntimeException exception) {
                throw exception;
            }
            if (e.getCause() instanceof Error error) {
                throw error;
            }
            return new IOException(e);
        }
    }
}
