package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.voltsecond.control.Comparison;
import org.voltsecond.converter.Converter;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** What pictures and pages show of a converter beside its usual signals, panel by panel. */
final class Panels {
    private Panels() {}

    /** The waveforms that show how a regulator makes its pulses, panel by panel, under the names of what they are. */
    static final class Pulses {
        private final Comparison comparison;
        private final Waveform control;
        private final Waveform compared;

        private Pulses(Converter converter, WaveformSource source) {
            comparison = converter.regulator().comparison();
            control = source.of(converter.controlVoltage()).as(comparison.control(), comparison.controlUnit());
            compared = source.of(converter.ramp()).as(comparison.compared(), comparison.comparedUnit());
        }

        static List<List<Waveform>> of(Converter converter, WaveformSource source) {
            Pulses panels = new Pulses(converter, source);
            if (panels.comparison.compared().isEmpty()) {
                return List.of(panels.error());
            }
            return panels.control.unit() == panels.compared.unit()
                    ? List.of(panels.current())
                    : List.of(List.of(panels.control), List.of(panels.compared));
        }

        /** What the regulator itself calls the control voltage. */
        static Waveform control(Converter converter, WaveformSource source) {
            return new Pulses(converter, source).control;
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

    /** The waveforms of what lies between source and stage, panel by panel. */
    static final class Supply {
        private final Converter converter;
        private final Map<String, Signal> signals;

        Supply(Converter converter) {
            this.converter = converter;
            signals = NamedSignals.supplySide(converter);
        }

        /** What the stage draws, and where it comes from; empty where source and stage are one. */
        List<Waveform> currents(WaveformSource source) {
            if (signals.isEmpty()) {
                return List.of();
            }
            List<Waveform> all = new ArrayList<>(List.of(source.of(converter.inputCurrent())));
            signals.forEach((name, signal) -> {
                if (name.endsWith("current")) {
                    all.add(source.of(signal));
                }
            });
            return all;
        }

        /** Source current and voltage of the capacitor at the stage, which a run is looked at for. */
        List<Waveform> ofRun(WaveformSource run) {
            return Stream.concat(
                            Optional.ofNullable(signals.get(NamedSignals.SOURCE_CURRENT)).stream()
                                    .map(run::of),
                            voltage(run).stream())
                    .toList();
        }

        /** The voltage of the capacitor at the stage. */
        Optional<Waveform> voltage(WaveformSource source) {
            return Stream.of("input_capacitor_voltage", "filter_capacitor_voltage")
                    .filter(signals::containsKey)
                    .findFirst()
                    .map(name -> source.of(Objects.requireNonNull(signals.get(name))));
        }
    }
}
