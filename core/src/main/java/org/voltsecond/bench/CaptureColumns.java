package org.voltsecond.bench;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Collects the two columns of a capture, row by row, and refuses the first row that is wrong. */
final class CaptureColumns {
    private static final int LONGEST_SHOWN = 60;

    private final Path file;
    private final CaptureChoice choice;
    private final Layout layout;
    private final Headings headings;
    private final Row first;
    private final double interval;
    private final int channel;
    private final double timeFactor;
    private final double factor;
    private double[] times = new double[1024];
    private double[] values = new double[1024];
    private int count;
    private long lastLine;

    CaptureColumns(Path file, CaptureChoice choice, Layout layout) throws CaptureException {
        this.file = file;
        this.choice = choice;
        this.layout = layout;
        this.headings = Headings.of(layout);
        this.first = first();
        this.interval = interval();
        this.channel = channel();
        this.timeFactor = timed() ? factor(0, Unit.SECOND) : 1;
        this.factor = factor(channel, choice.unit());
    }

    private boolean timed() {
        return Double.isNaN(interval);
    }

    long firstLine() {
        return first.line();
    }

    private Row first() throws CaptureException {
        Row found = layout.first();
        if (found == null) {
            refuseFirstHalfRow();
            throw fault(
                    1,
                    "no line contains only numbers; valid: rows of numbers, a time and one or more channels in each");
        }
        List<Row> before = layout.before();
        for (int i = before.size() - 1; i >= 0 && before.get(i).size() == layout.columns(); i--) {
            if (before.get(i).startsWithNumber(layout.dialect().decimal())) {
                requireNumbers(before.get(i));
            }
        }
        if (layout.mayBeFractions() && hasInterval()) {
            throw fault(
                    found.line(),
                    "\"" + String.join(",", found.columns())
                            + "\" may be one number with a decimal comma or two; valid: a "
                            + "point for the fraction, or columns separated by semicolon or tab");
        }
        return found;
    }

    private void refuseFirstHalfRow() throws CaptureException {
        for (Row row : layout.before()) {
            if (row.size() > 1 && row.startsWithNumber(layout.dialect().decimal())) {
                requireNumbers(row);
            }
        }
    }

    private boolean hasInterval() {
        return !Double.isNaN(choice.sampleInterval())
                || layout.before().stream().anyMatch(row -> SampleInterval.of(row, layout.dialect()) > 0);
    }

    private double interval() throws CaptureException {
        if (!Double.isNaN(choice.sampleInterval())) {
            return choice.sampleInterval();
        }
        if (layout.columns() > 1) {
            return Double.NaN;
        }
        for (Row row : layout.before()) {
            double given = SampleInterval.of(row, layout.dialect());
            if (given > 0) {
                return given;
            }
        }
        throw fault(
                first.line(),
                "only one column, so no time; valid: a time in s before it, or a sample interval given with the channel "
                        + "or on a line before the numbers, such as \"sample interval: 4e-9\"");
    }

    private int channel() throws CaptureException {
        int offset = timed() ? 1 : 0;
        List<String> names = headings.names();
        int named = names.isEmpty() ? -1 : names.indexOf(choice.channel().strip());
        if (named >= offset) {
            return named;
        }
        int channels = layout.columns() - offset;
        double number = Numeral.value(choice.channel(), '.');
        if (number == Math.rint(number) && number >= 1 && number <= channels) {
            return offset + (int) number - 1;
        }
        throw fault(
                names.isEmpty() ? first.line() : Math.max(1, first.line() - 1),
                "channel \"" + shown(choice.channel()) + "\" is missing; valid: "
                        + (channels == 1 ? "1" : "1 to " + channels)
                        + (names.isEmpty() ? "" : ", or " + quoted(names.subList(offset, names.size()))));
    }

    private static String quoted(List<String> names) {
        List<String> quoted = new ArrayList<>();
        names.forEach(name -> quoted.add("\"" + shown(name) + "\""));
        return String.join(", ", quoted);
    }

    private double factor(int column, Unit unit) throws CaptureException {
        double found = headings.factor(column, unit);
        if (Double.isNaN(found)) {
            throw fault(
                    Math.max(1, first.line() - 1),
                    "the heading of column " + (column + 1) + " names the unit "
                            + shown(headings.units().get(column)) + "; valid here: " + unit.symbol()
                            + " and its multiples" + (unit == Unit.SECOND ? ", such as ms, µs, us, usec, ns" : ""));
        }
        return found;
    }

    void add(Row row) throws CaptureException {
        if (row.size() != layout.columns()) {
            throw fault(
                    row.line(),
                    "has " + row.size() + (row.size() == 1 ? " column" : " columns") + " but the rows above have "
                            + layout.columns() + "; valid: the same number in every row");
        }
        requireNumbers(row);
        if (count == CaptureFile.MOST_SAMPLES) {
            throw fault(
                    row.line(),
                    "too many samples; valid: at most " + CaptureFile.MOST_SAMPLES
                            + ", a part of the capture or every so many samples of it");
        }
        if (count == times.length) {
            times = Arrays.copyOf(times, 2 * count);
            values = Arrays.copyOf(values, 2 * count);
        }
        double time = timed() ? timeFactor * number(row, 0) : count * interval;
        if (count > 0 && !(time > times[count - 1])) {
            throw fault(
                    row.line(),
                    (time < times[count - 1] ? "time runs backwards: " : "time stands still: ")
                            + Quantity.brief(time, Unit.SECOND) + " after "
                            + Quantity.brief(times[count - 1], Unit.SECOND)
                            + "; valid: times that rise from row to row, or a sample interval given "
                            + "in their place");
        }
        times[count] = time;
        values[count++] = factor * number(row, channel);
        lastLine = row.line();
    }

    private void requireNumbers(Row row) throws CaptureException {
        for (int i = 0; i < row.size(); i++) {
            String text = row.columns().get(i);
            if (!Numeral.is(text, layout.dialect().decimal())) {
                throw fault(
                        row.line(),
                        "column " + (i + 1) + " is "
                                + (text.isBlank() ? "empty" : "no finite number: \"" + shown(text) + "\"")
                                + "; valid: a number such as 1.25e-6");
            }
        }
    }

    /** Text of unknown origin, short and without characters that would disturb a terminal. */
    private static String shown(String text) {
        String brief = text.codePointCount(0, text.length()) > LONGEST_SHOWN
                ? text.substring(0, text.offsetByCodePoints(0, LONGEST_SHOWN)) + "…"
                : text;
        return brief.replaceAll("[\\p{Cntrl}\\p{Cf}\\p{Cs}\\p{Co}\\p{Cn}\\u2028\\u2029]", "?");
    }

    private double number(Row row, int column) {
        return Numeral.value(row.columns().get(column), layout.dialect().decimal());
    }

    Capture capture() throws CaptureException {
        if (count < 2) {
            throw fault(Math.max(lastLine, 1), "only " + count + " sample; valid: at least 2 rows of numbers");
        }
        String name = headings.names().isEmpty() ? "" : headings.names().get(channel);
        return Capture.of(
                name.isEmpty() ? "channel " + (channel + (timed() ? 0 : 1)) : name,
                choice.unit(),
                Arrays.copyOf(times, count),
                Arrays.copyOf(values, count));
    }

    private CaptureException fault(long line, String message) {
        return new CaptureException(file, line, message);
    }
}
