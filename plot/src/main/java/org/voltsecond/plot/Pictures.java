package org.voltsecond.plot;

import java.util.List;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** Where pictures begin. */
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
