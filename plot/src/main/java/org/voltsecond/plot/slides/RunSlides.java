package org.voltsecond.plot.slides;

import java.util.List;
import java.util.stream.IntStream;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.explain.LoadStep;
import org.voltsecond.plot.explain.Pulses;
import org.voltsecond.plot.explain.Pulses.Pulse;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.slides.Slide.Draft;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** What happens in a run: the start, a step of the load, the pulses around it. */
final class RunSlides {
    /** A pulse that differs less is as wide as before. */
    private static final double AS_WIDE = 1e-3;

    private static final int PERIODS = 8;

    /** How much is shown after the output has settled, against the time until then: a choice. */
    private static final double AFTER = 2;

    private RunSlides() {}

    private static Result<TransientFigures> run(Findings findings) {
        Result<TransientFigures> run = findings.transientRun();
        return run == null ? Result.missing("no transient is asked for") : run;
    }

    static Result<List<Slide>> start(Findings findings) {
        return run(findings)
                .flatMap(found -> found.start().exists()
                        ? Result.of(List.of(start(found, found.start().get())))
                        : Result.missing("its transient does not begin at rest"));
    }

    private static Slide start(TransientFigures run, StepFigures start) {
        Draft draft = new Draft("start")
                .definition(
                        "The output has settled at the end of the last period whose mean lies outside the settling band. Overshoot is "
                                + "how far the waveform rises above its level, ripple included.");
        double time = start.settlingTime().orElse(0.0);
        String message = start.settlingTime().exists()
                ? "The output is there " + draft.tell("settling time", time, Unit.SECOND)
                        + " after the start; the current peaks at "
                : "The output has not settled when the run ends; the current peaks at ";
        message += draft.tell("peak inductor current", start.peakInductorCurrent(), Unit.AMPERE);
        start.overshoot().ifExists(value -> draft.note("overshoot", value, Unit.VOLT));
        double to = time > 0 ? Math.min(start.end(), AFTER * time) : start.end();
        Panel output = Panel.of(run.magnitude().between(0, to));
        if (start.levelAfter().exists() && start.settlingBand().exists()) {
            double level = start.levelAfter().get();
            double band = start.settlingBand().get();
            output = output.titled("dashed: settling band")
                    .limit(level + band, "")
                    .limit(level - band, "");
        }
        return draft.of(
                message,
                Pictures.stack()
                        .panel(output.weighted(1.3))
                        .panel(run.inductorCurrent().between(0, to))
                        .build());
    }

    /** The first change of the load; -1 if there is none. */
    private static int firstStep(ConverterTransient run) {
        return IntStream.range(0, run.changes().size())
                .filter(k -> !run.after(k + 1).load().equals(run.after(k).load()))
                .findFirst()
                .orElse(-1);
    }

    static Result<List<Slide>> loadStep(Findings findings) {
        return run(findings).flatMap(found -> {
            ConverterTransient run = found.run();
            int step = firstStep(run);
            return step < 0
                    ? Result.missing("its transient has no change of the load")
                    : run.after(0).roles().outputCapacitor().isEmpty()
                            ? Result.missing("it has no output capacitor")
                            : Result.of(List.of(loadStep(run, step)));
        });
    }

    private static Slide loadStep(ConverterTransient run, int change) {
        LoadStep step = LoadStep.of(run, change);
        String name = run.after(0).roles().outputCapacitor().orElse("the output capacitor");
        Draft draft = new Draft("load-step")
                .definition(
                        "The charge that the output capacitor gives, or takes, until the stage delivers what the load takes. Over the "
                                + "capacitance it is how far the output moves, beside the step across the series resistance.");
        String charge = draft.tell("charge", Math.abs(step.charge()), Unit.COULOMB);
        String time = draft.tell("time until then", step.until() - step.time(), Unit.SECOND);
        String message = step.charge() > 0
                ? name + " gives " + charge + " until the stage has caught up, " + time + " after the step"
                : name + " takes " + charge + " until the stage delivers less, " + time + " after the step";
        return draft.of(message, step.picture("", false));
    }

    static Result<List<Slide>> pulses(Findings findings) {
        if (!findings.converter().isRegulated()) {
            return Result.missing("no regulator drives it");
        }
        return run(findings).flatMap(found -> {
            ConverterTransient run = found.run();
            int change = Math.max(0, firstStep(run));
            if (run.changes().isEmpty()) {
                return Result.missing("its transient has no change");
            }
            Pulses pulses = Pulses.around(run, change, PERIODS);
            return pulses.widths().isEmpty()
                    ? Result.missing("no pulse begins and ends around the change")
                    : Result.of(List.of(pulses(run, change, pulses)));
        });
    }

    private static Slide pulses(ConverterTransient run, int change, Pulses pulses) {
        Draft draft = new Draft("pulses")
                .definition(
                        "What the comparator compares, and the pulses that come of it. The widest and the narrowest are those of the "
                                + PERIODS + " periods after the change.");
        double first = pulses.widths().get(0).width();
        double longest =
                pulses.widths().stream().mapToDouble(Pulse::width).max().orElse(first);
        double shortest =
                pulses.widths().stream().mapToDouble(Pulse::width).min().orElse(first);
        String before = draft.tell("pulse before", first, Unit.SECOND);
        String wide = draft.tell("widest", longest, Unit.SECOND);
        String narrow = draft.tell("narrowest", shortest, Unit.SECOND);
        String what = run.changes().get(change).description();
        boolean widens = longest - first >= first - shortest;
        String message = longest - shortest < AS_WIDE * first
                ? "After the step to " + what + " the pulse stays at " + before
                : "After the step to " + what + " the pulse " + (widens ? "widens from " : "narrows from ") + before
                        + " to " + (widens ? wide : narrow);
        return draft.of(message, pulses.picture("", false));
    }
}
