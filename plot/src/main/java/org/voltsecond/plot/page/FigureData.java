package org.voltsecond.plot.page;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Comparator;
import java.util.List;
import java.util.TreeSet;
import org.voltsecond.plot.TraceStyle;
import org.voltsecond.waveform.Envelope;
import org.voltsecond.waveform.SampleTable;
import org.voltsecond.waveform.Waveform;

/**
 * The numbers of one figure, each as the eight bytes that it has in memory, so that not a bit of a peak is lost and none
 * takes more room than a rounded one in digits.
 */
final class FigureData {
    /** With more switching instants a figure shows columns. */
    private static final int MOST_INTERVALS = 1200;

    /** Rows between switching instants, so that what bends between them looks bent. */
    private static final int FEWEST_ROWS = 600;

    private final List<List<Waveform>> panels;
    private final List<Waveform> traces;
    private final double from;
    private final double to;
    private final StringBuilder json = new StringBuilder();

    private FigureData(List<List<Waveform>> panels, double from, double to) {
        this.from = from;
        this.to = to;
        this.panels = panels.stream()
                .map(panel -> panel.stream().map(this::cut).toList())
                .toList();
        this.traces = this.panels.stream().flatMap(List::stream).toList();
    }

    private Waveform cut(Waveform whole) {
        return whole.startTime() == from && whole.endTime() == to ? whole : whole.between(from, to);
    }

    static FigureData of(List<List<Waveform>> panels, double from, double to, int columns) {
        FigureData data = new FigureData(panels, from, to);
        boolean few = data.traces.stream().allMatch(trace -> trace.intervalCount() <= MOST_INTERVALS);
        if (data.traces.isEmpty() || few) {
            data.writeRows();
        } else {
            data.writeColumns(columns);
        }
        return data;
    }

    /** The members of a JSON object, without its braces. */
    String toJson() {
        return json.toString();
    }

    private void writeColumns(int most) {
        List<String> entries = new ArrayList<>();
        int columns = traces.stream()
                .mapToInt(trace -> trace.columnsOfCycles(from, to, most))
                .min()
                .orElse(most);
        double[] starts = new double[columns];
        for (Waveform trace : traces) {
            Envelope envelope = trace.envelope(from, to, columns);
            double[] low = new double[columns];
            double[] high = new double[columns];
            for (int k = 0; k < columns; k++) {
                starts[k] = envelope.startOf(k);
                low[k] = envelope.minimum(k);
                high[k] = envelope.maximum(k);
            }
            entries.add("\"low\":" + bytes(low) + ",\"high\":" + bytes(high));
        }
        json.append("\"kind\":\"columns\",\"time\":").append(bytes(starts));
        writePanels(entries);
    }

    private void writeRows() {
        List<double[]> rows = traces.isEmpty() ? List.of() : rows();
        json.append("\"kind\":\"rows\",\"time\":").append(bytes(column(rows, 0)));
        List<String> entries = new ArrayList<>();
        for (int i = 0; i < traces.size(); i++) {
            entries.add("\"value\":" + bytes(column(rows, i + 1)));
        }
        writePanels(entries);
    }

    private static double[] column(List<double[]> rows, int index) {
        return rows.stream().mapToDouble(row -> row[index]).toArray();
    }

    /** Time and value of each trace: at switching instants, on both sides of a jump, at the extremes, and in between. */
    private List<double[]> rows() {
        SampleTable table = SampleTable.of((to - from) / FEWEST_ROWS, traces);
        TreeSet<Double> extremes = new TreeSet<>();
        traces.forEach(trace -> extremes.addAll(List.of(trace.timeOfMinimum(), trace.timeOfMaximum())));
        List<double[]> rows = new ArrayList<>();
        for (int k = 0; k < table.size(); k++) {
            while (!extremes.isEmpty() && extremes.first() <= table.time(k)) {
                double time = extremes.pollFirst();
                if (time < table.time(k)) {
                    rows.add(rowAt(time));
                }
            }
            rows.add(row(table, k));
        }
        for (int i = 0; i < traces.size(); i++) {
            setExactly(rows, i, traces.get(i).timeOfMinimum(), traces.get(i).minimum());
            setExactly(rows, i, traces.get(i).timeOfMaximum(), traces.get(i).maximum());
        }
        return rows;
    }

    /** At its own time an extreme may differ in the last bits from the value worked out for a row. */
    private static void setExactly(List<double[]> rows, int trace, double time, double extreme) {
        rows.stream()
                .filter(row -> row[0] == time)
                .min(Comparator.comparingDouble(row -> Math.abs(row[trace + 1] - extreme)))
                .ifPresent(row -> row[trace + 1] = extreme);
    }

    private double[] row(SampleTable table, int k) {
        double[] row = new double[traces.size() + 1];
        row[0] = table.time(k);
        for (int i = 0; i < traces.size(); i++) {
            row[i + 1] = table.value(k, i);
        }
        return row;
    }

    private double[] rowAt(double time) {
        double[] row = new double[traces.size() + 1];
        row[0] = time;
        for (int i = 0; i < traces.size(); i++) {
            row[i + 1] = traces.get(i).at(time);
        }
        return row;
    }

    private void writePanels(List<String> entries) {
        int index = 0;
        json.append(",\"panels\":[");
        for (int p = 0; p < panels.size(); p++) {
            List<Waveform> panel = panels.get(p);
            List<TraceStyle> styles = TraceStyle.all(panel, p);
            json.append(p == 0 ? "" : ",")
                    .append("{\"unit\":")
                    .append(Markup.quoted(panel.get(0).unit().symbol()))
                    .append(",\"traces\":[");
            for (int i = 0; i < panel.size(); i++) {
                json.append(i == 0 ? "" : ",")
                        .append("{\"name\":")
                        .append(Markup.quoted(panel.get(i).name()))
                        .append(",\"hue\":")
                        .append(styles.get(i).hue())
                        .append(",\"dash\":")
                        .append(styles.get(i).dash())
                        .append(',')
                        .append(entries.get(index++))
                        .append('}');
            }
            json.append("]}");
        }
        json.append(']');
    }

    private static String bytes(double[] values) {
        ByteBuffer buffer = ByteBuffer.allocate(values.length * Double.BYTES).order(ByteOrder.LITTLE_ENDIAN);
        buffer.asDoubleBuffer().put(values);
        return '"' + Base64.getEncoder().encodeToString(buffer.array()) + '"';
    }
}
