package org.voltsecond.figures;

import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * What a step of load, line, duty cycle or reference, or a start from rest, does to the output voltage until the next change
 * or the end. Magnitudes: of a negative output a droop is a move towards zero. Overshoot and settling are the terms of
 * IEC 60469 (Transitions, pulses and related waveforms: terms, definitions and algorithms; quoted from memory), taken as
 * distances in volts since a load step has no transition of the output to be a fraction of. Droop and recovery are the words
 * of the trade. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run = regulated.transientFromSteadyState(milli(2), Change.at(milli(0.5)).load(Load.resistor(5)));
 * StepFigures step = TransientFigures.of(run, 0.01).changes().get(0);
 * double overshoot = step.overshoot().get(); // 587.1 mV
 * double settling = FigureSheet.of(step).get(Figures.SETTLING_TIME).get(); // 1.107 ms
 * }</pre>
 *
 * @param where in words, for example "after the change at 1 ms"
 * @param time when it begins, s
 * @param end until when it is looked at: the next change or the end of the run, s
 * @param levelBefore level at which the output is held, or to which it would have come to rest, before it, V; none at a start
 * @param levelAfter level at which the output is held, or comes to rest, after it, V
 * @param droop how far the waveform falls below the lower of both levels, ripple included, V; 0 if it does not; none at a start
 * @param overshoot how far it rises above the higher of both levels, ripple included, V; 0 if it does not
 * @param peakTime time until the waveform is farthest beyond the two levels, s; 0 if it stays between them
 * @param peakInductorCurrent highest inductor current, A
 * @param peakSourceCurrent highest current drawn from the source, A; none where nothing lies between source and stage
 * @param settlingBand half the width of the settling band, V
 * @param settlingTime time until the end of the last period whose mean lies outside the band around the level after, s; 0 if
 *     none does
 * @param recoveryTime time from the peak until then, s; 0 or more
 * @param dutyCycle duty cycles of the whole switching cycles meanwhile
 */
public record StepFigures(
        String where,
        double time,
        double end,
        Result<Double> levelBefore,
        Result<Double> levelAfter,
        Result<Double> droop,
        Result<Double> overshoot,
        double peakTime,
        double peakInductorCurrent,
        Result<Double> peakSourceCurrent,
        Result<Double> settlingBand,
        Result<Double> settlingTime,
        Result<Double> recoveryTime,
        Result<DutyCycles> dutyCycle) {

    /**
     * Duty cycles of some whole switching cycles.
     *
     * @param minimum the smallest
     * @param maximum the largest
     * @param last that of the last one
     */
    public record DutyCycles(double minimum, double maximum, double last) {}

    /** Measures what follows a change, which leads from one level to another; the start has none before. */
    static StepFigures of(Stretch stretch, Result<Double> before, Observed observed, Cycles cycles, Ending ending) {
        Waveform output = observed.output();
        Waveform response = stretch.of(output);
        Result<Double> after = stretch.level();
        Result<Double> lower = extreme(before, after, -1);
        Result<Double> higher = extreme(before, after, 1);
        Result<Double> droop = before.exists() || !ending.starts()
                ? lower.map(level -> Math.max(0, level - response.minimum()))
                : Result.missing("a start rises from 0 V");
        Result<Double> overshoot = higher.map(level -> Math.max(0, response.maximum() - level));
        double fall = droop.orElse(0.0);
        double rise = overshoot.orElse(0.0);
        double peak = 0;
        if (fall > 0 || rise > 0) {
            peak = (fall >= rise ? response.timeOfMinimum() : response.timeOfMaximum()) - stretch.from();
        }
        double peakTime = peak;
        Cycles.Whole whole = cycles.within(stretch.from(), stretch.to());
        Result<Double> band = after.flatMap(level -> band(level, ending.share()));
        Result<Double> settling = band.flatMap(width -> settling(stretch, whole, output, after.get(), width, ending));
        return new StepFigures(
                stretch.where(),
                stretch.from(),
                stretch.to(),
                before,
                after,
                droop,
                overshoot,
                peakTime,
                stretch.of(observed.inductorCurrent()).maximum(),
                observed.sourceCurrent().map(drawn -> stretch.of(drawn).maximum()),
                band,
                settling,
                settling.map(time -> Math.max(0, time - peakTime)),
                whole.duty());
    }

    /**
     * What is looked at in a run.
     *
     * @param output magnitude of the output voltage
     * @param inductorCurrent the inductor current
     * @param sourceCurrent the current drawn from the source, where it is not what the stage draws
     */
    record Observed(Waveform output, Waveform inductorCurrent, Result<Waveform> sourceCurrent) {}

    /**
     * How a stretch is measured.
     *
     * @param share half the width of the settling band, as a share of the level after
     * @param starts whether it begins at rest
     * @param last whether the run ends with it
     */
    record Ending(double share, boolean starts, boolean last) {
        String word() {
            return last ? "the end of the run" : "the next change";
        }
    }

    private static Result<Double> extreme(Result<Double> before, Result<Double> after, int sign) {
        OptionalDouble most = Stream.of(before, after)
                .filter(Result::exists)
                .mapToDouble(level -> sign * level.get())
                .max();
        return most.isPresent() ? Result.of(sign * most.getAsDouble()) : Result.missing(NO_LEVEL);
    }

    private static final String NO_LEVEL = "the output does not settle at any level";

    private static Result<Double> band(double level, double share) {
        return share * level > 0
                ? Result.of(share * level)
                : Result.missing("the output settles at 0 V, where a relative settling band is zero");
    }

    private static Result<Double> settling(
            Stretch stretch, Cycles.Whole whole, Waveform output, double level, double band, Ending ending) {
        if (whole.isEmpty()) {
            return Result.missing("not one whole switching period lies before " + ending.word());
        }
        double settled = whole.settledAt(output, level, band);
        return Double.isFinite(settled)
                ? Result.of(settled - stretch.from())
                : Result.missing("the output has not settled by " + ending.word());
    }
}
