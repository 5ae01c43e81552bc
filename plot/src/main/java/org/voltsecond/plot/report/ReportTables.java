package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.StageLosses;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.LinearInstead;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.figures.PulseFigures;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** The tables of the report. */
final class ReportTables {
    private static final int DIGITS = 4;
    private static final String NONE = "–";

    private ReportTables() {}

    static PageTable checks(List<LimitCheck> checks) {
        PageTable table = PageTable.headed("limit", "stated", "found", "where", "verdict");
        for (LimitCheck check : checks) {
            table.row(List.of(
                    Cell.of(check.limit().toString()),
                    Cell.of(together(check.stated())),
                    Cell.of(together(check.found())),
                    Cell.of(check.where()),
                    new Cell(check.verdict(), tone(check))));
        }
        return table;
    }

    static Cell.Tone tone(LimitCheck check) {
        return !check.isKnown() ? Cell.Tone.OPEN : check.isMet() ? Cell.Tone.GOOD : Cell.Tone.BAD;
    }

    static PageTable headlines(List<Headlines.Line> lines) {
        PageTable table = PageTable.headed("first of all", "finding");
        for (Headlines.Line line : lines) {
            table.row(List.of(
                    Cell.of(line.label()),
                    line.isGood() ? Cell.of(line.text()) : new Cell(line.text(), Cell.Tone.BAD)));
        }
        return table;
    }

    static PageTable times(ConverterSteadyState steady) {
        PageTable table = PageTable.headed("figure", "value")
                .row("conduction", steady.conduction().name().toLowerCase(Locale.ROOT))
                .row("period", format(steady.period(), Unit.SECOND))
                .row("on time", format(steady.onTime(), Unit.SECOND))
                .row("off time", format(steady.offTime(), Unit.SECOND))
                .row("idle time", format(steady.idleTime(), Unit.SECOND))
                .row("duty cycle", percent(steady.dutyCycle()))
                .row("input power", format(steady.inputPower(), Unit.WATT))
                .row("output power", format(steady.outputPower(), Unit.WATT))
                .row("efficiency, conduction losses only", efficiency(steady))
                .row("stability", Headlines.stability(steady.periodic()));
        for (Figure<ConverterSteadyState> figure : PulseFigures.told()) {
            table.row(figure.words(), found(figure.of(steady), figure.unit()));
        }
        return table;
    }

    static String efficiency(ConverterSteadyState steady) {
        Result<Double> efficiency = Figures.EFFICIENCY.of(steady);
        return efficiency.exists() ? percent(efficiency.get()) : efficiency.toString();
    }

    static PageTable signals(Converter converter, ConverterSteadyState steady) {
        PageTable table =
                PageTable.headed("signal", "mean", "RMS", "RMS without the mean", "lowest", "highest", "peak to peak");
        for (Map.Entry<String, Signal> entry : NamedSignals.of(converter).entrySet()) {
            Waveform waveform = steady.of(entry.getValue());
            Unit unit = waveform.unit();
            table.row(
                    NamedSignals.words(entry.getKey()),
                    format(mean(waveform), unit),
                    format(waveform.rms(), unit),
                    format(waveform.acRms(), unit),
                    format(waveform.minimum(), unit),
                    format(waveform.maximum(), unit),
                    format(waveform.peakToPeak(), unit));
        }
        return table;
    }

    /** A mean that is nothing but rounding of what goes to and fro is none. */
    private static double mean(Waveform waveform) {
        return Math.abs(waveform.mean()) < 1e-11 * waveform.rms() ? 0 : waveform.mean();
    }

    /** Current and voltage of one part. */
    private record Stressed(Signal current, @Nullable Signal voltage) {}

    static PageTable stress(Findings outcome) {
        Converter converter = outcome.converter();
        Map<String, Stressed> parts = new LinkedHashMap<>();
        parts.put(
                converter.transistorName() + ", transistor",
                new Stressed(converter.transistorCurrent(), converter.transistorVoltage()));
        Map<String, Signal> named = NamedSignals.of(converter);
        if (named.containsKey("rectifier_current")) {
            parts.put(
                    converter.rectifierName() + ", rectifier",
                    new Stressed(converter.rectifierCurrent(), converter.rectifierVoltage()));
        }
        converter
                .roles()
                .inductor()
                .ifPresent(name -> parts.put(
                        name + ", inductor",
                        new Stressed(
                                converter.inductorCurrent(), converter.driven().voltageAcross(name))));
        converter
                .roles()
                .outputCapacitor()
                .ifPresent(name -> parts.put(
                        name + ", output capacitor",
                        new Stressed(converter.outputCapacitorCurrent(), converter.outputVoltage())));
        Map<String, Signal> supply = NamedSignals.supplySide(converter);
        for (String capacitor : List.of("input_capacitor", "filter_capacitor")) {
            Signal current = supply.get(capacitor + "_current");
            if (current != null) {
                parts.put(capacitor.replace('_', ' '), new Stressed(current, supply.get(capacitor + "_voltage")));
            }
        }
        parts.put(converter.roles().source() + ", source", new Stressed(converter.sourceCurrent(), null));
        PageTable table = PageTable.headed(
                "part",
                "RMS current",
                "peak current",
                "peak voltage",
                "peak current in the transient",
                "peak voltage in the transient");
        WaveformSource steady =
                outcome.steadyState().exists() ? outcome.steadyState().get() : null;
        Result<TransientFigures> found = outcome.transientRun();
        WaveformSource run = found != null && found.exists() ? found.get().run() : null;
        parts.forEach((name, part) -> table.row(
                name,
                steady == null ? NONE : format(steady.of(part.current()).rms(), Unit.AMPERE),
                peak(steady, part.current()),
                peak(steady, part.voltage()),
                peak(run, part.current()),
                peak(run, part.voltage())));
        return table;
    }

