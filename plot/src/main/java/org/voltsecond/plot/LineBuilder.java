package org.voltsecond.plot;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.plot.Limits.Limit;
import org.voltsecond.units.Unit;

/**
 * Collects what a chart of lines over a common quantity shows, for example efficiency over load current.
 *
 * <pre>{@code
 * Sweep sweep = Sweep.of(rail, Axis.loadCurrent(milli(10), 2, 15), Figures.usual(), Execution.standard());
 * Picture picture = Pictures.lines("Output over load")
 *         .x("load current", Unit.AMPERE)
 *         .logarithmicX()
 *         .y("output voltage", Unit.VOLT)
 *         .line("12 V", sweep.xs(), sweep.ys(0))
 *         .build();
 * }</pre>
 */
public final class LineBuilder {
    private static final int WIDTH = 940;
    private static final int HEIGHT = 560;

    private final String title;
    private final List<Line> lines = new ArrayList<>();
    private final List<Limit> limits = new ArrayList<>();
    private final List<Mark> marks = new ArrayList<>();
    private String subtitle = "";
    private String caution = Sheet.CAUTION;
    private String xLabel = "";
    private Unit xUnit = Unit.ONE;
    private boolean logarithmic;
    private String yLabel = "";
    private Unit yUnit = Unit.ONE;
    private boolean percent;
    private double low = Double.NaN;
    private double high = Double.NaN;

    /** One line, or stems from the bottom; a value that is not a number is a gap. */
    record Line(String name, List<Double> xs, List<Double> ys, boolean stems) {}

    /** A place with a word on it. */
    record Mark(double x, double y, String label) {}

    LineBuilder(String title) {
        this.title = title;
    }

    /**
     * Sets the line below the title.
     *
     * @param text for example the operating point
     * @return this builder
     */
    public LineBuilder subtitle(String text) {
        subtitle = text;
        return this;
    }

    /**
     * Replaces the caution at the bottom.
     *
     * @param text what the reader must know before relying on the picture; not blank
     * @return this builder
     */
    public LineBuilder caution(String text) {
        caution = text;
        return this;
    }

    /**
     * Says what runs to the right.
     *
     * @param label the quantity
     * @param unit its unit
     * @return this builder
     */
    public LineBuilder x(String label, Unit unit) {
        xLabel = label;
        xUnit = unit;
        return this;
    }

    /**
     * Makes the axis to the right logarithmic.
     *
     * @return this builder
     */
    public LineBuilder logarithmicX() {
        logarithmic = true;
        return this;
    }

    /**
     * Says what runs upwards.
     *
     * @param label the quantity
     * @param unit its unit
     * @return this builder
     */
    public LineBuilder y(String label, Unit unit) {
        yLabel = label;
        yUnit = unit;
        percent = false;
        return this;
    }

    /**
     * Says that a plain ratio runs upwards, to be labelled in per cent.
     *
     * @param label the quantity, for example "efficiency"
     * @return this builder
     */
    public LineBuilder yInPercent(String label) {
        yLabel = label;
        yUnit = Unit.ONE;
        percent = true;
        return this;
    }

    /**
     * Sets the values shown; without it all values are.
     *
     * @param lowest value at the bottom
     * @param highest value at the top
     * @return this builder
     */
    public LineBuilder yRange(double lowest, double highest) {
        low = lowest;
        high = highest;
        return this;
    }

    /**
     * Adds a line.
     *
     * @param name what it is
     * @param xs where its points are, ascending
     * @param ys their values; one that is not a number is a gap
     * @return this builder
     */
    public LineBuilder line(String name, double[] xs, double[] ys) {
        return add(name, xs, ys, false);
    }

    /**
     * Adds values that have nothing between them, such as the lines of a spectrum: those that come first each as a stem from the bottom
     * with a dot on it, others as squares.
     *
     * @param name what they are
     * @param xs where they are, ascending
     * @param ys their values; one that is not a number is left out
     * @return this builder
     */
    public LineBuilder stems(String name, double[] xs, double[] ys) {
        return add(name, xs, ys, true);
    }

    private LineBuilder add(String name, double[] xs, double[] ys, boolean stems) {
        lines.add(new Line(
                name,
                java.util.Arrays.stream(xs).boxed().toList(),
                java.util.Arrays.stream(ys).boxed().toList(),
                stems));
        return this;
    }

    /**
     * Marks a place with a dot and a word.
     *
     * @param x to the right
     * @param y upwards
     * @param label what it is; short
     * @return this builder
     */
    public LineBuilder mark(double x, double y, String label) {
        marks.add(new Mark(x, y, label));
        return this;
    }

    /**
     * Marks a level.
     *
     * @param value the level
     * @param label what it means; short
     * @return this builder
     */
    public LineBuilder limit(double value, String label) {
        limits.add(new Limit(value, label));
        return this;
    }

    /**
     * Builds the picture.
     *
     * @return the picture
     * @throws IllegalArgumentException if there is no line, a line has no two points, coordinates are not finite (or not
     *     positive on a logarithmic axis), or the caution is blank; all faults at once
     */
    public Picture build() {
        List<String> faults = new ArrayList<>();
        if (lines.isEmpty()) {
            faults.add("it has no line; add one with line(name, xs, ys)");
        }
        lines.forEach(line -> check(line, faults));
        if (!Double.isNaN(low) && !(low < high)) {
            faults.add("its lowest value must be below its highest but they are " + low + " and " + high);
        }
        if (caution.isBlank()) {
            faults.add("its caution must not be blank");
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("line chart " + title + ": " + String.join("; ", faults));
        }
        LineDrawing.Axis right = new LineDrawing.Axis(xLabel, xUnit, false, logarithmic);
        LineDrawing.Axis up = new LineDrawing.Axis(yLabel, yUnit, percent, false);
        Sheet sheet = new Sheet(title, subtitle, caution);
        LineDrawing drawing = new LineDrawing(
                sheet,
                right,
                up,
                List.copyOf(lines),
                List.copyOf(limits),
                List.copyOf(marks),
                new ValueRange(low, high));
        return new Picture(drawing, WIDTH, HEIGHT, 1);
    }

    private void check(Line line, List<String> faults) {
        int least = line.stems ? 1 : 2;
        if (line.xs.size() != line.ys.size() || line.xs.size() < least) {
            faults.add("line " + line.name + ": it needs as many values as places, at least " + least + ", but has "
                    + line.ys.size() + " values at " + line.xs.size() + " places");
        }
        for (int i = 0; i < line.xs.size(); i++) {
            double x = line.xs.get(i);
            if (!Double.isFinite(x) || (logarithmic && !(x > 0)) || (i > 0 && !(x > line.xs.get(i - 1)))) {
                faults.add("line " + line.name + ": places must be finite and ascending"
                        + (logarithmic ? ", and more than 0 on a logarithmic axis" : "") + ", but place " + i + " is "
                        + x);
            }
        }
        if (line.ys.stream().noneMatch(Double::isFinite)) {
            faults.add("line " + line.name + ": it has no finite value");
        }
    }
}
