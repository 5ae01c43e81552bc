package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.ToDoubleBiFunction;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.losses.WoundCore;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * What limits are held against: the steady state, the start and what follows each change of a transient, and other steady
 * states such as those at the corners of input and load. The worst value counts, and it is told where that is. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run = rail.transientFromSteadyState(milli(3), Change.at(milli(1)).input(15));
 * LimitChecks checks = LimitChecks.of(rail).with(TransientFigures.of(run, 0.02));
 * LimitCheck ripple = checks.check(Limit.OUTPUT_RIPPLE, milli(5));
 * String where = ripple.where(); // "after the change at 1 ms"
 * }</pre>
 */
public final class LimitChecks {
    private static final String STEADY_STATE = "steady state";

    private final Map<String, Result<ConverterSteadyState>> states;
    private final @Nullable TransientFigures run;
    private final Map<Limit, Function<ConverterSteadyState, Result<Double>>> measures;
    private final List<WoundCore> cores;
    private final Result<Worst> emissions;

    private LimitChecks(
            Map<String, Result<ConverterSteadyState>> states,
            @Nullable TransientFigures run,
            Map<Limit, Function<ConverterSteadyState, Result<Double>>> measures,
            List<WoundCore> cores,
            Result<Worst> emissions) {
        this.states = states;
        this.run = run;
        this.measures = measures;
        this.cores = cores;
        this.emissions = emissions;
    }

    /**
     * Looks at the steady state of a converter.
     *
     * @param converter the converter
     * @return what limits are held against
     */
    public static LimitChecks of(Converter converter) {
        return of(Stretch.steadyState(converter));
    }

    /**
     * Looks at a steady state.
     *
     * @param steady the steady state, or why there is none
     * @return what limits are held against
     */
    public static LimitChecks of(Result<ConverterSteadyState> steady) {
        // the reason is told where the steady state is
        Result<ConverterSteadyState> state =
                steady.exists() ? Stretch.lasting(steady) : Result.missing(Stretch.NO_STEADY_STATE);
        return new LimitChecks(
                Map.of(STEADY_STATE, state),
                null,
                Map.of(Limit.EFFICIENCY, Figures.EFFICIENCY::of),
                List.of(),
                Result.missing("no emissions were asked for"));
    }

    /**
     * Looks at a transient too.
     *
     * @param figures of the transient
     * @return what limits are held against
     */
    public LimitChecks with(TransientFigures figures) {
        return new LimitChecks(states, figures, measures, cores, emissions);
    }

    /**
     * Looks at another steady state too.
     *
     * @param where in words, for example "corner 9 V, 2 A"
     * @param steady the steady state, or why there is none
     * @return what limits are held against
     */
    public LimitChecks with(String where, Result<ConverterSteadyState> steady) {
        Map<String, Result<ConverterSteadyState>> all = new LinkedHashMap<>(states);
        all.put(where, Stretch.lasting(steady));
        return new LimitChecks(all, run, measures, cores, emissions);
    }

    /**
     * Counts other losses than those of conduction.
     *
     * @param measure the efficiency of a steady state
     * @return what limits are held against
     */
    public LimitChecks withEfficiency(Function<ConverterSteadyState, Result<Double>> measure) {
        return with(Map.of(Limit.EFFICIENCY, measure));
    }

    /**
     * Looks at the emissions into the supply too.
     *
     * @param worst the harmonic with the least margin at the artificial network, or why there is none
     * @return what limits are held against
     */
    public LimitChecks withEmissions(Result<Worst> worst) {
        return new LimitChecks(states, run, measures, cores, worst);
    }

    /**
     * Says how limits are measured that need more than the converter, such as temperatures.
     *
     * @param more what each is of a steady state, or why there is none
     * @return what limits are held against
     */
    public LimitChecks with(Map<Limit, Function<ConverterSteadyState, Result<Double>>> more) {
        Map<Limit, Function<ConverterSteadyState, Result<Double>>> all = new EnumMap<>(Limit.class);
        all.putAll(measures);
        all.putAll(more);
        return new LimitChecks(states, run, all, cores, emissions);
    }

    /**
     * Says of which cores the flux density counts.
     *
     * @param given the cores
     * @return what limits are held against
     */
    public LimitChecks withCores(List<WoundCore> given) {
        return new LimitChecks(states, run, measures, List.copyOf(given), emissions);
    }

    /** A value at a place; none where the output never settles there. */
    private record Found(String where, Result<Double> value) {}

    /**
     * Holds everything against a limit.
     *
     * @param limit the limit
     * @param bound its value, in its unit
     * @return the worst value, and where it is
     */
    public LimitCheck check(Limit limit, double bound) {
        List<Found> all = found(limit);
        int sign = limit.isLeast() ? -1 : 1;
        Found worst = null;
        double most = Double.NEGATIVE_INFINITY;
        for (Found one : all) {
            double value = one.value().exists() ? sign * one.value().get() : Double.POSITIVE_INFINITY;
            if (worst == null || value > most) {
                worst = one;
                most = value;
            }
        }
        return worst == null
                ? new LimitCheck(limit, bound, Result.missing(nothing(limit)), "")
                : new LimitCheck(limit, bound, worst.value(), worst.where());
    }

