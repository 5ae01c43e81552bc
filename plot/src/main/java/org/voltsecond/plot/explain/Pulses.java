package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Edge;
import org.voltsecond.waveform.Waveform;

/**
 * How the pulses of a regulated converter change after a change of the load, say: what its comparator compares, period by period, and
 * the pulses that come of it. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run =
 *         regulated.transientFromSteadyState(milli(0.2), Change.at(milli(0.05)).load(Load.resistor(1.25)));
 * Pulses pulses = Pulses.around(run, 0, 8);
 * double first = pulses.widths().get(0).width(); // 1.493 µs
 * pulses.picture("Logic rail, load doubled").writePng(folder.resolve("pulse-width.png"));
 * }</pre>
 *
 * @param run the run
 * @param from start of the span shown, s
 * @param to its end, s
 * @param time when something changes, s
 * @param what what changes
 * @param widths the pulses that begin and end within
 */
public record Pulses(ConverterTransient run, double from, double to, double time, String what, List<Pulse> widths) {
    /** Periods shown before the change: what is usual is seen in two. */
    private static final int BEFORE = 2;

    /**
     * One pulse.
     *
     * @param start when it begins, s
     * @param width how long it lasts, s
     */
    public record Pulse(double start, double width) {}

    /**
     * Makes the list unmodifiable.
     *
     * @param run the run
     * @param from start of the span shown, s
     * @param to its end, s
     * @param time when something changes, s
     * @param what what changes
     * @param widths the pulses
     */
    public Pulses {
        widths = List.copyOf(widths);
    }

    /**
     * Looks at the pulses around a change.
     *
     * @param run a run of a regulated converter
     * @param change which change, counted from 0
     * @param periods how many periods after it, at least 1; without a clock as long as that many clock periods would be
     * @return the pulses
     * @throws IndexOutOfBoundsException if there is no such change
     * @throws IllegalArgumentException if no period is asked for or no regulator drives the converter
     */
    public static Pulses around(ConverterTransient run, int change, int periods) {
        Converter converter = run.after(0);
        if (periods < 1 || !converter.isRegulated()) {
            throw new IllegalArgumentException(
                    "pulses are shown of a regulated converter over at least 1 period, but asked for were " + periods
                            + " of " + converter);
        }
        double time = run.changes().get(change).time();
        Waveform gate = run.gate();
        double period = converter.driven().clockPeriod();
        double from = Math.max(gate.startTime(), time - BEFORE * period);
        double to = Math.min(gate.endTime(), time + periods * period);
        return new Pulses(run, from, to, time, run.changes().get(change).description(), pulses(gate.between(from, to)));
    }

    private static List<Pulse> pulses(Waveform gate) {
        List<Pulse> pulses = new ArrayList<>();
        double start = Double.NaN;
        for (Edge edge : gate.edges()) {
            if (edge.after() > edge.before()) {
                start = edge.time();
            } else if (!Double.isNaN(start)) {
                pulses.add(new Pulse(start, edge.time() - start));
                start = Double.NaN;
            }
        }
        return pulses;
    }

    /**
     * Draws what is compared, and the pulses below; the width of the first and of the widest and narrowest stands in the line below the title.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture picture(String title) {
        return picture(title, true);
    }

    /**
     * Draws what is compared, and the pulses below.
     *
     * @param title in bold at the top
     * @param whole whether inductor current and output voltage stand below, for which a small picture has no room
     * @return the picture
     */
    public Picture picture(String title, boolean whole) {
        Converter converter = run.after(0);
        StackBuilder stack = Pictures.stack().title(title).subtitle(widthsInWords());
        for (List<Waveform> compared : PulsePanels.of(converter, run)) {
            stack.panel(Panel.of(compared.toArray(Waveform[]::new)).weighted(1.7));
        }
        stack.panel(Panel.of(run.gate().named("gate")).weighted(0.5));
        if (whole) {
            stack.panel(run.of(converter.inductorCurrent())).panel(run.of(converter.outputVoltage()));
        }
        return stack.mark(time, what).window(from, to).build();
    }

    private String widthsInWords() {
        if (widths.isEmpty()) {
            return "no pulse begins and ends here";
        }
        Stream<Double> all = widths.stream().map(Pulse::width);
        double longest = all.max(Double::compare).orElse(0.0);
        double shortest = widths.stream().mapToDouble(Pulse::width).min().orElse(0);
        return "pulses: first " + brief(widths.get(0).width) + ", shortest " + brief(shortest) + ", longest "
                + brief(longest);
    }

    private static String brief(double width) {
        return Quantity.format(width, Unit.SECOND, 3);
    }
}
