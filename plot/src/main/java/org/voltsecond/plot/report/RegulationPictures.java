package org.voltsecond.plot.report;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.explain.PulsePanels;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * What a regulator does, drawn: the start, each change with its measured droop and settling, and how control voltage and
 * ramp make the pulses.
 */
final class RegulationPictures {
    private static final int MOST_CHANGES = 8;
    private static final int DIGITS = 3;
    /** Share of the time shown before a change. */
    private static final double MARGIN = 0.15;

    private static final int PERIODS_BEFORE = 4;
    private static final int PERIODS_AFTER = 12;

    private final Findings outcome;
    private final TransientFigures result;
    private final ConverterTransient run;
    private final Converter converter;
    private final Waveform output;
    private final double period;

    RegulationPictures(Findings outcome, TransientFigures result) {
        this.outcome = outcome;
        this.result = result;
        this.run = result.run();
        this.converter = outcome.converter();
        this.output = result.magnitude();
        this.period = converter.driven().clockPeriod();
    }

    /** The pictures by the names of their files, without ending. */
    Map<String, Picture> all() {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        result.start().ifExists(start -> pictures.put("start", start(start)));
        for (int k = 0; k < Math.min(MOST_CHANGES, result.changes().size()); k++) {
            pictures.put("change-" + (k + 1), change(k));
        }
        pictures.put("pulses", pulses());
        return pictures;
    }

    /** A picture whose time begins after some changes. */
    private StackBuilder stack(String title, int changesBefore) {
        Converter now = converter;
        for (Change change : run.changes().subList(0, changesBefore)) {
            now = change.applyTo(now);
        }
        return Pictures.stack()
                .title(Printable.of(outcome.name()) + ": " + title)
                .subtitle(PictureFiles.subtitle(outcome, now));
    }

    private Picture start(StepFigures figures) {
        double end = figures.end();
        double to = shownUntil(0, figures.settlingTime(), end);
        Panel voltage = Panel.of(output.between(0, to));
        if (figures.levelAfter().exists() && figures.settlingBand().exists()) {
            voltage = withBand(
                    voltage, figures.levelAfter().get(), figures.settlingBand().get());
        }
        Waveform current = result.inductorCurrent()
                .between(0, to)
                .named("inductor current, at most " + ampere(figures.peakInductorCurrent()));
        StackBuilder stack = stack("start", 0)
                .panel(voltage.weighted(1.6))
                .panel(current)
                .panel(PulsePanels.control(converter, run).between(0, to));
        new ReportWaveforms.Supply(converter).ofRun(run).forEach(waveform -> stack.panel(waveform.between(0, to)));
        Result<Double> overshoot = figures.overshoot();
        if (overshoot.exists() && overshoot.get() > 0) {
            stack.mark(output.between(0, end).timeOfMaximum(), "overshoot " + volt(overshoot.get()));
        }
        markSettling(stack, 0, figures.settlingTime());
        return stack.build();
    }

    private Picture change(int index) {
        Change change = run.changes().get(index);
        StepFigures figures = result.changes().get(index);
        double to = shownUntil(change.time(), figures.settlingTime(), figures.end());
        double from = Math.max(0, change.time() - MARGIN * (to - change.time()));
        Panel voltage = Panel.of(output.between(from, to));
        if (figures.levelAfter().exists() && figures.settlingBand().exists()) {
            voltage = withBand(
                    voltage, figures.levelAfter().get(), figures.settlingBand().get());
        }
        StackBuilder stack = stack("change at " + second(change.time()) + " to " + change.description(), index)
                .panel(voltage.weighted(1.6))
                .panel(result.inductorCurrent().between(from, to))
                .panel(PulsePanels.control(converter, run).between(from, to))
                .mark(change.time(), change.description());
        markExtremes(stack, figures);
        markSettling(stack, change.time(), figures.settlingTime());
        return stack.build();
    }

    private void markExtremes(StackBuilder stack, StepFigures figures) {
        double droop = figures.droop().orElse(0.0);
        double overshoot = figures.overshoot().orElse(0.0);
        if (droop > 0 || overshoot > 0) {
            stack.mark(
                    figures.time() + figures.peakTime(),
                    droop >= overshoot ? "droop " + volt(droop) : "overshoot " + volt(overshoot));
        }
    }

    private static Panel withBand(Panel panel, double level, double band) {
        return panel.titled("dashed: settling band, " + volt(level) + " ± " + volt(band))
                .limit(level + band, "")
                .limit(level - band, "");
    }

    private static void markSettling(StackBuilder stack, double since, Result<Double> time) {
        if (time.exists() && time.get() > 0) {
            stack.mark(since + time.get(), "settled after " + second(time.get()));
        }
    }

    /** Twice as long as until the output has settled, but not beyond the end. */
    static double shownUntil(double since, Result<Double> settling, double end) {
        return settling.exists() && settling.get() > 0 ? Math.min(end, since + 2 * settling.get()) : end;
    }

    /** Around the change that loads the output most, or at the end of a run without change. */
    private Picture pulses() {
        double end = run.finalTime();
        StepFigures shown = result.changes().stream()
                .max(Comparator.comparingDouble(change -> change.droop().orElse(0.0)))
                .orElse(null);
        double around = shown == null ? end : shown.time();
        double from = Math.max(
                0, Math.min(around - PERIODS_BEFORE * period, end - (PERIODS_BEFORE + PERIODS_AFTER) * period));
        double to = Math.min(end, from + (PERIODS_BEFORE + PERIODS_AFTER) * period);
        int before = shown == null ? run.changes().size() : result.changes().indexOf(shown);
        StackBuilder stack = stack("how the pulses are made", before);
        for (List<Waveform> panel : PulsePanels.of(converter, run)) {
            stack.panel(Panel.of(panel.stream()
                            .map(waveform -> waveform.between(from, to))
                            .toArray(Waveform[]::new))
                    .weighted(1.5));
        }
        stack.panel(Panel.of(run.gate().between(from, to).named("gate, 1 = transistor on"))
                        .weighted(0.5))
                .panel(result.inductorCurrent().between(from, to))
                .panel(output.between(from, to));
        if (shown != null) {
            stack.mark(around, run.changes().get(before).description());
        }
        return stack.build();
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT, DIGITS);
    }

    private static String ampere(double value) {
        return Quantity.format(value, Unit.AMPERE, DIGITS);
    }

    private static String second(double value) {
        return Quantity.format(value, Unit.SECOND, DIGITS);
    }
}