    private String nothing(Limit limit) {
        return switch (limit) {
            case DROOP, SETTLING_TIME -> "no change in a transient";
            case START_TIME -> "no start from rest in a transient";
            case EMISSION_MARGIN -> emissions.reason();
            case INDUCTANCE_LEFT -> nothingBends("inductor saturates; give its saturation");
            case CAPACITANCE_LEFT -> nothingBends("capacitor fades; give its bias");
            case OVERSHOOT -> "no start or change in a transient";
            default ->
                states.values().stream()
                        .map(state -> limit == Limit.EFFICIENCY ? state.flatMap(measure(limit)) : state)
                        .filter(state -> !state.exists())
                        .map(Result::reason)
                        .findFirst()
                        .orElse(notGiven(limit));
        };
    }

    private String nothingBends(String what) {
        return states.values().stream()
                .filter(state -> !state.exists())
                .map(Result::reason)
                .findFirst()
                .orElse("no " + what);
    }

    private static String notGiven(Limit limit) {
        return switch (limit) {
            case JUNCTION_TEMPERATURE, WINDING_TEMPERATURE, CAPACITOR_TEMPERATURE, RIPPLE_CURRENT_SHARE ->
                "no such part is said how its heat leaves it";
            case FLUX_DENSITY -> "no core is given";
            default -> "nothing to look at";
        };
    }

    private Function<ConverterSteadyState, Result<Double>> measure(Limit limit) {
        return measures.getOrDefault(limit, steady -> Result.missing("nothing to look at"));
    }

    private List<Found> found(Limit limit) {
        return switch (limit) {
            case OUTPUT_RIPPLE -> ripples();
            case LOWEST_OUTPUT_VOLTAGE -> lowest();
            case HIGHEST_OUTPUT_VOLTAGE -> peaks(Converter::outputVoltage);
            case PEAK_INDUCTOR_CURRENT -> peaks(Converter::inductorCurrent);
            case TRANSISTOR_VOLTAGE -> peaks(Converter::transistorVoltage);
            case RECTIFIER_VOLTAGE -> peaks(Converter::rectifierVoltage);
            case INPUT_CAPACITOR_RMS -> settled(inputCapacitor("current"), Waveform::rms);
            case INPUT_CAPACITOR_RIPPLE -> settled(inputCapacitor("voltage"), Waveform::peakToPeak);
            case SOURCE_CURRENT_RIPPLE -> settled(Converter::sourceCurrent, Waveform::peakToPeak);
            case PEAK_SOURCE_CURRENT -> peaks(Converter::sourceCurrent);
            case INDUCTANCE_LEFT -> left(true);
            case CAPACITANCE_LEFT -> left(false);
            case EFFICIENCY, JUNCTION_TEMPERATURE, WINDING_TEMPERATURE, CAPACITOR_TEMPERATURE, RIPPLE_CURRENT_SHARE ->
                measured(limit);
            case FLUX_DENSITY -> cores.isEmpty() ? List.of() : everywhere(this::flux);
            case EMISSION_MARGIN ->
                emissions.exists() ? List.of(found(STEADY_STATE, emissions.get().margin())) : List.of();
            case DROOP -> steps(false, StepFigures::droop);
            case OVERSHOOT -> steps(true, StepFigures::overshoot);
            case SETTLING_TIME -> changes(StepFigures::settlingTime);
            case START_TIME -> starts(StepFigures::settlingTime);
        };
    }

    private List<Found> inStates(ToDoubleFunction<ConverterSteadyState> measure) {
        List<Found> all = new ArrayList<>();
        states.forEach(
                (where, state) -> state.ifExists(steady -> all.add(found(where, measure.applyAsDouble(steady)))));
        return all;
    }

    private static Found found(String where, double value) {
        return new Found(where, Result.of(value));
    }

    private List<Stretch> stretches() {
        return run == null ? List.of() : run.stretches();
    }

    /** Of one period once settled; where the output never comes to rest, of all that it does there in the end. */
    private List<Found> ripples() {
        List<Found> all = inStates(Figures.OUTPUT_RIPPLE::in);
        for (Stretch stretch : stretches()) {
            all.add(found(
                    stretch.where(),
                    stretch.settled()
                            .map(Figures.OUTPUT_RIPPLE::in)
                            .orElse(inTheEnd(stretch).peakToPeak())));
        }
        return all;
    }

    private static Function<Converter, Signal> inputCapacitor(String quantity) {
        String name = "input_capacitor_" + quantity;
        return converter -> java.util.Objects.requireNonNull(converter.further().get(name), name);
    }

