package org.voltsecond.plot.beside;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.plot.page.WaveformFigure;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * Waveforms of two revisions over each other, on the same axes and over the same time.
 *
 * @param file the name of the picture
 * @param title what is shown
 * @param from the start of the time shown, s
 * @param to its end, s
 * @param panels from top to bottom
 * @param marks of instants
 */
record Overlaid(String file, String title, double from, double to, List<Pair> panels, List<Mark> marks) {
    private static final int PERIODS = 2;
    /** More repetitions of the shorter period show nothing. */
    private static final double MOST_REPEATED = 10_000;

    private static final int MOST_CHANGES = 8;
    /** Share of the time shown before a change. */
    private static final double MARGIN = 0.15;
    /** A detail of more than this share of the run shows no more than the whole. */
    private static final double MOST_OF_RUN = 0.8;

    /** A waveform of each revision, one of them null where only the other has it. */
    record Pair(
            String heading,
            @Nullable Waveform before,
            @Nullable Waveform after) {
        /** Those that are there, by revision and what stands behind it. */
        Waveform[] named(String suffix) {
            return Stream.of(named("before" + suffix, before), named("after" + suffix, after))
                    .flatMap(Stream::ofNullable)
                    .toArray(Waveform[]::new);
        }

        private static @Nullable Waveform named(String name, @Nullable Waveform waveform) {
            return waveform == null ? null : waveform.named(name);
        }

        private Pair between(double from, double to) {
            return new Pair(heading, cut(before, from, to), cut(after, from, to));
        }

        private static @Nullable Waveform cut(@Nullable Waveform waveform, double from, double to) {
            return waveform == null ? null : waveform.between(from, to);
        }
    }

    /** An instant with what happens then. */
    record Mark(double time, String text) {}

    /** All that there is to see: the steady state, the whole transient, its start and each change. */
    static List<Overlaid> all(Findings before, Findings after) {
        List<Overlaid> all = new ArrayList<>();
        steadyState(steady(before), steady(after)).ifPresent(all::add);
        all.addAll(new Runs(run(before), run(after)).all());
        return all;
    }

    private static @Nullable ConverterSteadyState steady(Findings found) {
        return found.steadyState().exists() ? found.steadyState().get() : null;
    }

    private static @Nullable TransientFigures run(Findings found) {
        var run = found.transientRun();
        return run != null && run.exists() ? run.get() : null;
    }

    /** From the instant at which each turns on, for two of the longer period. */
    private static Optional<Overlaid> steadyState(
            @Nullable ConverterSteadyState before, @Nullable ConverterSteadyState after) {
        double longer = Math.max(period(before), period(after));
        double shorter = Math.min(before == null ? longer : before.period(), after == null ? longer : after.period());
        if (!(longer > 0) || longer > MOST_REPEATED * shorter) {
            return Optional.empty();
        }
        List<Pair> panels = List.of(
                new Pair(
                        "switch node",
                        fromTurnOn(before, Converter::switchNode, longer),
                        fromTurnOn(after, Converter::switchNode, longer)),
                new Pair(
                        "inductor current",
                        fromTurnOn(before, Converter::inductorCurrent, longer),
                        fromTurnOn(after, Converter::inductorCurrent, longer)),
                new Pair(
                        "output voltage about its mean",
                        ripple(fromTurnOn(before, Converter::outputVoltage, longer), before),
                        ripple(fromTurnOn(after, Converter::outputVoltage, longer), after)));
        return Optional.of(new Overlaid(
                "beside-steady-state",
                "Steady state, from where the switch turns on",
                0,
                PERIODS * longer,
                panels,
                List.of()));
    }

    private static double period(@Nullable ConverterSteadyState steady) {
        return steady == null ? 0 : steady.period();
    }

    private static @Nullable Waveform ripple(@Nullable Waveform output, @Nullable ConverterSteadyState steady) {
        return output == null || steady == null
                ? null
                : output.plus(-steady.of(steady.converter().outputVoltage()).mean());
    }

    private static @Nullable Waveform fromTurnOn(
            @Nullable ConverterSteadyState steady, Function<Converter, Signal> signal, double longer) {
        if (steady == null) {
            return null;
        }
        Waveform period = steady.of(signal.apply(steady.converter()));
        double on = turnOn(steady);
        int turns = (int) Math.ceil(PERIODS * longer / steady.period()) + 1;
        return period.repeated(turns).delayed(-on).between(0, PERIODS * longer);
    }

    /** Where the first pulse begins; of a switch that never turns on or off where the period begins. */
    private static double turnOn(ConverterSteadyState steady) {
        List<TimeBand> bands = TimeBand.of(steady);
        for (int i = 0; i < bands.size(); i++) {
            TimeBand before = bands.get((i + bands.size() - 1) % bands.size());
            if (bands.get(i).kind() == TimeBand.Kind.ON && before.kind() != TimeBand.Kind.ON) {
                return bands.get(i).start();
            }
        }
        return bands.get(0).start();
    }

