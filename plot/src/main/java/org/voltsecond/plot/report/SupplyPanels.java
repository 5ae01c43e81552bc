package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.voltsecond.converter.Converter;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** The waveforms of what lies between source and stage, panel by panel. */
final class SupplyPanels {
    private final Converter converter;
    private final Map<String, Signal> signals;

    SupplyPanels(Converter converter) {
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
