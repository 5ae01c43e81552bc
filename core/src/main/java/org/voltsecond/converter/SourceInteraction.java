package org.voltsecond.converter;

import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Perturbation;
import org.voltsecond.analysis.SmallSignal;
import org.voltsecond.circuit.Part;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.RootSearch;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * How the impedance of what lies between source and stage, such as an input filter, stands to the input impedance of the converter. A
 * regulated converter takes constant power, so that its input is a negative resistance at low frequencies, which takes damping
 * away from the filter; and a filter changes the gain of the loop. Both stay small where the filter's output impedance is far below
 * the input impedance, with the loop closed and with it open (R. D. Middlebrook, Input filter considerations in design and
 * application of switching regulators, IEEE IAS Annual Meeting, 1976, from memory).
 *
 * <p>The input impedance is that of the switching model in its place, side bands that the filter ends included: so the ratio of the two
 * impedances is the gain of a loop of which the multipliers of the steady state are those of the closed one. Immutable.
 *
 * <pre>{@code
 * Converter filtered = rail.withAcrossInput("CI", micro(10), milli(5)); // nothing lies before it: no interaction
 * boolean interacts = SourceInteraction.of(filtered.steadyState(), 1000).exists(); // false
 * }</pre>
 */
public final class SourceInteraction {
    /** The least separation that counts as one, dB: a factor of two. Common practice, no source. */
    public static final double LEAST_SEPARATION = 6;

    private static final double ACCURACY = 1e-9;

    private final List<Part> parts;
    private final FrequencyResponse source;
    private final FrequencyResponse openLoop;
    private final @Nullable FrequencyResponse closedLoop;

    private SourceInteraction(
            List<Part> parts,
            FrequencyResponse source,
            FrequencyResponse openLoop,
            @Nullable FrequencyResponse closedLoop) {
        this.parts = List.copyOf(parts);
        this.source = source;
        this.openLoop = openLoop;
        this.closedLoop = closedLoop;
    }

    /**
     * Works out the impedances at the input of the stage.
     *
     * @param steady the steady state
     * @param frequencies Hz, ascending, all more than 0
     * @return both sides, or why there are none
     * @throws IllegalArgumentException if the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public static Result<SourceInteraction> of(ConverterSteadyState steady, double... frequencies) {
        Converter converter = steady.converter();
        Optional<String> node = converter.roles().stageInput();
        if (node.isEmpty()) {
            return Result.missing("nothing lies between source and stage");
        }
        return SourceImpedanceCurve.of(converter, node.get(), frequencies).flatMap(source -> {
            if (IntStream.range(0, source.size()).allMatch(i -> source.magnitude(i) == 0)) {
                return Result.missing("nothing lies between source and stage");
            }
            SmallSignal small = steady.smallSignal().ofCircuit();
            Perturbation line = Perturbation.source(converter.roles().source());
            Signal voltage = converter.driven().nodeVoltage(node.get());
            Signal current = converter.inputCurrent();
            List<Part> parts = SourceImpedanceCurve.parts(converter, node.get());
            if (!converter.isRegulated()) {
                return Result.of(new SourceInteraction(
                        parts, source, input(small.ratio(line, voltage, current, frequencies), false), null));
            }
            return Result.of(new SourceInteraction(
                    parts,
                    source,
                    input(small.ratioAtHeldControl(line, voltage, current, frequencies), false),
                    input(small.ratio(line, voltage, current, frequencies), true)));
        });
    }

    private static FrequencyResponse input(FrequencyResponse ratio, boolean closed) {
        return ratio.named("input impedance" + (closed ? ", loop closed" : ", loop open"))
                .withFirstPhaseAbove(-180);
    }

    /** {@return what lies between source and stage} */
    public List<Part> parts() {
        return parts;
    }

    /** {@return the output impedance of what lies before the stage, Ω} */
    public FrequencyResponse sourceImpedance() {
        return source;
    }

    /** {@return the input impedance at a fixed duty cycle, or at a fixed control voltage of a regulator, Ω} */
    public FrequencyResponse openLoop() {
        return openLoop;
    }

    /** {@return the input impedance with the loop of a regulator closed, Ω; empty where the duty cycle is fixed} */
    public Optional<FrequencyResponse> closedLoop() {
        return Optional.ofNullable(closedLoop);
    }

    /** {@return how far the source's impedance stays below {@link #openLoop}} */
    public Separation openLoopSeparation() {
        return below(openLoop);
    }

    /** {@return how far the source's impedance stays below {@link #closedLoop}, where there is one} */
    public Optional<Separation> closedLoopSeparation() {
        return closedLoop().map(this::below);
    }

    /** {@return whether each separation is at least {@link #LEAST_SEPARATION}} */
    public boolean isMet() {
        return openLoopSeparation().isMet()
                && closedLoopSeparation().map(Separation::isMet).orElse(true);
    }

    /** The largest ratio: each of the highest of a neighbourhood is searched for, since a weakly damped resonance is narrow. */
    private Separation below(FrequencyResponse input) {
        double most = Double.NEGATIVE_INFINITY;
        double at = Double.NaN;
        for (int i = 0; i < input.size(); i++) {
            double here = ratio(input, i);
            if (here < (i == 0 ? 0 : ratio(input, i - 1)) || here < (i == input.size() - 1 ? 0 : ratio(input, i + 1))) {
                continue;
            }
            double low = Math.log(input.frequency(Math.max(0, i - 1)));
            double high = Math.log(input.frequency(Math.min(input.size() - 1, i + 1)));
            RootSearch.Top top = high > low
                    ? RootSearch.highest(logarithm -> ratio(input, Math.exp(logarithm)), low, high, ACCURACY)
                    : new RootSearch.Top(low, here);
            boolean within = here >= top.value();
            if (Math.max(here, top.value()) > most) {
                most = Math.max(here, top.value());
                at = within ? input.frequency(i) : Math.exp(top.at());
            }
        }
        return new Separation(-20 * Math.log10(most), at);
    }

    private double ratio(FrequencyResponse input, int index) {
        return source.magnitude(index) / input.magnitude(index);
    }

    private double ratio(FrequencyResponse input, double frequency) {
        Complex ratio = source.at(frequency).divide(input.at(frequency));
        return ratio.magnitude();
    }

    /**
     * How far one impedance stays below another.
     *
     * @param decibels the least ratio of input impedance to output impedance of the source, dB; negative where they cross
     * @param frequency where that is, Hz
     */
    public record Separation(double decibels, double frequency) {
        /** {@return in words, whether it is met and by how much} */
        public String verdict() {
            String number = Quantity.format(Math.abs(decibels), Unit.ONE, 3) + " dB at "
                    + Quantity.format(frequency, Unit.HERTZ, 4);
            if (decibels < 0) {
                return "not met: the impedance of the source is above that of the converter by " + number;
            }
            return (isMet() ? "met: " : "not met: ")
                    + "the impedance of the source stays below that of the converter by " + number;
        }

        /** {@return whether it is {@link SourceInteraction#LEAST_SEPARATION} at least} */
        public boolean isMet() {
            return decibels >= LEAST_SEPARATION;
        }
    }

    @Override
    public String toString() {
        return "impedances of source and converter at " + source.size() + " frequencies";
    }
}
