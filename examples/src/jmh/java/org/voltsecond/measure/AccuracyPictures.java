package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
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

    private AccuracyPictures() {}

    static void draw(Path home, Path jar, Floor floor, Path folder) throws IOException {
        Map<String, Map<String, List<double[]>>> circuits = new LinkedHashMap<>();
        for (String line : Child.lines(
                home.resolve("bin/java").toString(),
                "-cp",
                jar.toString(),
                "org.voltsecond.benchmark.Accuracy",
                "CONTINUOUS=" + floor.state('A'),
                "DISCONTINUOUS=" + floor.state('B'))) {
            String[] words = line.split(",", -1);
            double[] point = {Double.parseDouble(words[3]) * 1e-9, digits(Double.parseDouble(words[4]))};
            circuits.computeIfAbsent(words[0], name -> new LinkedHashMap<>())
                    .computeIfAbsent(words[1], method -> new ArrayList<>())
                    .add(point);
        }
        for (Map.Entry<String, Map<String, List<double[]>>> circuit : circuits.entrySet()) {
            String name = circuit.getKey().toLowerCase(java.util.Locale.ROOT);
            LineBuilder lines = Pictures.lines("Time and accuracy: buck stage, " + name)
                    .subtitle("300 periods from rest; each point of a line is another tolerance, 1e-3 to 1e-12")
                    .x("Processor time of a period", Unit.SECOND)
                    .logarithmicX()
                    .y("Correct digits of current and voltage", Unit.ONE)
                    .yRange(0, MOST_DIGITS + 1);
            circuit.getValue().forEach((method, points) -> add(lines, method, points));
            var picture = lines.build();
            picture.writePng(folder.resolve("accuracy-" + name + ".png"));
            picture.writeSvg(folder.resolve("accuracy-" + name + ".svg"));
        }
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
