package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Comparison;
import org.voltsecond.converter.Converter;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * The waveforms that show how a regulator makes its pulses, panel by panel, under the names of what they are.
 *
 * <pre>{@code
 * Waveform ramp = PulsePanels.of(regulated, regulated.steadyState()).get(0).get(1);
 * String name = ramp.name(); // "ramp"
 * }</pre>
 */
public final class PulsePanels {
    private final Comparison comparison;
    private final Waveform control;
    private final Waveform compared;

    private PulsePanels(Converter converter, WaveformSource source) {
        comparison = converter.regulator().comparison();
        control = source.of(converter.controlVoltage()).as(comparison.control(), comparison.controlUnit());
        compared = source.of(converter.ramp()).as(comparison.compared(), comparison.comparedUnit());
    }

    /**
     * Returns what is compared.
     *
     * @param converter a regulated converter
     * @param source a run or a steady state of it
     * @return the waveforms of each panel; those of one panel have one unit
     * @throws IllegalStateException if no regulator drives the converter
     */
    public static List<List<Waveform>> of(Converter converter, WaveformSource source) {
        PulsePanels panels = new PulsePanels(converter, source);
        if (panels.comparison.compared().isEmpty()) {
            return List.of(panels.error());
        }
        return panels.control.unit() == panels.compared.unit()
                ? List.of(panels.current())
                : List.of(List.of(panels.control), List.of(panels.compared));
    }

    /**
     * Returns what the control path makes.
     *
     * @param converter a regulated converter
     * @param source a run or a steady state of it
     * @return the control voltage, by the name that the regulator itself has for it
     * @throws IllegalStateException if no regulator drives the converter
     */
    public static Waveform control(Converter converter, WaveformSource source) {
        return new PulsePanels(converter, source).control;
    }

    private List<Waveform> error() {
        double half = comparison.band() / 2;
        Waveform zero = control.times(0);
        return half > 0
                ? List.of(
                        control,
                        zero.plus(half).named("turns on above"),
                        zero.plus(-half).named("turns off below"))
                : List.of(control, zero.named("a pulse begins above"));
    }

    /** The ramp, or the current between the edges of its band. */
    private List<Waveform> current() {
        List<Waveform> panel = new ArrayList<>(List.of(control, compared));
        double half = comparison.band() / 2;
        if (half > 0) {
            panel.add(control.plus(half).named("turns off above"));
            panel.add(control.plus(-half).named("turns on below"));
        }
        return panel;
    }
}
