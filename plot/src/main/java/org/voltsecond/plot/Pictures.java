package org.voltsecond.plot;

import java.util.List;
import org.voltsecond.bench.SteadyStateComparison;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * Where pictures begin.
 *
 * <pre>{@code
 * Pictures.stacked(steady, rail.switchNode(), rail.inductorCurrent(), rail.outputVoltage())
 *         .writePng(folder.resolve("rail.png"));
 * }</pre>
 */
public final class Pictures {
    private Pictures() {}

    /**
     * Returns a picture of signals, each in a panel of its own, on one time axis.
     *
     * @param source a transient or a steady state
     * @param signals at least one signal, from top to bottom
     * @return the picture
     * @throws IllegalArgumentException if there is no signal
     */
    public static Picture stacked(WaveformSource source, Signal... signals) {
        return stacked(List.of(signals).stream().map(source::of).toArray(Waveform[]::new));
    }

    /**
     * Returns a picture of waveforms, each in a panel of its own, on one time axis.
     *
     * @param waveforms at least one waveform, from top to bottom
     * @return the picture
     * @throws IllegalArgumentException if there is no waveform
     */
    public static Picture stacked(Waveform... waveforms) {
        StackBuilder builder = stack();
        for (Waveform waveform : waveforms) {
            builder.panel(waveform);
        }
        return builder.build();
    }

    /**
     * Starts a picture of panels on one time axis.
     *
     * @return a builder
     */
    public static StackBuilder stack() {
        return new StackBuilder();
    }

    /**
     * Starts a picture of a capture with the simulated periods over it, aligned; the differences stand in the line below
     * the title.
     *
     * @param comparison the comparison
     * @param periods how many simulated periods to show, at least 1
     * @return a builder
     * @throws IllegalArgumentException if no period is asked for
     */
    public static StackBuilder overlay(SteadyStateComparison comparison, int periods) {
        String name = comparison.simulated(1).name();
        return stack().title(name + ": bench and simulation")
                .subtitle("measured minus simulated: " + comparison.differences() + "; aligned by "
                        + comparison.alignment())
                .panel(Panel.of(
                                comparison
                                        .captured(periods)
                                        .named("captured ("
                                                + comparison.capture().name() + ")"),
                                comparison.simulated(periods).named("simulated"))
                        .titled(name)
                        .weighted(2));
    }

    /**
     * Starts a picture of a capture with the simulated run over it, aligned, over the time that both have; the differences
     * stand in the line below the title.
     *
     * @param comparison the comparison
     * @return a builder
     */
    public static StackBuilder overlay(TransientComparison comparison) {
        String name = comparison.run().name();
        return stack().title(name + ": bench and simulation")
                .subtitle("measured minus simulated: " + comparison.differences() + "; aligned by "
                        + comparison.alignment())
                .panel(Panel.of(
                                comparison
                                        .captured()
                                        .named("captured ("
                                                + comparison.capture().name() + ")"),
                                comparison.run().named("simulated"))
                        .titled(name)
                        .weighted(2));
    }

    /**
     * Starts a bar chart.
     *
     * @param title in bold at the top
     * @param quantity what the length of a bar means, for example "loss"
     * @param unit the unit of the values
     * @return a builder
     */
    public static BarBuilder bars(String title, String quantity, Unit unit) {
        return new BarBuilder(title, quantity, unit);
    }

    /**
     * Starts a chart of lines over a common quantity.
     *
     * @param title in bold at the top
     * @return a builder
     */
    public static LineBuilder lines(String title) {
        return new LineBuilder(title);
    }
}
