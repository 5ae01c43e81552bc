package org.voltsecond.waveform;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.DoubleStream;
import org.voltsecond.units.Unit;

/**
 * Values of several waveforms at common times, for export. There is a row at every switching instant, two where a value
 * jumps (the values before and the values after, at the same time), and as many rows between as asked for. Immutable.
 *
 * <pre>{@code
 * SampleTable table = SampleTable.of(
 *         micro(0.1), List.of(steady.of(rail.inductorCurrent()), steady.of(rail.outputVoltage())));
 * double last = table.time(table.size() - 1); // 3.3333 µs
 * }</pre>
 */
public final class SampleTable {
    private final List<String> names;
    private final List<Unit> units;
    private final double[] times;
    private final double[][] columns;

    private SampleTable(List<Waveform> waveforms, double[] times, double[][] columns) {
        names = waveforms.stream().map(Waveform::name).toList();
        units = waveforms.stream().map(Waveform::unit).toList();
        this.times = times;
        this.columns = columns;
    }

    /**
     * Samples waveforms of one run, or of several that are laid over each other.
     *
     * @param maximumStep longest time between two rows, s; more than 0, infinite for switching instants alone
     * @param waveforms at least one waveform, all over the same time
     * @return the table
     * @throws IllegalArgumentException if the step is not positive or the waveforms do not belong together
     */
    public static SampleTable of(double maximumStep, List<Waveform> waveforms) {
        if (!(maximumStep > 0) || waveforms.isEmpty()) {
            throw new IllegalArgumentException(
                    "samples need at least one waveform and a step of more than 0 s, but got " + waveforms.size()
                            + " waveforms and a step of " + maximumStep + " s");
        }
        Timeline timeline = waveforms.get(0).timeline();
        boolean oneRun = waveforms.stream().map(Waveform::timeline).allMatch(timeline::matches);
        List<double[]> rows = oneRun ? rows(maximumStep, waveforms) : rowsOfRuns(maximumStep, waveforms);
        double[][] columns = new double[waveforms.size()][];
        for (int i = 0; i < columns.length; i++) {
            columns[i] = column(rows, i + 1);
        }
        return new SampleTable(waveforms, column(rows, 0), columns);
    }

    /**
     * Samples waveforms at instants of your own, for example those of a capture.
     *
     * @param times the instants, s, in any order; where a waveform jumps, the value just after
     * @param waveforms at least one waveform; each stands over all the instants, of whatever run
     * @return the table, a row for each instant in the given order
     * @throws IllegalArgumentException if there is no waveform, or a time outside of one
     */
    public static SampleTable of(double[] times, List<Waveform> waveforms) {
        if (waveforms.isEmpty()) {
            throw new IllegalArgumentException("samples need at least one waveform but got none");
        }
        double[][] columns =
                waveforms.stream().map(waveform -> waveform.at(times)).toArray(double[][]::new);
        return new SampleTable(waveforms, times.clone(), columns);
    }

    private static double[] column(List<double[]> rows, int index) {
        return rows.stream().mapToDouble(row -> row[index]).toArray();
    }

    private static List<double[]> rows(double maximumStep, List<Waveform> waveforms) {
        Timeline timeline = waveforms.get(0).timeline();
        List<double[]> rows = new ArrayList<>();
        List<SpanReader> before = List.of();
        for (int span = 0; span < timeline.size(); span++) {
            List<SpanReader> readers = new ArrayList<>();
            for (Waveform waveform : waveforms) {
                readers.add(SpanReader.of(waveform, span));
            }
            double start = timeline.start(span);
            double length = timeline.end(span) - start;
            long steps = (long) Math.max(1, Math.ceil(length / maximumStep - 1e-9));
            if (span == 0 || jumps(before, readers)) {
                rows.add(row(start, readers));
            }
            for (long k = 1; k <= steps; k++) {
                rows.add(row(k == steps ? timeline.end(span) : start + length * k / steps, readers));
            }
            before = readers;
        }
        return rows;
    }

    /** Each run has its own instants of switching; there is a row at all of them. */
    private static List<double[]> rowsOfRuns(double maximumStep, List<Waveform> waveforms) {
        double[] bounds = commonBounds(waveforms);
        List<double[]> rows = new ArrayList<>();
        for (int span = 0; span + 1 < bounds.length; span++) {
            double[] first = row(bounds[span], waveforms, Side.AFTER);
            if (span == 0 || !Arrays.equals(first, rows.get(rows.size() - 1))) {
                rows.add(first);
            }
            double length = bounds[span + 1] - bounds[span];
            long steps = (long) Math.max(1, Math.ceil(length / maximumStep - 1e-9));
            for (long k = 1; k < steps; k++) {
                rows.add(row(bounds[span] + length * k / steps, waveforms, Side.AFTER));
            }
            rows.add(row(bounds[span + 1], waveforms, Side.BEFORE));
        }
        return rows;
    }

