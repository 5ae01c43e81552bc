package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** What is told of every signal. */
enum SignalMeasure {
    MEAN("mean"),
    RMS("RMS"),
    AC_RMS("RMS without the mean"),
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
            case AC_RMS -> waveform.acRms();
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
        return at("signals/" + signal, NamedSignals.words(signal), unit, waveform);
    }

    /** All measures of a waveform at a place of its own. */
    static <S> List<Figure<S>> at(String path, String called, Unit unit, Function<S, Waveform> waveform) {
        return Arrays.stream(values())
                .map(each -> each.figure(path, called, unit, waveform))
                .toList();
    }

    private <S> Figure<S> figure(String path, String called, Unit unit, Function<S, Waveform> waveform) {
        return Figure.of(path + "/" + key(), called + " " + words, unit, subject -> {
            Waveform found = waveform.apply(subject);
            return Result.finite(Told.number(of(found), found), "the " + found.name() + " is not finite");
        });
    }

    /** All measures of every part, of every node, and of the output. */
    static List<Figure<ConverterSteadyState>> circuit(Converter converter) {
        List<Figure<ConverterSteadyState>> all = new ArrayList<>();
        DrivenCircuit driven = converter.driven();
        for (Part part : converter.circuit().parts()) {
            for (Port port : part.ports()) {
                String name = port.name();
                Signal current = driven.current(name);
                Signal voltage = driven.voltageAcross(name);
                all.addAll(
                        at("parts/" + name + "/current", name + " current", Unit.AMPERE, steady -> steady.of(current)));
                all.addAll(
                        at("parts/" + name + "/voltage", name + " voltage", Unit.VOLT, steady -> steady.of(voltage)));
            }
            String name = part.name();
            all.add(Figure.of("parts/" + name + "/loss", "loss of " + name, Unit.WATT, steady -> loss(steady, name)));
        }
        for (String node : converter.circuit().nodes()) {
            Signal voltage = driven.nodeVoltage(node);
            all.addAll(at("nodes/" + node, "node " + node, Unit.VOLT, steady -> steady.of(voltage)));
        }
        Signal output = converter.outputVoltage();
        all.addAll(at("output", "output", Unit.VOLT, steady -> steady.of(output)));
        return all;
    }

    private static Result<Double> loss(ConverterSteadyState steady, String part) {
        Double loss = steady.lossesByPart().get(part);
        return loss == null
                ? Result.missing("it turns no power into heat")
                : Result.of(Told.number(loss, steady.inputPower()));
    }

    static List<Figure<ConverterSteadyState>> steadyState(String signal) {
        Unit unit = signal.contains("current") ? Unit.AMPERE : Unit.VOLT;
        return of(
                signal,
                unit,
                steady -> steady.of(Objects.requireNonNull(
                        NamedSignals.of(steady.converter()).get(signal), signal)));
    }
}
