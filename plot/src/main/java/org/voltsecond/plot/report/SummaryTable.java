package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LinearInstead;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.Told;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * The short table of a design for the terminal.
 *
 * <pre>{@code
 * SummaryTable.of(Findings.of(rail)).forEach(System.out::println);
 * }</pre>
 */
public final class SummaryTable {
    private static final int DIGITS = 4;

    private final List<String> lines = new ArrayList<>();

    private SummaryTable() {}

    /**
     * Returns the table of a design.
     *
     * @param outcome what the design does
     * @return lines to print
     */
    public static List<String> of(Findings outcome) {
        SummaryTable table = new SummaryTable();
        Converter converter = outcome.converter();
        table.lines.add(Printable.of(outcome.name()) + ": " + converter.topology() + ", input "
                + PictureFiles.input(outcome.input()) + ", load " + converter.load());
        Headlines.of(outcome.steadyState()).forEach(line -> table.row(line.label(), line.text()));
        ReviewSection.headlines(outcome.review()).forEach(line -> table.row(line.label(), line.text()));
        Result<HeatBalance> heat = outcome.studies().heat();
        if (heat != null && !heat.exists()) {
            table.row("temperatures", heat.reason());
        }
        table.addSteadyState(outcome);
        table.addResponse(outcome.frequencyResponse());
        table.addTransient(outcome);
        outcome.checks().forEach(check -> table.row("limit", check.toString()));
        ReviewSection.rows(outcome.review()).forEach(row -> table.row(row.getKey(), row.getValue()));
        table.addBench(outcome);
        StudyRows.of(outcome.studies()).forEach(table::row);
        outcome.notes().forEach(note -> table.row("note", note));
        Cautions.ofThisOne(outcome).forEach(caution -> table.row("caution", caution));
        return table.lines;
    }

    private void addSteadyState(Findings outcome) {
        if (!outcome.steadyState().exists()) {
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        Waveform voltage = steady.of(outcome.converter().outputVoltage());
        Waveform current = steady.of(outcome.converter().inductorCurrent());
        row("conduction", steady.conduction().name().toLowerCase(Locale.ROOT));
        row(
                "on / off / idle time",
                second(steady.onTime()) + " / " + second(steady.offTime()) + " / " + second(steady.idleTime())
                        + ofHowManyPulses(outcome, steady));
        row("output voltage", volt(voltage.mean()) + ", ripple " + volt(voltage.peakToPeak()));
        row(
                "inductor current",
                ampere(current.mean()) + ", from " + ampere(Told.number(current.minimum(), current)) + " to "
                        + ampere(current.maximum()));
        addSupply(steady);
        row("power in / out", watt(steady.inputPower()) + " / " + watt(steady.outputPower()));
        row("efficiency", percent(Figures.EFFICIENCY.of(steady)));
        row("losses", losses(steady));
        addLinear(LinearInstead.of(steady));
        row(
                "energy audit",
                String.format(Locale.ROOT, "residual %.1e", steady.audit().residual()));
        row("stable", steady.periodic().isStable() ? "yes" : "no, see above");
    }

    private void addSupply(ConverterSteadyState steady) {
        Map<String, Signal> supply = NamedSignals.supplySide(steady.converter());
        Signal drawn = supply.get(NamedSignals.SOURCE_CURRENT);
        if (drawn != null) {
            Waveform current = steady.of(drawn);
            row("source current", ampere(current.mean()) + ", ripple " + ampere(current.peakToPeak()));
        }
        for (String part : List.of("input_capacitor", "filter_capacitor")) {
            Signal current = supply.get(part + "_current");
            Signal voltage = supply.get(part + "_voltage");
            if (current != null && voltage != null) {
                row(
                        part.replace('_', ' '),
                        ampere(steady.of(current).rms()) + " RMS, ripple "
                                + volt(steady.of(voltage).peakToPeak()));
            }
        }
    }

    /** A ripple of the line makes one period of many pulses. */
    private static String ofHowManyPulses(Findings outcome, ConverterSteadyState steady) {
        boolean rippled = outcome.input().ripple().amplitude() > 0;
        long pulses = Math.round(steady.period() * outcome.switchingFrequency());
        return rippled && pulses > 1 ? ", in all " + pulses + " switching periods of " + second(steady.period()) : "";
    }

    private void addLinear(Result<LinearInstead> linear) {
        row(
                "a linear regulator",
                linear.exists()
                        ? String.format(
                                Locale.ROOT,
                                "%.2f %% at most, %s of heat",
                                100 * linear.get().efficiency(),
                                watt(linear.get().heat()))
                        : "none: " + linear.reason());
    }

    private static String losses(ConverterSteadyState steady) {
        return steady.heat().groups().entrySet().stream()
                .map(part -> part.getKey() + " " + watt(Told.number(part.getValue(), steady.inputPower())))
                .collect(Collectors.joining(", "));
    }

    private void addResponse(@Nullable Result<FrequencyOutcome> response) {
        if (response == null) {
            return;
        }
        if (!response.exists()) {
            row("frequency response", "none: " + response.reason());
            return;
        }
        FrequencyOutcome found = response.get();
        if (found.hasLoop()) {
            row("loop gain", margins(found.margins()));
        }
        FrequencyResponse.Peak peak = found.highestImpedance();
        row(
                "output impedance",
                "at most " + Told.quantity(peak.magnitude(), Unit.OHM, DIGITS) + ", at " + hertz(peak.frequency()));
        found.input().ifExists(input -> input.rows().forEach(this::row));
    }

    private static String margins(Margins margins) {
        String phase = margins.leastCrossover()
                .map(least -> String.format(
                        Locale.ROOT, "crossover %s, phase margin %.1f°", hertz(least.frequency()), least.phaseMargin()))
                .orElse("no crossover in the range of frequencies");
        String others = margins.crossovers().size() < 2
                ? ""
                : " (the least of " + margins.crossovers().size() + " crossovers)";
        return phase
                + others
                + bound(", gain margin ", margins.gain())
                + bound(", gain reduction margin ", margins.gainReduction())
                + (margins.isConditionallyStable() ? ", conditionally stable" : "");
    }

    private static String bound(String words, Margins.Bound bound) {
        return bound.margin().isEmpty()
                ? ""
                : String.format(
                        Locale.ROOT,
                        "%s%.1f dB at %s",
                        words,
                        bound.margin().getAsDouble(),
                        hertz(bound.frequency().orElseThrow()));
    }

    private void addTransient(Findings outcome) {
        Result<TransientFigures> found = outcome.transientRun();
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            row("transient", "none: " + found.reason());
            return;
        }
        ConverterTransient run = found.get().run();
        Waveform voltage = found.get().outputVoltage();
        Waveform current = found.get().inductorCurrent();
        row(
                "transient",
                "output from " + volt(Told.number(voltage.minimum(), voltage)) + " to " + volt(voltage.maximum())
                        + ", inductor current to " + ampere(current.maximum()));
        row(
                "at its end, " + second(run.finalTime()),
                "inductor " + ampere(Told.number(run.finalInductorCurrent(), current)) + ", output capacitor "
                        + volt(Told.number(run.finalCapacitorVoltage(), voltage)));
        found.get().start().ifExists(this::addStart);
        found.get().changes().forEach(this::addChange);
        row(
                "its energy audit",
                String.format(Locale.ROOT, "residual %.1e", found.get().audit().residual()));
    }

