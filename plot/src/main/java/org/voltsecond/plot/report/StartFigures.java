package org.voltsecond.plot.report;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * What a regulated converter does from rest until the first change or the end. Magnitudes.
 *
 * @param level mean output in the steady state to which the start leads, V
 * @param overshoot how far the output rises above that level, ripple included, V; 0 if it does not
 * @param peakInductorCurrent highest inductor current, A
 * @param settlingTime time after which the output stays within the band around the level, s
 * @param settlingBand half the width of that band, as of {@link ChangeFigures}, V
 */
public record StartFigures(
        Result<Double> level,
        Result<Double> overshoot,
        double peakInductorCurrent,
        Result<Double> settlingTime,
        Result<Double> settlingBand) {
    static StartFigures of(Converter converter, ConverterTransient run, Waveform output, Waveform current) {
        double end = ChangeFigures.endOf(run, -1);
        Waveform window = output.between(0, end);
        Result<Waveform> settled = ChangeFigures.settled(converter);
        Result<Double> level = settled.map(waveform -> Math.abs(waveform.mean()));
        Result<Double> band = settled.map(ChangeFigures::band);
        return new StartFigures(
                level,
                level.map(window::overshootAbove),
                current.between(0, end).maximum(),
                ChangeFigures.settlingTime(window, level, band),
                band);
    }
}