    /** Two runs, one of them null where only the other design has one. */
    private record Runs(
            @Nullable TransientFigures before, @Nullable TransientFigures after) {
        List<Overlaid> all() {
            List<Overlaid> all = new ArrayList<>();
            if (before == null && after == null) {
                return all;
            }
            all.add(whole());
            if (before != null && after != null) {
                if (before.start().exists() && after.start().exists()) {
                    addDetail(
                            all,
                            "beside-start",
                            "Start",
                            List.of(),
                            before.start().get(),
                            after.start().get());
                }
                int common = Math.min(before.changes().size(), after.changes().size());
                for (int k = 0; k < Math.min(MOST_CHANGES, common); k++) {
                    Change one = before.run().changes().get(k);
                    Change other = after.run().changes().get(k);
                    boolean same = one.description().equals(other.description());
                    addDetail(
                            all,
                            "beside-change-" + (k + 1),
                            "Change " + (k + 1)
                                    + (isSame(one, other)
                                            ? " (" + one + ")"
                                            : ", of before (" + one + ") and after (" + other + ")")
                                    + ", time counted from it",
                            same ? List.of(new Mark(0, one.description())) : List.of(),
                            before.changes().get(k),
                            after.changes().get(k));
                }
            }
            return all;
        }

        private double commonEnd() {
            return Math.min(end(before), end(after));
        }

        private static double end(@Nullable TransientFigures run) {
            return run == null ? Double.POSITIVE_INFINITY : run.run().finalTime();
        }

        private Overlaid whole() {
            double end = commonEnd();
            List<Pair> panels =
                    panels(0, 0).stream().map(pair -> pair.between(0, end)).toList();
            boolean differ = before != null && after != null && end(before) != end(after);
            String title = "Transient" + (differ ? ", until the shorter of the two ends" : "");
            return new Overlaid("beside-transient", title, 0, end, panels, marks(end));
        }

        /** What happens in both is marked once. */
        private List<Mark> marks(double end) {
            List<Mark> marks = new ArrayList<>();
            List<Change> first = before == null ? List.of() : before.run().changes();
            List<Change> second = after == null ? List.of() : after.run().changes();
            for (Change change : first) {
                boolean inBoth = after == null || second.stream().anyMatch(other -> isSame(change, other));
                marks.add(new Mark(change.time(), (inBoth ? "" : "before: ") + change.description()));
            }
            for (Change change : second) {
                if (first.stream().noneMatch(other -> isSame(change, other))) {
                    marks.add(new Mark(change.time(), (before == null ? "" : "after: ") + change.description()));
                }
            }
            return marks.stream().filter(mark -> mark.time() < end).toList();
        }

        private static boolean isSame(Change one, Change other) {
            return one.time() == other.time() && one.description().equals(other.description());
        }

        /** From a little before each happens until the slower of the two has settled. */
        private void addDetail(
                List<Overlaid> all, String file, String title, List<Mark> at, StepFigures one, StepFigures other) {
            double lasts = Math.min(
                    Math.max(lasts(one), lasts(other)), Math.min(one.end() - one.time(), other.end() - other.time()));
            double lead = Math.min(MARGIN * lasts, Math.min(one.time(), other.time()));
            if (lasts + lead <= MOST_OF_RUN * commonEnd() || one.time() != other.time()) {
                List<Pair> panels = panels(-one.time(), -other.time()).stream()
                        .map(pair -> pair.between(-lead, lasts))
                        .toList();
                all.add(new Overlaid(file, title, -lead, lasts, panels, at));
            }
        }

        /** Twice as long as it takes to settle; to its end where it does not. */
        private static double lasts(StepFigures step) {
            double settling = step.settlingTime().orElse(0.0);
            return settling > 0 ? 2 * settling : step.end() - step.time();
        }

        private List<Pair> panels(double delayBefore, double delayAfter) {
            return List.of(
                    pair("output voltage", Converter::outputVoltage, delayBefore, delayAfter),
                    pair("inductor current", Converter::inductorCurrent, delayBefore, delayAfter),
                    pair("switch node", Converter::switchNode, delayBefore, delayAfter));
        }

        private Pair pair(String heading, Function<Converter, Signal> signal, double delayBefore, double delayAfter) {
            return new Pair(heading, wave(before, signal, delayBefore), wave(after, signal, delayAfter));
        }

        private static @Nullable Waveform wave(
                @Nullable TransientFigures found, Function<Converter, Signal> signal, double delay) {
            if (found == null) {
                return null;
            }
            ConverterTransient run = found.run();
            return run.of(signal.apply(run.after(0))).delayed(delay);
        }
    }

    /** As a picture. */
    Picture picture(String subtitle) {
        StackBuilder stack = Pictures.stack().title(title).subtitle(subtitle).window(from, to);
        panels.forEach(pair -> stack.panel(Panel.of(pair.named("")).titled(pair.heading())));
        marks.forEach(mark -> stack.mark(mark.time(), mark.text()));
        return stack.build();
    }

    /** On a page. */
    WaveformFigure figure() {
        WaveformFigure figure = WaveformFigure.over(title, from, to);
        panels.forEach(pair -> figure.panel(pair.named(": " + pair.heading())));
        marks.forEach(mark -> figure.mark(mark.time(), mark.text()));
        return figure;
    }
}
