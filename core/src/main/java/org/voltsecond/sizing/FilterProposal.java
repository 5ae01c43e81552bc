package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState.Stability;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.StageWiring;
import org.voltsecond.units.PreferredSeries;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * A filter between supply and converter with which the emissions keep to their limits: a capacitor on the side of the supply, an
 * inductor, a capacitor like the first with a damping branch beside it, all in preferred values, checked by simulation. Levels are those with the filter in its place, and the converter is stable with it, at the
 * artificial network and at the bare supply. Its parts are ideal: what an inductor's winding capacitance and a capacitor's leads leave of it at
 * high frequencies is not in it. Immutable.
 *
 * <p>The size of the parts goes by the levels, the ratio of inductance to capacitance by the converter: with the damping of
 * {@link InputDamping#optimalResistance} the peak of the filter's impedance stays below a third of what the converter takes as a resistance at
 * first, and lower where that is not enough.
 *
 * <pre>{@code
 * Converter buffered = rail.withAcrossInput("CI", micro(10), milli(5));
 * Emissions bare = EmissionEstimate.of(buffered).limits(EmissionLimits.CLASS_B).measure();
 * FilterProposal proposed = FilterProposal.of(bare).get();
 * double before = bare.worst().get().margin(); // -37.31, in dB
 * boolean enough = proposed.emissions().worst().get().margin() >= FilterProposal.RESERVE; // true
 * }</pre>
 *
 * @param filter the parts, in preferred values
 * @param emissions with the filter
 * @param steady the steady state with the filter at the bare supply
 * @param interaction how the impedances of filter and converter stand to each other; empty where that is not known
 */
public record FilterProposal(
        InputFilter filter, Emissions emissions, ConverterSteadyState steady, Optional<SourceInteraction> interaction) {
    /** What is kept in reserve for all that the estimate leaves out, dB. Common practice, no source. */
    public static final double RESERVE = 6;

    /** The damping branch has so many times the capacitance: the peak is then 0.87 of the filter's own impedance. Common practice. */
    private static final double BRANCH = 4;

    /** How far below the converter's input resistance the impedance of the filter is at first; then always half of that. A choice. */
    private static final double FIRST_SHARE = 1 / 3.0;

    private static final int MOST_IMPEDANCES = 4;

    /** The impedance of the filter where the converter takes next to nothing, ohm. A choice: larger ones ask for odd parts. */
    private static final double HIGHEST_IMPEDANCE = 3;

    private static final int MOST_STEPS = 6;

    /** In a decade about the resonance; between them the closest is searched for. A choice. */
    private static final int POINTS = 10;

    /** Parts beyond are not proposed, H and F. A choice. */
    private static final double MOST_HENRY = 4.7e-3;

    private static final double MOST_FARAD = 4.7e-3;

    /**
     * Proposes a filter.
     *
     * @param found the emissions without it, with limits
     * @return the filter, or why there is none
     */
    public static Result<FilterProposal> of(Emissions found) {
        EmissionLimits limits = found.test().limits();
        if (limits == null || !found.worst().exists()) {
            return Result.missing(found.worst().reason());
        }
        if (margin(found) >= RESERVE) {
            return Result.missing(String.format(
                    java.util.Locale.ROOT, "none is needed: the limits are met with %.1f dB to spare", margin(found)));
        }
        for (int k = 1; k <= found.size(); k++) {
            OptionalDouble common = found.commonMode(k);
            OptionalDouble limit = limits.average(found.frequency(k));
            if (common.isPresent() && limit.isPresent() && common.getAsDouble() > limit.getAsDouble() - RESERVE) {
                return Result.missing(String.format(
                        java.util.Locale.ROOT,
                        "the common mode alone, %.1f dBµV at %s, leaves less than %.0f dB to the limit: use a common-mode choke, or "
                                + "less capacitance to earth; an inductor in one line does not help",
                        common.getAsDouble(),
                        Quantity.brief(found.frequency(k), Unit.HERTZ),
                        RESERVE));
            }
        }
        return new Search(found).best();
    }

    /** The least of all margins, dB. */
    private static double margin(Emissions found) {
        double least = found.worst().get().margin();
        least = Math.min(least, found.worstPeak().map(Worst::margin).orElse(least));
        Result<Worst> minusLine = found.worstElsewhere().get(Emissions.MINUS_LINE);
        return minusLine == null
                ? least
                : Math.min(least, minusLine.map(Worst::margin).orElse(least));
    }

    /**
     * Puts a filter between the source and what it feeds: its inductor in the plus line, capacitors before and behind it.
     *
     * @param converter the converter
     * @param filter the filter; with a capacitance of its own
     * @return the converter with the filter
     * @throws InvalidStageException if a value is out of its range
     */
    public static Converter in(Converter converter, InputFilter filter) {
        List<String> faults = filter.faults();
        if (!faults.isEmpty()) {
            throw new InvalidStageException("input filter", faults);
        }
        Port source =
                converter.circuit().part(converter.roles().source()).ports().get(0);
        String plus = source.plus();
        String minus = source.minus();
        Set<String> taken = new TreeSet<>(converter.circuit().nodes());
        converter.circuit().parts().forEach(part -> taken.add(part.name()));
        String line = free("line", taken);
        String coil = free(InputFilter.INDUCTOR, taken);
        List<Part> parts = new ArrayList<>();
        parts.add(new Part.Inductor(coil, line, plus, filter.inductance(), filter.resistance(), 0));
        parts.add(capacitor(InputFilter.CAPACITOR, taken, plus, minus, filter.capacitance(), 0));
        if (filter.lineCapacitance() > 0) {
            parts.add(capacitor(InputFilter.LINE_CAPACITOR, taken, line, minus, filter.lineCapacitance(), 0));
        }
        InputFilter.Damping damping = filter.damping();
        if (damping != null) {
            parts.add(capacitor(StageWiring.DAMPING, taken, plus, minus, damping.capacitance(), damping.resistance()));
        }
        return converter.fedThrough(line, minus, "input filter", parts);
    }

    private static Part capacitor(String name, Set<String> taken, String plus, String minus, double farad, double ohm) {
        return new Part.Capacitor(free(name, taken), plus, minus, farad, ohm, 0);
    }

    private static String free(String name, Set<String> taken) {
        int number = 1;
        String free = name;
        while (!taken.add(free)) {
            number++;
            free = name + number;
        }
        return free;
    }

    /** Goes from lower to lower impedances, and with each to the smallest parts that are enough. */
    private static final class Search {
        /** A filter that was looked at. */
        private record Tried(InputFilter filter, Emissions emissions) {}

        private final Emissions bare;
        private final Converter converter;
        /** What the converter takes as at first, ohm. */
        private final double resistance;
        /** What lies across the input already, F: it rings with the inductor too. */
        private final double atStage;

        private String reason = "";

        Search(Emissions bare) {
            this.bare = bare;
            converter = bare.test().converter();
            double power = bare.steady().inputPower();
            double volts = converter.inputVoltage();
            atStage = converter.roles().inputCapacitors().stream()
                    .map(converter.circuit()::part)
                    .mapToDouble(part -> part instanceof Part.Capacitor capacitor ? capacitor.capacitance() : 0)
                    .sum();
            resistance = power > 0 ? volts * volts / power : Double.POSITIVE_INFINITY;
        }

        Result<FilterProposal> best() {
            double impedance = Math.min(HIGHEST_IMPEDANCE, FIRST_SHARE * resistance);
            for (int i = 0; i < MOST_IMPEDANCES; i++) {
                Optional<FilterProposal> found = smallest(impedance);
                if (found.isPresent()) {
                    return Result.of(found.get());
                }
                impedance /= 2;
            }
            return Result.missing("none is found: " + reason);
        }

        /** Level goes with the third power of the capacitance, as inductor and both capacitors grow together. */
        private Optional<FilterProposal> smallest(double impedance) {
            double farad = firstCapacitance(impedance);
            Set<String> tried = new TreeSet<>();
            Tried best = null;
            for (int i = 0; i < MOST_STEPS; i++) {
                double standard = PreferredSeries.E6.atLeast(farad);
                InputFilter filter = filter(PreferredSeries.E6.atLeast(impedance * impedance * standard), standard);
                if (filter.inductance() > MOST_HENRY || BRANCH * (standard + atStage) > MOST_FARAD) {
                    reason = "no filter of an inductor of up to " + Quantity.brief(MOST_HENRY, Unit.HENRY)
                            + " and capacitors of up to " + Quantity.brief(MOST_FARAD, Unit.FARAD)
                            + " is enough; a capacitor close to the stage relieves the filter";
                    break;
                }
                Tried here = tried.add(filter.toString()) ? tried(filter) : null;
                if (here == null) {
                    break;
                }
                double spare = spare(here);
                best = spare >= 0 ? here : best;
                farad = standard * Math.pow(10, -spare / 60);
            }
            return Optional.ofNullable(best).map(this::withLessInductance).flatMap(this::checked);
        }

        private Tried withLessInductance(Tried found) {
            Tried best = found;
            for (double henry = below(found.filter().inductance()); ; henry = below(henry)) {
                Tried here = tried(filter(henry, found.filter().capacitance()));
                if (here == null || spare(here) < 0) {
                    return best;
                }
                best = here;
            }
        }

        private static double below(double value) {
            return PreferredSeries.E6.atMost(value / 1.1);
        }

        private static double spare(Tried found) {
            return margin(found.emissions()) - RESERVE;
        }

        /** As if the stage drew its pulses from the capacitor, and the rest went to the network through the inductor and past the other. */
        private double firstCapacitance(double impedance) {
            EmissionLimits limits = Objects.requireNonNull(bare.test().limits());
            double most = 0;
            for (int k = 1; k <= bare.size(); k++) {
                OptionalDouble limit = limits.average(bare.frequency(k));
                if (limit.isPresent() && bare.frequency(k) >= Emissions.LOWEST * (1 - 1e-9)) {
                    double over = Math.pow(10, (bare.level(k) - limit.getAsDouble() + RESERVE) / 20);
                    double omega = 2 * Math.PI * bare.frequency(k);
                    double ohm =
                            bare.test().network().impedance(bare.frequency(k)).magnitude();
                    most = Math.max(most, over / (omega * omega * omega * impedance * impedance * ohm));
                }
            }
            return Math.cbrt(most);
        }

        private InputFilter filter(double henry, double farad) {
            double branch = PreferredSeries.E6.atLeast(BRANCH * (farad + atStage));
            double ohm = PreferredSeries.E24.nearest(InputDamping.optimalResistance(henry, farad + atStage, branch));
            return InputFilter.of(henry, farad).withDamping(ohm, branch).withLineCapacitance(farad);
        }

        /** Null where the steady state at the network does not last with it. */
        private @Nullable Tried tried(InputFilter filter) {
            try {
                Emissions emissions = bare.test().with(in(converter, filter)).measure();
                return lasts(filter, emissions.steady()) ? new Tried(filter, emissions) : null;
            } catch (NoSteadyStateException e) {
                reason = "with " + words(filter) + " there is no steady state: " + e.getMessage();
                return null;
            }
        }

        private boolean lasts(InputFilter filter, ConverterSteadyState steady) {
            boolean lasts = steady.periodic().stability() != Stability.UNSTABLE;
            reason = lasts ? reason : "with " + words(filter) + " the steady state does not last";
            return lasts;
        }

        /** At the bare supply, with the impedances about the resonance, where they come closest; empty where they come too close. */
        private Optional<FilterProposal> checked(Tried found) {
            InputFilter filter = found.filter();
            try {
                ConverterSteadyState steady = in(converter, filter).steadyState();
                if (!lasts(filter, steady)) {
                    return Optional.empty();
                }
                Optional<SourceInteraction> impedances = impedances(filter, steady);
                Optional<SourceInteraction.Separation> closed =
                        impedances.flatMap(SourceInteraction::closedLoopSeparation);
                if (closed.isPresent() && !closed.get().isMet()) {
                    reason = "with " + words(filter) + " the impedances at the input come too close: "
                            + closed.get().verdict();
                    return Optional.empty();
                }
                return Optional.of(new FilterProposal(filter, found.emissions(), steady, impedances));
            } catch (NoSteadyStateException e) {
                reason = "with " + words(filter) + " there is no steady state: " + e.getMessage();
                return Optional.empty();
            }
        }

        private Optional<SourceInteraction> impedances(InputFilter filter, ConverterSteadyState steady) {
            if (!converter.isRegulated()) {
                return Optional.empty();
            }
            double resonance = 1 / (2 * Math.PI * Math.sqrt(filter.inductance() * (filter.capacitance() + atStage)));
            try {
                Result<SourceInteraction> found =
                        SourceInteraction.of(steady, FrequencyResponse.decades(resonance / 10, 3 * resonance, POINTS));
                return found.exists() ? Optional.of(found.get()) : Optional.empty();
            } catch (IllegalStateException e) {
                return Optional.empty(); // of a period that closes in another phase there is no response
            }
        }
    }

    private static String words(InputFilter filter) {
        InputFilter.Damping damping = Objects.requireNonNull(filter.damping());
        return Quantity.brief(filter.lineCapacitance(), Unit.FARAD) + " across the lines, "
                + Quantity.brief(filter.inductance(), Unit.HENRY) + " in the plus line, then "
                + Quantity.brief(filter.capacitance(), Unit.FARAD) + " beside "
                + Quantity.brief(damping.capacitance(), Unit.FARAD) + " in series with "
                + Quantity.brief(damping.resistance(), Unit.OHM) + " across the lines";
    }

    @Override
    public String toString() {
        return words(filter);
    }
}
