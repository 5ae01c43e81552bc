package org.voltsecond.figures;

import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * What happens from one change of a run to the next, or from its start to the first, or from the last to its end.
 *
 * @param where in words, for example "after the change at 1 ms"
 * @param from when it begins, s
 * @param to when it ends, s
 * @param converter the converter during that time
 * @param settled the stable steady state to which it leads
 * @param level the magnitude of the output voltage that is held, or to which the output comes to rest, V
 */
record Stretch(
        String where,
        double from,
        double to,
        Converter converter,
        Result<ConverterSteadyState> settled,
        Result<Double> level) {
    static final String NO_STEADY_STATE = "there is no steady state";

    /** Below this part of its target an output that has no steady state is not held, as in a short circuit. A choice. */
    private static final double LOST = 0.5;

    /**
     * Works a stretch out.
     *
     * @param run the run
     * @param index how many changes have happened
     * @param output the magnitude of the output voltage over the run
     * @param steady the steady state of the converter, where it is known already
     * @param share half the width of the settling band, as a share of the level
     */
    static Stretch of(
            ConverterTransient run,
            int index,
            Waveform output,
            @Nullable Result<ConverterSteadyState> steady,
            double share) {
        double from = index == 0 ? 0 : run.changes().get(index - 1).time();
        double to = index < run.changes().size() ? run.changes().get(index).time() : run.finalTime();
        String where = index == 0 ? "start" : "after the change at " + Quantity.brief(from, Unit.SECOND);
        Converter converter = run.after(index);
        Result<ConverterSteadyState> found = steady == null ? steadyState(converter) : steady;
        Result<Double> level = found.exists()
                ? Result.of(level(converter, found.get(), output, from, to, share))
                : unsettled(converter, output, from, to, steady == null ? found.reason() : NO_STEADY_STATE);
        return new Stretch(where, from, to, converter, lasting(found), level);
    }

    static Result<ConverterSteadyState> steadyState(Converter converter) {
        try {
            return Result.of(converter.steadyState());
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing(NO_STEADY_STATE + ": " + e.getMessage());
        }
    }

    /** A steady state that the converter leaves by itself is none that limits can be held against. */
    static Result<ConverterSteadyState> lasting(Result<ConverterSteadyState> found) {
        return found.flatMap(steady -> lasts(steady)
                ? found
                : Result.missing("the steady state is unstable and does not last; a transient shows what happens"));
    }

    /** An undamped one lasts too, as far as rounding lets that be known. */
    private static boolean lasts(ConverterSteadyState steady) {
        return steady.periodic().stability() != SteadyState.Stability.UNSTABLE;
    }

    private static double level(
            Converter converter, ConverterSteadyState steady, Waveform output, double from, double to, double share) {
        double mean = Math.abs(steady.of(converter.outputVoltage()).mean());
        OutputRegulation held = steady.regulation().orElse(null);
        if (held != null && held.inRegulation() && Math.abs(held.error()) <= share * held.target()) {
            return held.target();
        }
        return lasts(steady) || !(to > from) ? mean : restOf(output, from, to).mean();
    }

    /** Without a steady state, as in hiccup: the target where the output is somewhere near it, or else what it does. */
    private static Result<Double> unsettled(
            Converter converter, Waveform output, double from, double to, String reason) {
        if (!converter.isRegulated() || !(to > from)) {
            return Result.missing(reason);
        }
        double mean = restOf(output, from, to).mean();
        OptionalDouble target = converter.target();
        return Result.of(
                target.isPresent() && mean > LOST * target.getAsDouble() ? target.getAsDouble() : Math.abs(mean));
    }

    /** The second half: what the output does when it does not come to rest. */
    static Waveform restOf(Waveform waveform, double from, double to) {
        return waveform.between(0.5 * (from + to), to);
    }

    boolean lasts() {
        return to > from;
    }

    /** A waveform of the run as long as this lasts. */
    Waveform of(Waveform waveform) {
        return waveform.between(from, to);
    }
}
