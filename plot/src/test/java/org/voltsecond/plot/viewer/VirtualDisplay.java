package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** A display in memory: the X server Xvfb, started for one test. */
public final class VirtualDisplay implements AutoCloseable {
    private final Process server;
    private final String name;

    private VirtualDisplay(Process server, String name) {
        this.server = server;
        this.name = name;
    }

    /** The server, if it is installed. */
    public static Optional<Path> program() {
        return Stream.of("/usr/bin", "/usr/local/bin", "/opt/X11/bin")
                .map(folder -> Path.of(folder, "Xvfb"))
                .filter(Files::isExecutable)
                .findFirst();
    }

    /** Starts it and waits until it is ready. */
    public static VirtualDisplay start(Path program) throws IOException {
        Process server = new ProcessBuilder(
                        program.toString(), "-displayfd", "1", "-screen", "0", "1280x900x24", "-nolisten", "tcp")
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
        // the server writes the number of its display when it is ready
        try (BufferedReader reader = server.inputReader(StandardCharsets.US_ASCII)) {
            String number = reader.readLine();
            if (number == null) {
                server.destroy();
                throw new IOException("the virtual display has ended before it was ready");
            }
            return new VirtualDisplay(server, ":" + number.strip());
        }
    }

    /**
     * Runs a program on it in a Java machine of its own, which must end well.
     *
     * @param main has a main method that prints lines such as name=value
     * @param folder for what it prints
     * @param arguments of the program
     * @return what it said, by name
     */
    public Map<String, String> session(Class<?> main, Path folder, String... arguments)
            throws IOException, InterruptedException {
        Path out = folder.resolve("session-out");
        Path err = folder.resolve("session-err");
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Djava.awt.headless=false",
                "-Dstdout.encoding=UTF-8",
                "-Dfile.encoding=UTF-8",
                "-cp",
                System.getProperty("java.class.path"),
                main.getName()));
        command.addAll(List.of(arguments));
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectOutput(out.toFile()).redirectError(err.toFile());
        builder.environment().put("DISPLAY", name);
        Process process = builder.start();
        if (!process.waitFor(5, TimeUnit.MINUTES)) {
            process.destroyForcibly();
        }
        assertThat(process.waitFor()).as(Files.readString(err)).isZero();
        Map<String, String> said = new HashMap<>();
        Files.readAllLines(out, StandardCharsets.UTF_8).forEach(line -> {
            int equals = line.indexOf('=');
            said.put(line.substring(0, equals), line.substring(equals + 1));
        });
        return said;
    }

    @Override
    public void close() {
        server.destroy();
        try {
            server.waitFor(10, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
