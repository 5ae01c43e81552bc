package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.regex.Pattern;
import org.openjdk.jmh.profile.GCProfiler;
import org.openjdk.jmh.results.BenchmarkResult;
import org.openjdk.jmh.results.IterationResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.TimeValue;
import org.openjdk.jmh.runner.options.VerboseMode;
import org.openjdk.jmh.runner.options.WarmupMode;

/**
 * Measures every row of the table in several Java machines and beside the hand-written program, one round after the other, and
 * writes the table and the pictures.
 *
 * <p>Options: {@code --jdk HOME} (as often as wanted; else the one that runs), {@code --rounds N} (5), {@code --only PATTERN} of labels,
 * {@code --page FILE}: the page between whose marks the table goes, with the pictures beside it.
 */
public final class Measurements {
    private static final Path JAR = Path.of("examples/target/voltsecond.jar");
    private static final Path FLOOR = Path.of("core/src/jmh/c/floor.c");
    private static final int ROUNDS = 5;

    /** Short, since the least time of many is taken. */
    private static final int ITERATIONS = 25;

    private static final TimeValue ITERATION = TimeValue.milliseconds(20);
    private static final TimeValue WARMUP = TimeValue.milliseconds(120);

    private final Path folder = Path.of("target/measurements");
    private final List<Path> homes = new ArrayList<>();
    private final Map<String, Spread> floors = new LinkedHashMap<>();
    private final Map<Path, Map<Row, Spread>> spreads = new LinkedHashMap<>();
    private int rounds = ROUNDS;
    private Pattern only = Pattern.compile("");
    private Path page = folder.resolve("measurements.html");

    private Measurements() {}

    /**
     * Measures.
     *
     * @param words the options
     * @throws IOException if a file cannot be written
     */
    public static void main(String[] words) throws IOException {
        Measurements measurements = new Measurements();
        measurements.read(words);
        measurements.run();
    }

    private void read(String[] words) {
        if (words.length % 2 != 0) {
            throw new IllegalArgumentException("every option has a value, but the last has none: " + List.of(words));
        }
        for (int k = 0; k < words.length; k += 2) {
            String value = words[k + 1];
            switch (words[k]) {
                case "--jdk" -> homes.add(Path.of(value));
                case "--rounds" -> rounds = Integer.parseInt(value);
                case "--only" -> only = Pattern.compile(value);
                case "--page" -> page = Path.of(value);
                default ->
                    throw new IllegalArgumentException(
                            "unknown option " + words[k] + ": valid are --jdk, --rounds, --only and --page");
            }
        }
        if (homes.isEmpty()) {
            homes.add(Path.of(System.getProperty("java.home")));
        }
    }

    private void run() throws IOException {
        Files.createDirectories(folder);
        List<Row> rows = Row.all().stream()
                .filter(row -> only.matcher(row.label()).find())
                .toList();
        Path program = Child.compiled(FLOOR, folder, "-fcx-limited-range", "-fno-math-errno", "-lm");
        Floor floor = Floor.run(program);
        for (int round = 1; round <= rounds; round++) {
            Floor.run(program)
                    .times()
                    .forEach((letter, time) ->
                            floors.computeIfAbsent(letter, l -> new Spread()).add(time));
            for (Path home : homes) {
                System.out.println("round " + round + " of " + rounds + ", " + home);
                for (Row row : rows) {
                    measure(row, home);
                }
            }
        }
        Map<String, Map<Row, Spread>> columns = new LinkedHashMap<>();
        for (Map.Entry<Path, Map<Row, Spread>> entry : spreads.entrySet()) {
            columns.put("JDK " + version(entry.getKey()), entry.getValue());
        }
        new Table(columns, floors, rounds).into(page);
        new AccuracyPictures(floor, page.toAbsolutePath().getParent()).draw(homes.get(0), JAR, folder);
        System.out.println("written: " + page);
    }

    private void measure(Row row, Path home) throws IOException {
        Spread spread =
                spreads.computeIfAbsent(home, h -> new LinkedHashMap<>()).computeIfAbsent(row, r -> new Spread());
        try {
            double value = row.source() instanceof Row.Bench bench ? benchmark(bench, home) : command(row, home);
            spread.add(value);
            System.out.println("  " + row.label() + ": " + Spread.digits(value) + " " + row.unit());
        } catch (RunnerException | IOException | IllegalStateException e) {
            System.out.println("  " + row.label() + ": failed: " + e.getMessage());
        }
    }

    private static double benchmark(Row.Bench bench, Path home) throws RunnerException {
        ChainedOptionsBuilder options = new OptionsBuilder()
                .include(exactly(bench.name()))
                .jvm(home.resolve("bin/java").toString())
                .forks(1)
                .warmupIterations(bench.warmups())
                .warmupTime(WARMUP)
                .measurementIterations(ITERATIONS)
                .measurementTime(ITERATION)
                .shouldFailOnError(true)
                .verbosity(VerboseMode.SILENT);
        bench.parameters().forEach(options::param);
        if (bench.name().endsWith(".map")) {
            options.warmupIterations(1).measurementIterations(1);
        }
        if (!bench.after().isEmpty()) {
            options.includeWarmup(exactly(bench.after())).warmupMode(WarmupMode.BULK_INDI);
        }
        if (bench.bytes()) {
            options.addProfiler(GCProfiler.class);
        }
        return best(
                new Runner(options.build())
                        .runSingle()
                        .getBenchmarkResults()
                        .iterator()
                        .next(),
                bench.bytes());
    }

    private static String exactly(String name) {
        return "\\." + Pattern.quote(name) + "$";
    }

    private static double best(BenchmarkResult result, boolean bytes) {
        if (bytes) {
            for (String key : result.getSecondaryResults().keySet()) {
                if (key.endsWith("gc.alloc.rate.norm")) {
                    return result.getSecondaryResults().get(key).getScore();
                }
            }
            throw new IllegalStateException("no account of what was allocated");
        }
        boolean rate = result.getPrimaryResult().getScoreUnit().startsWith("ops");
        double best = rate ? 0 : Double.POSITIVE_INFINITY;
        for (IterationResult iteration : result.getIterationResults()) {
            double score = iteration.getPrimaryResult().getScore();
            best = rate ? Math.max(best, score) : Math.min(best, score);
        }
        return best;
    }

    private double command(Row row, Path home) throws IOException {
        Row.Line line = (Row.Line) row.source();
        List<String> words = new ArrayList<>(List.of(home.resolve("bin/java").toString(), "-jar", JAR.toString()));
        if (!line.design().isEmpty()) {
            Path design = folder.resolve(line.design() + ".toml");
            Files.writeString(design, Designs.of(line.design()));
            words.add(design.toString());
        }
        words.addAll(line.options());
        words.addAll(List.of("--into", folder.resolve("out").toString()));
        return Child.processorTime(words);
    }

    private static String version(Path home) throws IOException {
        Properties release = new Properties();
        try (var reader = Files.newBufferedReader(home.resolve("release"))) {
            release.load(reader);
        }
        return release.getProperty("JAVA_VERSION", home.toString()).replace("\"", "");
    }
}