    /** A measure of one period once settled; where the output never comes to rest, of all that is there in the end. */
    private List<Found> settled(Function<Converter, Signal> signal, ToDoubleFunction<Waveform> measure) {
        ToDoubleFunction<ConverterSteadyState> ofState =
                steady -> measure.applyAsDouble(steady.of(signal.apply(steady.converter())));
        List<Found> all = inStates(ofState);
        for (Stretch stretch : stretches()) {
            Result<Double> value = stretch.settled().map(ofState::applyAsDouble);
            all.add(found(
                    stretch.where(),
                    value.exists()
                            ? value.get()
                            : measure.applyAsDouble(Stretch.restOf(
                                    run().run().of(signal.apply(run().run().after(0))),
                                    stretch.from(),
                                    stretch.to()))));
        }
        return all;
    }

    private Waveform inTheEnd(Stretch stretch) {
        return Stretch.restOf(run().magnitude(), stretch.from(), stretch.to());
    }

    private TransientFigures run() {
        return java.util.Objects.requireNonNull(run);
    }

    private List<Found> lowest() {
        List<Found> all = inStates(steady -> TransientFigures.magnitude(
                        steady.converter(), steady.of(steady.converter().outputVoltage()))
                .minimum());
        for (Stretch stretch : stretches()) {
            if (stretch.from() > 0) {
                all.add(found(stretch.where(), stretch.of(run().magnitude()).minimum()));
            } else if (!stretch.settled().exists()) {
                all.add(found(stretch.where(), inTheEnd(stretch).minimum()));
            }
        }
        return all;
    }

    /** The largest magnitude of a signal. */
    private List<Found> peaks(Function<Converter, Signal> signal) {
        return everywhere((converter, waveforms) -> magnitude(waveforms.apply(signal.apply(converter))));
    }

    /** What is measured on the waveforms of each steady state and of each stretch of the run. */
    private List<Found> everywhere(ToDoubleBiFunction<Converter, Function<Signal, Waveform>> measure) {
        List<Found> all = inStates(steady -> measure.applyAsDouble(steady.converter(), steady::of));
        for (Stretch stretch : stretches()) {
            Converter converter = run().run().after(0);
            double value = measure.applyAsDouble(
                    converter, signal -> stretch.of(run().run().of(signal)));
            all.add(found(stretch.where(), value));
        }
        return all;
    }

    private double flux(Converter converter, Function<Signal, Waveform> waveforms) {
        return cores.stream()
                .flatMap(core -> core.peaks(converter, waveforms).values().stream())
                .mapToDouble(Double::doubleValue)
                .max()
                .orElse(0);
    }

    private static double magnitude(Waveform waveform) {
        return Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum()));
    }

    /** What is left of the part worst off among those that bend; nothing where none does. */
    private List<Found> left(boolean inductors) {
        List<Found> all = new ArrayList<>();
        states.forEach((where, state) ->
                state.ifExists(steady -> all.addAll(left(inductors, where, steady.converter(), steady))));
        stretches()
                .forEach(stretch -> all.addAll(left(
                        inductors,
                        stretch.where(),
                        run().run().after(0),
                        signal -> stretch.of(run().run().of(signal)))));
        return all;
    }

    private static List<Found> left(boolean inductors, String where, Converter converter, WaveformSource source) {
        return BentPart.of(converter, source).stream()
                .filter(part -> part.isInductor() == inductors)
                .map(part -> found(where, part.left()))
                .toList();
    }

    /**
     * Once settled. Where a source delivers no power, or the load delivers it, there is no efficiency to be held against a limit; where
     * no temperature balances none is met.
     */
    private List<Found> measured(Limit limit) {
        Function<ConverterSteadyState, Result<Double>> measure = measures.get(limit);
        List<Found> all = new ArrayList<>();
        if (measure != null) {
            Map<String, Result<ConverterSteadyState>> settled = new LinkedHashMap<>(states);
            stretches().forEach(stretch -> settled.put(stretch.where(), stretch.settled()));
            settled.forEach(
                    (where, state) -> state.ifExists(steady -> all.add(new Found(where, measure.apply(steady)))));
            all.removeIf(found -> limit == Limit.EFFICIENCY && !found.value().exists());
        }
        return all;
    }

    private List<Found> steps(boolean withStart, Function<StepFigures, Result<Double>> measure) {
        List<Found> all = withStart ? starts(measure) : new ArrayList<>();
        all.addAll(changes(measure));
        all.removeIf(found -> !found.value().exists());
        return all;
    }

    private List<Found> starts(Function<StepFigures, Result<Double>> measure) {
        List<Found> all = new ArrayList<>();
        if (run != null) {
            run.start().ifExists(start -> all.add(new Found(start.where(), measure.apply(start))));
        }
        return all;
    }

    private List<Found> changes(Function<StepFigures, Result<Double>> measure) {
        List<Found> all = new ArrayList<>();
        if (run != null) {
            run.changes().forEach(change -> all.add(new Found(change.where(), measure.apply(change))));
        }
        return all;
    }

    @Override
    public String toString() {
        return "limits held against " + states.keySet() + (run == null ? "" : " and the " + run.run());
    }
}
