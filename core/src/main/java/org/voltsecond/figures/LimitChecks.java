package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.figures.Occasions.Found;
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
    private final Occasions occasions;
    private final Map<Limit, Function<ConverterSteadyState, Result<Double>>> measures;
    private final List<WoundCore> cores;
    private final Result<Worst> emissions;

    private LimitChecks(
            Occasions occasions,
            Map<Limit, Function<ConverterSteadyState, Result<Double>>> measures,
            List<WoundCore> cores,
            Result<Worst> emissions) {
        this.occasions = occasions;
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
        return of(Occasions.of(steady));
    }

    /**
     * Looks at several steady states and a run.
     *
     * @param occasions all that is looked at
     * @return what limits are held against
     */
    public static LimitChecks of(Occasions occasions) {
        return new LimitChecks(
                occasions,
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
        return new LimitChecks(occasions.with(figures), measures, cores, emissions);
    }

    /**
     * Looks at another steady state too.
     *
     * @param where in words, for example "corner 9 V, 2 A"
     * @param steady the steady state, or why there is none
     * @return what limits are held against
     */
    public LimitChecks with(String where, Result<ConverterSteadyState> steady) {
        return new LimitChecks(occasions.with(where, steady), measures, cores, emissions);
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
        return new LimitChecks(occasions, measures, cores, worst);
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
        return new LimitChecks(occasions, all, cores, emissions);
    }

    /**
     * Says of which cores the flux density counts.
     *
     * @param given the cores
     * @return what limits are held against
     */
    public LimitChecks withCores(List<WoundCore> given) {
        return new LimitChecks(occasions, measures, List.copyOf(given), emissions);
    }

    /**
     * Holds everything against a limit.
     *
     * @param limit the limit
     * @param bound its value, in its unit
     * @return the worst value, and where it is
     */
    public LimitCheck check(Limit limit, double bound) {
        return Occasions.worst(found(limit), limit.isLeast())
                .map(worst -> new LimitCheck(limit, bound, worst.value(), worst.where()))
                .orElseGet(() -> new LimitCheck(limit, bound, Result.missing(nothing(limit)), ""));
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
                occasions
                        .obstacle(state -> limit == Limit.EFFICIENCY ? state.flatMap(measure(limit)) : state)
                        .orElse(notGiven(limit));
        };
    }

    private String nothingBends(String what) {
        return occasions.obstacle().orElse("no " + what);
    }

    private static String notGiven(Limit limit) {
        return switch (limit) {
            case JUNCTION_TEMPERATURE, WINDING_TEMPERATURE, CAPACITOR_TEMPERATURE, RIPPLE_CURRENT_SHARE ->
                "no thermal resistance is given for such a part";
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
            case HIGHEST_OUTPUT_VOLTAGE -> occasions.peaks(Converter::outputVoltage);
            case PEAK_INDUCTOR_CURRENT -> occasions.peaks(Converter::inductorCurrent);
            case TRANSISTOR_VOLTAGE -> occasions.peaks(Converter::transistorVoltage);
            case RECTIFIER_VOLTAGE -> occasions.peaks(Converter::rectifierVoltage);
            case INPUT_CAPACITOR_RMS -> occasions.settled(inputCapacitor("current"), Waveform::rms);
            case INPUT_CAPACITOR_RIPPLE -> occasions.settled(inputCapacitor("voltage"), Waveform::peakToPeak);
            case SOURCE_CURRENT_RIPPLE -> occasions.settled(Converter::sourceCurrent, Waveform::peakToPeak);
            case PEAK_SOURCE_CURRENT -> occasions.peaks(Converter::sourceCurrent);
            case INDUCTANCE_LEFT -> left(true);
            case CAPACITANCE_LEFT -> left(false);
            case EFFICIENCY, JUNCTION_TEMPERATURE, WINDING_TEMPERATURE, CAPACITOR_TEMPERATURE, RIPPLE_CURRENT_SHARE ->
                measured(limit);
            case FLUX_DENSITY -> cores.isEmpty() ? List.of() : occasions.everywhere(this::flux);
            case EMISSION_MARGIN ->
                emissions.exists()
                        ? List.of(Occasions.found(
                                Occasions.STEADY_STATE, emissions.get().margin()))
                        : List.of();
            case DROOP -> steps(false, StepFigures::droop);
            case OVERSHOOT -> steps(true, StepFigures::overshoot);
            case SETTLING_TIME -> changes(StepFigures::settlingTime);
            case START_TIME -> starts(StepFigures::settlingTime);
        };
    }

    /** Of one period once settled; where the output never comes to rest, of all that it does there in the end. */
    private List<Found> ripples() {
        return occasions.onceSettled(
                Figures.OUTPUT_RIPPLE::in, stretch -> inTheEnd(stretch).peakToPeak());
    }

    private static Function<Converter, Signal> inputCapacitor(String quantity) {
        String name = "input_capacitor_" + quantity;
        return converter -> java.util.Objects.requireNonNull(converter.further().get(name), name);
    }

    private Waveform inTheEnd(Stretch stretch) {
        return Stretch.restOf(occasions.run().magnitude(), stretch.from(), stretch.to());
    }

    private List<Found> lowest() {
        List<Found> all = occasions.inStates(steady -> TransientFigures.magnitude(
                        steady.converter(), steady.of(steady.converter().outputVoltage()))
                .minimum());
        for (Stretch stretch : occasions.stretches()) {
            if (stretch.from() > 0) {
                all.add(Occasions.found(
                        stretch.where(), stretch.of(occasions.run().magnitude()).minimum()));
            } else if (!stretch.settled().exists()) {
                all.add(Occasions.found(stretch.where(), inTheEnd(stretch).minimum()));
            }
        }
        return all;
    }

    private List<Double> flux(Converter converter, WaveformSource waveforms) {
        return cores.stream()
                .flatMap(core -> core.peaks(converter, waveforms::of).values().stream())
                .toList();
    }

    /** What is left of the part worst off among those that bend; nothing where none does. */
    private List<Found> left(boolean inductors) {
        return occasions.everywhere((converter, source) -> BentPart.of(converter, source).stream()
                .filter(part -> part.isInductor() == inductors)
                .map(BentPart::left)
                .toList());
    }

    /**
     * Once settled. Where a source delivers no power, or the load delivers it, there is no efficiency to be held against a limit; where
     * no temperature balances none is met.
     */
    private List<Found> measured(Limit limit) {
        List<Found> all = measures.containsKey(limit) ? occasions.measured(measure(limit)) : new ArrayList<>();
        all.removeIf(found -> limit == Limit.EFFICIENCY && !found.value().exists());
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
        occasions
                .anyRun()
                .ifPresent(run ->
                        run.start().ifExists(start -> all.add(new Found(start.where(), measure.apply(start)))));
        return all;
    }

    private List<Found> changes(Function<StepFigures, Result<Double>> measure) {
        List<Found> all = new ArrayList<>();
        occasions
                .anyRun()
                .ifPresent(run ->
                        run.changes().forEach(change -> all.add(new Found(change.where(), measure.apply(change)))));
        return all;
    }

    @Override
    public String toString() {
        return "limits held against " + occasions;
    }
}