    private static String peak(@Nullable WaveformSource source, @Nullable Signal signal) {
        if (source == null || signal == null) {
            return NONE;
        }
        Waveform waveform = source.of(signal);
        return format(Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum())), waveform.unit());
    }

    static PageTable losses(ConverterSteadyState steady) {
        PageTable table = PageTable.headed("part", "loss", "share of the losses");
        StageLosses losses = steady.heat();
        double total = losses.total();
        losses.groups().forEach((name, watt) -> table.row(name, format(watt, Unit.WATT), share(watt, total)));
        return table.row("all", format(total, Unit.WATT), share(total, total));
    }

    static PageTable linear(ConverterSteadyState steady, StudyOutcome.@Nullable Losses losses, LinearInstead linear) {
        double heat = losses == null ? steady.heat().total() : losses.budget().total();
        double input = steady.outputPower() + heat;
        return PageTable.headed(
                        "figure",
                        losses == null ? "this converter, conduction losses only" : "this converter, all losses",
                        "linear regulator")
                .row("efficiency", percent(steady.outputPower() / input), percent(linear.efficiency()))
                .row("power from the source", format(input, Unit.WATT), format(linear.inputPower(), Unit.WATT))
                .row("heat", format(heat, Unit.WATT), format(linear.heat(), Unit.WATT));
    }

    static String share(double part, double total) {
        return total > 0 ? percent(part / total) : NONE;
    }

    static PageTable changes(TransientFigures result) {
        PageTable table = PageTable.headed(
                "what",
                "at",
                "droop",
                "overshoot",
                "peak inductor current",
                "peak source current",
                "settling time",
                "settled within");
        result.start()
                .ifExists(start -> table.row(
                        "start",
                        format(0, Unit.SECOND),
                        NONE,
                        found(start.overshoot(), Unit.VOLT),
                        format(start.peakInductorCurrent(), Unit.AMPERE),
                        sourcePeak(start),
                        found(start.settlingTime(), Unit.SECOND),
                        band(start.levelAfter(), start.settlingBand())));
        ConverterTransient run = result.run();
        for (int k = 0; k < result.changes().size(); k++) {
            StepFigures change = result.changes().get(k);
            table.row(
                    run.changes().get(k).description(),
                    format(change.time(), Unit.SECOND),
                    found(change.droop(), Unit.VOLT),
                    found(change.overshoot(), Unit.VOLT),
                    format(change.peakInductorCurrent(), Unit.AMPERE),
                    sourcePeak(change),
                    found(change.settlingTime(), Unit.SECOND),
                    band(change.levelAfter(), change.settlingBand()));
        }
        return table;
    }

    private static String sourcePeak(StepFigures found) {
        return found.peakSourceCurrent()
                .map(ampere -> format(ampere, Unit.AMPERE))
                .orElse(NONE);
    }

    private static String band(Result<Double> level, Result<Double> band) {
        return level.exists() && band.exists() ? found(level, Unit.VOLT) + " ± " + found(band, Unit.VOLT) : NONE;
    }

    private static String found(Result<Double> value, Unit unit) {
        return value.exists() ? format(value.get(), unit) : value.reason();
    }

    /** Energies of several runs, side by side. */
    static PageTable audit(Map<String, EnergyAudit> audits) {
        List<String> headings = new ArrayList<>(List.of("energy"));
        headings.addAll(audits.keySet());
        PageTable table = PageTable.headed(headings.toArray(new String[0]));
        row(table, "delivered by the sources", audits, audit -> format(audit.totalDelivered(), Unit.JOULE));
        row(table, "dissipated, including the load", audits, audit -> format(audit.totalDissipated(), Unit.JOULE));
        row(table, "increase in stored energy", audits, audit -> energy(audit.storedChange(), audit));
        row(table, "lost to ideal charge redistribution", audits, audit -> energy(audit.redistributed(), audit));
        row(table, "relative imbalance", audits, audit -> String.format(Locale.ROOT, "%.1e", audit.residual()));
        return table;
    }

    /** What is nothing but rounding of what was delivered is none; the residual counts it all the same. */
    private static String energy(double joule, EnergyAudit audit) {
        return format(Math.abs(joule) < 1e-11 * Math.abs(audit.totalDelivered()) ? 0 : joule, Unit.JOULE);
    }

    private static void row(
            PageTable table,
            String name,
            Map<String, EnergyAudit> audits,
            java.util.function.Function<EnergyAudit, String> content) {
        List<String> cells = new ArrayList<>(List.of(name));
        audits.values().forEach(audit -> cells.add(content.apply(audit)));
        table.row(cells.toArray(new String[0]));
    }

    static String percent(double share) {
        return together(String.format(Locale.ROOT, "%.2f %%", 100 * share));
    }

    static String format(double value, Unit unit) {
        return together(Quantity.format(value, unit, DIGITS));
    }

    /** Number and unit stay on one line. */
    static String together(String quantity) {
        return quantity.replace(' ', '\u00a0');
    }
}
