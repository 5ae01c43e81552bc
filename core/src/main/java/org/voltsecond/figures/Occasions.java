package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * All that a converter is looked at in: steady states, such as that at its operating point and those at the corners of input and load,
 * and a run with its start and what follows each change. Tells what a value is in each, and where it is worst. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run = rail.transientFromSteadyState(milli(3), Change.at(milli(1)).input(15));
 * Occasions all = Occasions.of(rail.steadyState()).with(TransientFigures.of(run, 0.02));
 * Occasions.Found worst = Occasions.worst(all.peaks(Converter::transistorVoltage), false).orElseThrow();
 * String where = worst.where(); // "after the change at 1 ms"
 * }</pre>
 */
public final class Occasions {
    /** In words, of the operating point. */
    static final String STEADY_STATE = "steady state";

    private final Map<String, Result<ConverterSteadyState>> states;
    private final @Nullable TransientFigures run;

    private Occasions(Map<String, Result<ConverterSteadyState>> states, @Nullable TransientFigures run) {
        this.states = states;
        this.run = run;
    }

    /**
     * A value at a place.
     *
     * @param where in words, such as "steady state" or "after the change at 1 ms"
     * @param value the value, or why there is none, as of an output that never settles
     */
    public record Found(String where, Result<Double> value) {}

    /**
     * Looks at a steady state.
     *
     * @param steady the steady state
     * @return that alone
     */
    public static Occasions of(ConverterSteadyState steady) {
        return of(Result.of(steady));
    }

    /**
     * Looks at a steady state.
     *
     * @param steady the steady state, or why there is none
     * @return that alone
     */
    public static Occasions of(Result<ConverterSteadyState> steady) {
        // the reason is told where the steady state is
        return new Occasions(
                Map.of(
                        STEADY_STATE,
                        steady.exists() ? Stretch.lasting(steady) : Result.missing(Stretch.NO_STEADY_STATE)),
                null);
    }

    /**
     * Looks at a run too.
     *
     * @param figures of the run
     * @return all
     */
    public Occasions with(TransientFigures figures) {
        return new Occasions(states, figures);
    }

    /**
     * Looks at another steady state too.
     *
     * @param where in words, for example "corner 9 V, 2 A"
     * @param steady the steady state, or why there is none
     * @return all
     */
    public Occasions with(String where, Result<ConverterSteadyState> steady) {
        Map<String, Result<ConverterSteadyState>> all = new LinkedHashMap<>(states);
        all.put(where, Stretch.lasting(steady));
        return new Occasions(all, run);
    }

    /**
     * Returns the worst of some values; one that does not exist is worse than any number.
     *
     * @param all the values
     * @param least whether they must be at least something, so that the smallest is the worst
     * @return the worst, of equals the first; empty if there are none
     */
    public static Optional<Found> worst(List<Found> all, boolean least) {
        Found worst = null;
        double most = Double.NEGATIVE_INFINITY;
        for (Found one : all) {
            double value = one.value().exists() ? (least ? -1 : 1) * one.value().get() : Double.POSITIVE_INFINITY;
            if (worst == null || value > most) {
                worst = one;
                most = value;
            }
        }
        return Optional.ofNullable(worst);
    }

    /**
     * Returns the largest magnitude of a signal.
     *
     * @param signal which signal of a converter
     * @return in each steady state and in each stretch of the run
     */
    public List<Found> peaks(Function<Converter, Signal> signal) {
        return everywhere((converter, waveforms) -> List.of(magnitude(waveforms.of(signal.apply(converter)))));
    }

    /**
     * Returns a measure of one period once settled; where the output never comes to rest, of all that is there in the end.
     *
     * @param signal which signal of a converter
     * @param measure the measure
     * @return in each steady state and in each stretch of the run
     */
    public List<Found> settled(Function<Converter, Signal> signal, ToDoubleFunction<Waveform> measure) {
        return onceSettled(
                steady -> measure.applyAsDouble(steady.of(signal.apply(steady.converter()))),
                stretch -> measure.applyAsDouble(Stretch.restOf(
                        run().run().of(signal.apply(run().run().after(0))), stretch.from(), stretch.to())));
    }

    /**
     * Returns what only steady states have, such as an efficiency or a temperature.
     *
     * @param measure the measure, or why there is none
     * @return in each steady state, and in that to which each stretch of the run leads
     */
    public List<Found> measured(Function<ConverterSteadyState, Result<Double>> measure) {
        Map<String, Result<ConverterSteadyState>> settled = new LinkedHashMap<>(states);
        stretches().forEach(stretch -> settled.put(stretch.where(), stretch.settled()));
        List<Found> all = new ArrayList<>();
        settled.forEach((where, state) -> state.ifExists(steady -> all.add(new Found(where, measure.apply(steady)))));
        return all;
    }

    /** Why a steady state is none; empty if each exists. */
    Optional<String> obstacle() {
        return obstacle(state -> state);
    }

    /** The first reason that there is, after something was asked of each steady state. */
    Optional<String> obstacle(Function<Result<ConverterSteadyState>, Result<?>> asked) {
        return states.values().stream()
                .<Result<?>>map(asked)
                .filter(state -> !state.exists())
                .map(Result::reason)
                .findFirst();
    }

    /** Values of each steady state, and of each stretch of the run by its settled state or by itself. */
    List<Found> onceSettled(ToDoubleFunction<ConverterSteadyState> measure, ToDoubleFunction<Stretch> otherwise) {
        List<Found> all = inStates(measure);
        for (Stretch stretch : stretches()) {
            Result<Double> value = stretch.settled().map(measure::applyAsDouble);
            all.add(found(stretch.where(), value.exists() ? value.get() : otherwise.applyAsDouble(stretch)));
        }
        return all;
    }

    /** What is measured on the waveforms of each steady state and of each stretch of the run. */
    List<Found> everywhere(BiFunction<Converter, WaveformSource, List<Double>> measure) {
        List<Found> all = new ArrayList<>();
        states.forEach((where, state) -> state.ifExists(
                steady -> measure.apply(steady.converter(), steady).forEach(value -> all.add(found(where, value)))));
        for (Stretch stretch : stretches()) {
            WaveformSource part = signal -> stretch.of(run().run().of(signal));
            measure.apply(run().run().after(0), part).forEach(value -> all.add(found(stretch.where(), value)));
        }
        return all;
    }

    List<Found> inStates(ToDoubleFunction<ConverterSteadyState> measure) {
        List<Found> all = new ArrayList<>();
        states.forEach(
                (where, state) -> state.ifExists(steady -> all.add(found(where, measure.applyAsDouble(steady)))));
        return all;
    }

    static Found found(String where, double value) {
        return new Found(where, Result.of(value));
    }

    List<Stretch> stretches() {
        return run == null ? List.of() : run.stretches();
    }

    /** The run; only where there is one. */
    TransientFigures run() {
        return Objects.requireNonNull(run);
    }

    /** The run, if there is one. */
    Optional<TransientFigures> anyRun() {
        return Optional.ofNullable(run);
    }

    private static double magnitude(Waveform waveform) {
        return Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum()));
    }

    @Override
    public String toString() {
        return states.keySet() + (run == null ? "" : " and the " + run.run());
    }
}