    private void addStart(StepFigures start) {
        row(
                "start",
                told("overshoot", start.overshoot()) + "inrush " + ampere(start.peakInductorCurrent())
                        + start.peakSourceCurrent()
                                .map(drawn -> ", of the source " + ampere(drawn))
                                .orElse("")
                        + ", "
                        + settled(start.settlingTime()));
    }

    private static String told(String words, Result<Double> value) {
        return value.exists() ? words + " " + volt(value.get()) + ", " : "";
    }

    private static String settled(Result<Double> time) {
        return time.exists() ? "settled after " + second(time.get()) : time.reason();
    }

    private void addChange(StepFigures change) {
        row(
                "change at " + second(change.time()),
                told("droop", change.droop()) + told("overshoot", change.overshoot()) + settled(change.settlingTime()));
    }

    private void addBench(Findings outcome) {
        Result<BenchOutcome> bench = outcome.bench();
        if (bench == null) {
            return;
        }
        if (!bench.exists()) {
            row("bench", "none: " + bench.reason());
            return;
        }
        BenchOutcome found = bench.get();
        row(
                "measured minus simulated",
                found.capture().name() + ": " + found.differences() + "; aligned by " + found.alignedBy());
    }

    private void row(String label, String value) {
        lines.add(String.format(Locale.ROOT, "  %-22s%s", label, Printable.all(value)));
    }

    private static String percent(Result<Double> share) {
        return share.exists() ? String.format(Locale.ROOT, "%.2f %%", 100 * share.get()) : share.toString();
    }

    private static String volt(double value) {
        return Told.quantity(value, Unit.VOLT, DIGITS);
    }

    private static String ampere(double value) {
        return Told.quantity(value, Unit.AMPERE, DIGITS);
    }

    private static String watt(double value) {
        return Told.quantity(value, Unit.WATT, DIGITS);
    }

    private static String hertz(double value) {
        return Told.quantity(value, Unit.HERTZ, DIGITS);
    }

    private static String second(double value) {
        return Told.quantity(value, Unit.SECOND, DIGITS);
    }
}
