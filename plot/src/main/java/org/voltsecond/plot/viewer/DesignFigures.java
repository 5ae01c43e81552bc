package org.voltsecond.plot.viewer;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.Told;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The figures of a design that a reader looks at while values change, as rows of words and values. */
final class DesignFigures {
    private static final int DIGITS = 5;

    private static final List<Figure<ConverterSteadyState>> STEADY = List.of(
            Figures.OUTPUT_VOLTAGE,
            Figures.OUTPUT_RIPPLE,
            Figures.DUTY_CYCLE,
            Figures.ON_TIME,
            Figures.IDLE_TIME,
            Figures.INDUCTOR_RIPPLE,
            Figures.INDUCTOR_PEAK,
            Figures.INDUCTOR_RMS,
            Figures.TRANSISTOR_RMS,
            Figures.RECTIFIER_MEAN,
            Figures.CAPACITOR_RMS,
            Figures.INPUT_CURRENT,
            Figures.INPUT_POWER,
            Figures.OUTPUT_POWER,
            Figures.EFFICIENCY);

    private static final List<Figure<StepFigures>> STEP =
            List.of(Figures.DROOP, Figures.OVERSHOOT, Figures.SETTLING_TIME, Figures.PEAK_INDUCTOR_CURRENT);

    private final List<Row> rows = new ArrayList<>();

    private DesignFigures() {}

    /**
     * A figure.
     *
     * @param label what it is
     * @param text its value with its unit, or why there is none
     */
    record Row(String label, String text) {}

    /** What a design does; nothing while it is not known. */
    static List<Row> of(@Nullable Findings found) {
        DesignFigures figures = new DesignFigures();
        if (found != null) {
            figures.add(found);
        }
        return List.copyOf(figures.rows);
    }

    private void add(Findings found) {
        Result<ConverterSteadyState> steady = found.steadyState();
        Headlines.of(steady).forEach(line -> row(line.label(), line.text()));
        for (LimitCheck check : found.checks()) {
            row("limit: " + check.limit() + ", " + check.stated(), verdict(check));
        }
        if (steady.exists()) {
            row("conduction", steady.get().conduction().name().toLowerCase(Locale.ROOT));
            STEADY.forEach(figure -> row(figure.words(), text(figure, figure.of(steady.get()))));
            steady.get()
                    .heat()
                    .groups()
                    .forEach((part, loss) -> row(
                            "loss: " + part,
                            Told.quantity(Told.number(loss, steady.get().inputPower()), Unit.WATT, DIGITS)));
        }
        Result<TransientFigures> run = found.transientRun();
        if (run != null && run.exists()) {
            for (StepFigures step : run.get().changes()) {
                String when = "after " + Told.quantity(step.time(), Unit.SECOND, DIGITS) + ": ";
                STEP.forEach(figure -> row(when + figure.words(), text(figure, figure.of(step))));
            }
        } else if (run != null) {
            row("transient", run.reason());
        }
    }

    private static String verdict(LimitCheck check) {
        return check.isKnown() ? (check.isMet() ? "met: " : "not met: ") + check.found() : check.verdict();
    }

    private void row(String label, String text) {
        rows.add(new Row(label, text));
    }

    private static String text(Figure<?> figure, Result<Double> value) {
        if (!value.exists()) {
            return value.reason();
        }
        return figure.unit() == Unit.ONE
                ? String.format(Locale.ROOT, "%.3f %%", 100 * value.get())
                : Told.quantity(value.get(), figure.unit(), DIGITS);
    }
}
