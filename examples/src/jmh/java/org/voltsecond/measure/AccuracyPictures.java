package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.voltsecond.plot.LineBuilder;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Unit;

/** Correct digits over the time of a period: the engine beside the integrators. */
final class AccuracyPictures {
    /** What double arithmetic can hold; an error of exactly zero is drawn there. */
    private static final double MOST_DIGITS = -Math.log10(Math.ulp(1.0));

    /** Length of the line through the engine's point, as a ratio of times. */
    private static final double MARK_WIDTH = 1.05;

    /** Integrators in C; they need the library that the file names, and are left out where it is missing. */
    private static final Path INTEGRATORS = Path.of("core/src/jmh/c/integrators.c");

    private final Map<String, Map<String, List<double[]>>> circuits = new LinkedHashMap<>();
    private final String[] references;
    private final Path folder;

    AccuracyPictures(Floor floor, Path folder) {
        references = new String[] {"CONTINUOUS=" + floor.state('A'), "DISCONTINUOUS=" + floor.state('B')};
        this.folder = folder;
    }

    /** Draws them; what is compiled goes into a folder for that. */
    void draw(Path home, Path jar, Path programs) throws IOException {
        take(home.resolve("bin/java").toString(), "-cp", jar.toString(), "org.voltsecond.benchmark.Accuracy");
        try {
            take(Child.compiled(
                            INTEGRATORS,
                            programs,
                            "-lsundials_cvode",
                            "-lsundials_arkode",
                            "-lsundials_nvecserial",
                            "-lm")
                    .toString());
        } catch (IOException e) {
            System.out.println("  integrators in C left out of the pictures: " + e.getMessage());
        }
        for (Map.Entry<String, Map<String, List<double[]>>> circuit : circuits.entrySet()) {
            draw(circuit.getKey().toLowerCase(Locale.ROOT), circuit.getValue());
        }
    }

    /** Reads what a program tells of both circuits: circuit, method, tolerance, nanoseconds a period, error. */
    private void take(String... program) throws IOException {
        List<String> words = new ArrayList<>(List.of(program));
        words.addAll(List.of(references));
        for (String line : Child.lines(words.toArray(String[]::new))) {
            String[] fields = line.split(",", -1);
            double[] point = {Double.parseDouble(fields[3]) * 1e-9, digits(Double.parseDouble(fields[4]))};
            circuits.computeIfAbsent(fields[0], name -> new LinkedHashMap<>())
                    .computeIfAbsent(fields[1], method -> new ArrayList<>())
                    .add(point);
        }
    }

    private void draw(String name, Map<String, List<double[]>> methods) throws IOException {
        LineBuilder lines = Pictures.lines("Time and accuracy: buck stage, " + name)
                .subtitle("300 periods from rest; each point of a line is another tolerance, 1e-3 to 1e-12")
                .x("Processor time of a period", Unit.SECOND)
                .logarithmicX()
                .y("Correct digits of current and voltage", Unit.ONE)
                .yRange(0, MOST_DIGITS + 1);
        methods.forEach((method, points) -> add(lines, method, points));
        var picture = lines.build();
        picture.writePng(folder.resolve("accuracy-" + name + ".png"));
        picture.writeSvg(folder.resolve("accuracy-" + name + ".svg"));
    }

    private static double digits(double error) {
        return Math.max(0, Math.min(MOST_DIGITS, -Math.log10(error)));
    }

    private static void add(LineBuilder lines, String method, List<double[]> points) {
        if (points.size() == 1) {
            // a mark alone would lie outside the axes
            points.add(new double[] {points.get(0)[0] * MARK_WIDTH, points.get(0)[1]});
            lines.mark(points.get(0)[0], points.get(0)[1], method);
        }
        points.sort((a, b) -> Double.compare(a[0], b[0]));
        lines.line(
                method,
                points.stream().mapToDouble(point -> point[0]).toArray(),
                points.stream().mapToDouble(point -> point[1]).toArray());
    }
}
