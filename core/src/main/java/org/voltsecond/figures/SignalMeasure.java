package org.voltsecond.figures;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What is told of every signal. */
enum SignalMeasure {
    MEAN("mean"),
    RMS("RMS"),
    MINIMUM("minimum"),
    MAXIMUM("maximum"),
    PEAK_TO_PEAK("peak to peak");

    private final String words;

    SignalMeasure(String words) {
        this.words = words;
    }

    private double of(Waveform waveform) {
        return switch (this) {
            case MEAN -> waveform.mean();
            case RMS -> waveform.rms();
            case MINIMUM -> waveform.minimum();
            case MAXIMUM -> waveform.maximum();
            case PEAK_TO_PEAK -> waveform.peakToPeak();
        };
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
            Waveform found = waveform.apply(subject);
            return Result.finite(Told.number(of(found), found), "the " + found.name() + " is not finite");
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
