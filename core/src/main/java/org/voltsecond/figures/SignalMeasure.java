package org.voltsecond.figures;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What is told of every signal. */
enum SignalMeasure {
    MEAN("mean", Waveform::mean),
    RMS("RMS", Waveform::rms),
    MINIMUM("minimum", Waveform::minimum),
    MAXIMUM("maximum", Waveform::maximum),
    PEAK_TO_PEAK("peak to peak", Waveform::peakToPeak);

    private final String words;
    private final ToDoubleFunction<Waveform> measure;

    SignalMeasure(String words, ToDoubleFunction<Waveform> measure) {
        this.words = words;
        this.measure = measure;
    }

    static String of(Measure measure) {
        return valueOf(measure.name()).key();
    }

    private String key() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** All measures of a signal of a subject. */
    static <S> List<Figure<S>> of(String signal, Unit unit, Function<S, Waveform> waveform) {
        return Arrays.stream(values())
                .map(each -> each.figure(signal, unit, waveform))
                .toList();
    }

    private <S> Figure<S> figure(String signal, Unit unit, Function<S, Waveform> waveform) {
        return Figure.of("signals/" + signal + "/" + key(), signal.replace('_', ' ') + " " + words, unit, subject -> {
            Waveform of = waveform.apply(subject);
            return Result.finite(
                    Told.number(measure.applyAsDouble(of), of), "the " + of.name() + " is not finite");
        });
    }

    static List<Figure<ConverterSteadyState>> steadyState(String signal) {
        Unit unit = signal.endsWith("current") ? Unit.AMPERE : Unit.VOLT;
        return of(
                signal,
                unit,
                steady -> steady.of(Objects.requireNonNull(
                        NamedSignals.of(steady.converter()).get(signal), signal)));
    }
}