    private static double[] commonBounds(List<Waveform> waveforms) {
        Waveform first = waveforms.get(0);
        double rounding = 1e-9 * (first.endTime() - first.startTime()); // far below any span that is looked at
        for (Waveform waveform : waveforms) {
            if (!(Math.abs(waveform.startTime() - first.startTime()) <= rounding)
                    || !(Math.abs(waveform.endTime() - first.endTime()) <= rounding)) {
                throw new IllegalArgumentException("waveforms " + first + " and " + waveform
                        + " must stand over the same time to be sampled; cut both alike");
            }
        }
        double start = waveforms.stream().mapToDouble(Waveform::startTime).max().orElseThrow();
        double end = waveforms.stream().mapToDouble(Waveform::endTime).min().orElseThrow();
        return DoubleStream.concat(
                        DoubleStream.of(start, end),
                        waveforms.stream().flatMapToDouble(each -> DoubleStream.of(each.switchingTimes())))
                .filter(time -> time >= start && time <= end)
                .sorted()
                .distinct()
                .toArray();
    }

    private static double[] row(double time, List<Waveform> waveforms, Side side) {
        return DoubleStream.concat(DoubleStream.of(time), waveforms.stream().mapToDouble(each -> each.at(time, side)))
                .toArray();
    }

    private static double[] row(double time, List<SpanReader> readers) {
        double[] row = new double[readers.size() + 1];
        row[0] = time;
        for (int i = 0; i < readers.size(); i++) {
            row[i + 1] = readers.get(i).at(time);
        }
        return row;
    }

    private static boolean jumps(List<SpanReader> before, List<SpanReader> after) {
        for (int i = 0; i < after.size(); i++) {
            if (before.get(i).jumpsTo(after.get(i))) {
                return true;
            }
        }
        return false;
    }

    /**
     * Returns the number of rows.
     *
     * @return the number of rows
     */
    public int size() {
        return times.length;
    }

    /**
     * Returns the names of the waveforms.
     *
     * @return one name for each column
     */
    public List<String> names() {
        return names;
    }

    /**
     * Returns the units of the waveforms.
     *
     * @return one unit for each column
     */
    public List<Unit> units() {
        return units;
    }

    /**
     * Returns the time of one row.
     *
     * @param row index of the row
     * @return the time, s
     */
    public double time(int row) {
        return times[row];
    }

    /**
     * Returns one value.
     *
     * @param row index of the row
     * @param column index of the waveform
     * @return the value, in the unit of the column
     */
    public double value(int row, int column) {
        return columns[column][row];
    }

    /**
     * Writes the table as comma-separated values: a line of headings with units ("time (s),switch node (V)"), then one
     * line for each row. Every number reads back as the same bits.
     *
     * <pre>{@code
     * try (Writer file = Files.newBufferedWriter(folder.resolve("rail.csv"))) {
     *     SampleTable.of(micro(0.1), List.of(steady.of(rail.outputVoltage()))).writeCsv(file);
     * }
     * }</pre>
     *
     * @param out where to write
     * @throws IOException if it cannot be written
     */
    public void writeCsv(Appendable out) throws IOException {
        new SampleText(this, out).writeCsv();
    }

    /**
     * Writes the table as one JSON object: {@code "time"} with unit and values, and {@code "signals"}, an array of
     * objects with {@code "name"}, {@code "unit"} and {@code "values"}, all arrays of one length.
     *
     * @param out where to write
     * @throws IOException if it cannot be written
     */
    public void writeJson(Appendable out) throws IOException {
        new SampleText(this, out).writeJson();
    }

    /**
     * Writes one waveform as a plain list without headings: on each line a time in s, a space, and the value. Where the
     * waveform jumps two lines have one time.
     *
     * @param column index of the waveform
     * @param out where to write
     * @throws IOException if it cannot be written
     * @throws IndexOutOfBoundsException if there is no such column
     */
    public void writePairs(int column, Appendable out) throws IOException {
        new SampleText(this, out).pairs(Objects.checkIndex(column, columns.length));
    }

    @Override
    public String toString() {
        return times.length + " rows of " + names;
    }
}
