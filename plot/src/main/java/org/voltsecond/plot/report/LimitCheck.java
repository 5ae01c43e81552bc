package org.voltsecond.plot.report;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.design.Limit;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * Whether a design keeps to one of its limits.
 *
 * @param limit which limit
 * @param bound the limit as the design states it, in its unit
 * @param value the worst value found; infinite if there is none since the output never settles
 */
public record LimitCheck(Limit limit, double bound, Result<Double> value) {
    private static final int DIGITS = 4;

    static List<LimitCheck> of(Findings outcome) {
        Measured measured = new Measured(outcome);
        return outcome.design().limits().entrySet().stream()
                .map(entry -> new LimitCheck(entry.getKey(), entry.getValue(), measured.worst(entry.getKey())))
                .toList();
    }

    /**
     * Tells whether there is a value to hold against the limit.
     *
     * @return true if so
     */
    public boolean isKnown() {
        return value.exists();
    }

    /**
     * Tells whether the limit is met.
     *
     * @return true if the value is known and on the right side of the limit, or just on it
     */
    public boolean isMet() {
        return isKnown() && margin() >= 0;
    }

    /**
     * Returns how far the value is on the right side of the limit.
     *
     * @return the distance, in the unit of the limit; negative on the wrong side, NaN if the value is not known
     */
    public double margin() {
        if (!isKnown()) {
            return Double.NaN;
        }
        return limit.isLeast() ? value.get() - bound : bound - value.get();
    }

    /** What was found, for a table. */
    String sentence() {
        String stated = text(bound) + (limit.isLeast() ? " at least" : " at most");
        return isKnown() ? found() + ", " + stated + ": " + verdict() : stated + ": " + verdict();
    }

    String found() {
        if (!isKnown()) {
            return "unknown";
        }
        return Double.isInfinite(value.get()) ? "never" : text(value.get());
    }

    String verdict() {
        if (!isKnown()) {
            return "not checked, " + value.reason();
        }
        if (Double.isInfinite(margin())) {
            return "not met";
        }
        String distance =
                text(Math.abs(margin())) + String.format(Locale.ROOT, " (%.1f %%)", 100 * Math.abs(margin()) / bound);
        return isMet() ? "met, " + distance + " to spare" : "not met, by " + distance;
    }

    String text(double quantity) {
        return limit.unit() == Unit.ONE
                ? String.format(Locale.ROOT, "%.2f %%", 100 * quantity)
                : Quantity.format(quantity, limit.unit(), DIGITS);
    }

    /** Looks the worst values up. */
    private static final class Measured {
        private final Findings outcome;
        private final Converter converter;

        Measured(Findings outcome) {
            this.outcome = outcome;
            this.converter = outcome.converter();
        }

        Result<Double> worst(Limit limit) {
            return switch (limit) {
                case OUTPUT_RIPPLE ->
                    steady(steady -> steady.of(converter.outputVoltage()).peakToPeak());
                case LOWEST_OUTPUT_VOLTAGE ->
                    steady(steady -> TransientOutcome.magnitude(converter, steady.of(converter.outputVoltage()))
                            .minimum());
                case HIGHEST_OUTPUT_VOLTAGE -> peak(converter.outputVoltage());
                case PEAK_INDUCTOR_CURRENT -> peak(converter.inductorCurrent());
                case TRANSISTOR_VOLTAGE -> peak(converter.transistorVoltage());
                case RECTIFIER_VOLTAGE -> peak(converter.rectifierVoltage());
                case DROOP -> largest(changes().mapToDouble(ChangeFigures::droop));
                case OVERSHOOT ->
                    largest(DoubleStream.concat(startOvershoot(), changes().mapToDouble(ChangeFigures::overshoot)));
                case SETTLING_TIME -> largest(settlingTimes());
                case EFFICIENCY -> efficiency();
            };
        }

        private Result<Double> steady(java.util.function.Function<ConverterSteadyState, Double> measure) {
            return outcome.steadyState().map(measure);
        }

        /** With all losses where the design asks for them. */
        private Result<Double> efficiency() {
            Result<StudyOutcome.Losses> losses = outcome.studies().losses();
            if (losses != null && losses.exists()) {
                return Result.of(losses.get().budget().efficiency());
            }
            OptionalDouble efficiency =
                    outcome.steadyState().exists() ? outcome.steadyState().get().efficiency() : OptionalDouble.empty();
            return efficiency.isPresent()
                    ? Result.of(efficiency.getAsDouble())
                    : Result.missing("there is none: no steady state, or the source delivers no power");
        }

        /** The largest magnitude in steady state and transient. */
        private Result<Double> peak(Signal signal) {
            DoubleStream.Builder peaks = DoubleStream.builder();
            if (outcome.steadyState().exists()) {
                peaks.add(magnitude(outcome.steadyState().get().of(signal)));
            }
            Result<TransientOutcome> run = outcome.transientRun();
            if (run != null && run.exists()) {
                peaks.add(magnitude(run.get().run().of(signal)));
            }
            return largest(peaks.build());
        }

        private static double magnitude(Waveform waveform) {
            return Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum()));
        }

        private Stream<TransientOutcome> runs() {
            Result<TransientOutcome> run = outcome.transientRun();
            return run != null && run.exists() ? Stream.of(run.get()) : Stream.empty();
        }

        private Stream<ChangeFigures> changes() {
            return runs().flatMap(run -> run.changes().stream());
        }

        private Stream<StartFigures> starts() {
            return runs().flatMap(run -> Stream.ofNullable(run.start()));
        }

        private DoubleStream startOvershoot() {
            return starts().map(StartFigures::overshoot).filter(Result::exists).mapToDouble(Result::get);
        }

        private DoubleStream settlingTimes() {
            return DoubleStream.concat(
                    starts().filter(start -> start.level().exists())
                            .mapToDouble(start -> orNever(start.settlingTime())),
                    changes()
                            .filter(change -> change.levelAfter().exists())
                            .mapToDouble(change -> orNever(change.settlingTime())));
        }

        private static double orNever(Result<Double> time) {
            return time.exists() ? time.get() : Double.POSITIVE_INFINITY;
        }

        private static Result<Double> largest(DoubleStream values) {
            OptionalDouble largest = values.max();
            return largest.isPresent()
                    ? Result.of(largest.getAsDouble())
                    : Result.missing("nothing to check: no steady state, or no start or change in [transient]");
        }
    }
}
