package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.explain.PulsePanels;
import org.voltsecond.plot.page.WaveformFigure;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** The waveforms of the report. */
final class ReportWaveforms {
    private static final int PERIODS = 2;
    private static final int MOST_CHANGES = 8;
    private static final int DETAIL_COLUMNS = 800;
    /** Share of the time shown before a change. */
    private static final double MARGIN = 0.15;
    /** A figure of more than this share of a run tells no more than that of the whole. */
    private static final double MOST_OF_RUN = 0.8;

    private final Converter converter;

    ReportWaveforms(Converter converter) {
        this.converter = converter;
    }

    WaveformFigure steadyState(ConverterSteadyState steady) {
        double end = steady.of(converter.outputVoltage()).repeated(PERIODS).endTime();
        double start = steady.of(converter.outputVoltage()).startTime();
        WaveformFigure figure = WaveformFigure.over(
                        "Two periods of the steady state" + PictureFiles.lasting(steady), start, end)
                .panel(switchNodes(converter)
                        .map(each -> twice(steady.of(each)))
                        .toArray(Waveform[]::new))
                .panel(coils(converter).map(each -> twice(steady.of(each))).toArray(Waveform[]::new))
                .panel(devices(steady))
                .panel(twice(steady.of(converter.outputVoltage())));
        Supply supply = new Supply(converter);
        List<Waveform> currents = supply.currents(steady);
        if (!currents.isEmpty()) {
            figure.panel(currents.stream().map(ReportWaveforms::twice).toArray(Waveform[]::new));
        }
        supply.voltage(steady).ifPresent(voltage -> figure.panel(twice(voltage)));
        if (converter.isRegulated()) {
            for (List<Waveform> panel : PulsePanels.of(converter, steady)) {
                figure.panel(panel.stream().map(ReportWaveforms::twice).toArray(Waveform[]::new));
            }
        }
        return figure;
    }

    /** Currents of transistor, rectifier and output capacitor, as far as the circuit has them. */
    private Waveform[] devices(ConverterSteadyState steady) {
        Map<String, Signal> named = NamedSignals.of(converter);
        return Stream.of("transistor_current", "rectifier_current", "output_capacitor_current")
                .filter(named::containsKey)
                .map(name -> twice(steady.of(Objects.requireNonNull(named.get(name)))))
                .toArray(Waveform[]::new);
    }

    /** The inductor currents of all phases, and that of a second inductor. */
    static Stream<Signal> coils(Converter converter) {
        return Stream.concat(
                converter.inductorCurrents().stream(),
                Optional.ofNullable(converter.further().get("second_inductor_current")).stream());
    }

    /** The switch node, and that of a second leg. */
    static Stream<Signal> switchNodes(Converter converter) {
        return Stream.concat(
                Stream.of(converter.switchNode()),
                Optional.ofNullable(converter.further().get("second_switch_node_voltage")).stream());
    }

    private static Waveform twice(Waveform period) {
        return period.repeated(PERIODS);
    }

    /** The whole run, and where they say more the start and each change on its own. */
    List<WaveformFigure> run(TransientFigures result) {
        ConverterTransient run = result.run();
        List<WaveformFigure> figures = new ArrayList<>();
        WaveformFigure whole = figure("The whole transient", run, 0, run.finalTime());
        for (Change change : run.changes()) {
            whole.mark(change.time(), change.description());
        }
        figures.add(whole);
        result.start().ifExists(start -> {
            double to = RegulationPictures.shownUntil(0, start.settlingTime(), start.end());
            if (converter.isRegulated() && to < run.finalTime()) {
                figures.add(figure("Start", run, 0, to).columns(DETAIL_COLUMNS));
            }
        });
        for (int k = 0; k < Math.min(MOST_CHANGES, run.changes().size()); k++) {
            WaveformFigure change = change(result, k);
            if (change != null) {
                figures.add(change);
            }
        }
        return figures;
    }

    /** Null where it would show the whole run once more. */
    private @Nullable WaveformFigure change(TransientFigures result, int index) {
        ConverterTransient run = result.run();
        Change change = run.changes().get(index);
        StepFigures step = result.changes().get(index);
        double to = RegulationPictures.shownUntil(step.time(), step.settlingTime(), step.end());
        double from = Math.max(0, change.time() - MARGIN * (to - change.time()));
        if (to - from > MOST_OF_RUN * run.finalTime()) {
            return null;
        }
        String title = "Change at " + Quantity.format(change.time(), Unit.SECOND, 3) + ": " + change.description();
        return figure(title, run, from, to).columns(DETAIL_COLUMNS).mark(change.time(), change.description());
    }

    private WaveformFigure figure(String title, WaveformSource run, double from, double to) {
        WaveformFigure figure = WaveformFigure.over(title, from, to)
                .panel(run.of(converter.outputVoltage()))
                .panel(coils(converter).map(run::of).toArray(Waveform[]::new));
        new Supply(converter).ofRun(run).forEach(figure::panel);
        if (converter.isRegulated()) {
            figure.panel(PulsePanels.control(converter, run));
        }
        return figure.panel(switchNodes(converter).map(run::of).toArray(Waveform[]::new));
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
