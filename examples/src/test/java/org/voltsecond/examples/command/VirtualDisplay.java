package org.voltsecond.examples.command;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** A display in memory: the X server Xvfb, started for one test. */
final class VirtualDisplay implements AutoCloseable {
    private final Process server;
    private final String name;

    private VirtualDisplay(Process server, String name) {
        this.server = server;
        this.name = name;
    }

    static Optional<Path> program() {
        return Stream.of("/usr/bin", "/usr/local/bin", "/opt/X11/bin")
                .map(folder -> Path.of(folder, "Xvfb"))
                .filter(Files::isExecutable)
                .findFirst();
    }

    static VirtualDisplay start(Path program) throws IOException {
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

    /** Its name, for the environment variable DISPLAY. */
    String name() {
        return name;
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
