package org.voltsecond.examples.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** A browser of this computer that runs without a window. */
record Browser(Path program) {
    private static final List<String> NAMES =
            List.of("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome");
    private static final List<String> FOLDERS =
            List.of("/usr/bin", "/usr/local/bin", "/snap/bin", "/opt/google/chrome");
    private static final List<String> ELSEWHERE = List.of(
            "/Applications/Chromium.app/Contents/MacOS/Chromium",
            "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
            "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe");

    static Optional<Browser> find() {
        Stream<Path> usual = FOLDERS.stream().flatMap(folder -> NAMES.stream().map(name -> Path.of(folder, name)));
        return Stream.concat(usual, ELSEWHERE.stream().map(Path::of))
                .filter(Files::isExecutable)
                .findFirst()
                .map(Browser::new);
    }

    /**
     * What a page has become after its scripts have run.
     *
     * @param dom the document
     * @param log what the browser wrote to its console
     */
    record Visit(String dom, String log) {}

    /** Opens a file; the profile is a folder that does not exist yet. */
    Visit open(Path page, Path profile) throws IOException, InterruptedException {
        Path dom = profile.resolveSibling(profile.getFileName() + ".html");
        Path log = profile.resolveSibling(profile.getFileName() + ".log");
        Process process = new ProcessBuilder(
                        program.toString(),
                        "--headless",
                        "--no-sandbox",
                        "--disable-gpu",
                        "--disable-quic",
                        "--no-first-run",
                        "--disable-background-networking",
                        "--disable-component-update",
                        "--disable-sync",
                        "--user-data-dir=" + profile,
                        "--window-size=1000,1400",
                        "--enable-logging=stderr",
                        "--virtual-time-budget=5000",
                        "--dump-dom",
                        page.toUri().toString())
                .redirectOutput(dom.toFile())
                .redirectError(log.toFile())
                .start();
        if (!process.waitFor(2, TimeUnit.MINUTES)) {
            process.destroyForcibly();
            throw new IOException("the browser " + program + " has not answered for two minutes");
        }
        return new Visit(
                Files.readString(dom, StandardCharsets.UTF_8), Files.readString(log, StandardCharsets.ISO_8859_1));
    }
}
