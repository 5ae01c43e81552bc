package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.waveform.Waveform;

/**
 * Waveforms of one run in panels above one another, over the same time, which the reader of the page can zoom, read and
 * switch on and off. No extreme is lost: where there are few switching instants the page holds exact values at all of
 * them, at the extremes and in between; where there are many it holds, for each column of time, the exact lowest and
 * highest value in it. To be filled by one thread.
 *
 * <pre>{@code
 * WaveformFigure.over("start-up", 0, milli(2))
 *         .panel(start.of(rail.inductorCurrent()))
 *         .panel(start.of(rail.outputVoltage()));
 * }</pre>
 */
public final class WaveformFigure {
    private final String title;
    private final double from;
    private final double to;
    private int columns = 1600;
    private final List<List<Waveform>> panels = new ArrayList<>();
    private final List<Mark> marks = new ArrayList<>();
    private @Nullable String json;

    /** An instant with what happens then. */
    record Mark(double time, String text) {}

    private WaveformFigure(String title, double from, double to) {
        this.title = title;
        this.from = from;
        this.to = to;
    }

    /**
     * Begins a figure.
     *
     * @param title what it shows; any text
     * @param from the start of the time shown, s
     * @param to the end of the time shown, s; after the start
     * @return a figure without panels
     * @throws IllegalArgumentException if the end is not after the start
     */
    public static WaveformFigure over(String title, double from, double to) {
        if (!(from < to)) {
            throw new IllegalArgumentException(
                    "figure " + title + ": the time shown must last but was from " + from + " s to " + to + " s");
        }
        return new WaveformFigure(title, from, to);
    }

    /**
     * Limits the resolution where there are too many switching instants to show each.
     *
     * @param count into how many columns of equal width the time is then divided; 1 or more
     * @return this figure
     * @throws IllegalArgumentException if the count is less than 1
     */
    public WaveformFigure columns(int count) {
        if (count < 1) {
            throw new IllegalArgumentException("figure " + title + ": " + count + " columns given; valid: 1 or more");
        }
        columns = count;
        json = null;
        return this;
    }

    /**
     * Adds a panel below those that are there.
     *
     * @param waveforms at least one waveform, all in the same unit, each over at least the time shown
     * @return this figure
     * @throws IllegalArgumentException if there is none, or the units differ
     */
    public WaveformFigure panel(Waveform... waveforms) {
        boolean alike = Arrays.stream(waveforms).map(Waveform::unit).distinct().count() == 1;
        if (!alike) {
            throw new IllegalArgumentException("figure " + title + ": a panel needs at least one waveform and all in "
                    + "one unit but got " + Arrays.toString(waveforms));
        }
        panels.add(List.of(waveforms));
        json = null;
        return this;
    }

    /**
     * Marks an instant.
     *
     * @param time when, s
     * @param text what happens then; any text
     * @return this figure
     */
    public WaveformFigure mark(double time, String text) {
        marks.add(new Mark(time, text));
        json = null;
        return this;
    }

    String title() {
        return title;
    }

    /** The data of this figure as the script of the page reads it; kept, since several pages may show it. */
    String toJson() {
        String known = json;
        if (known == null) {
            known = written();
            json = known;
        }
        return known;
    }

    private String written() {
        StringBuilder json =
                new StringBuilder("{\"from\":").append(from).append(",\"to\":").append(to);
        json.append(",\"marks\":[");
        for (int i = 0; i < marks.size(); i++) {
            json.append(i == 0 ? "" : ",")
                    .append("{\"time\":")
                    .append(marks.get(i).time())
                    .append(",\"text\":")
                    .append(Markup.quoted(marks.get(i).text()))
                    .append('}');
        }
        return json.append("],")
                .append(FigureData.of(panels, from, to, columns).toJson())
                .append('}')
                .toString();
    }
}
