package org.voltsecond.plot.report;

import java.util.OptionalDouble;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * What a change does to the output voltage until the next change or the end. Magnitudes: of a negative output a droop is
 * a move towards zero.
 *
 * @param time when the change happens, s
 * @param levelBefore mean output over the period before the change, without a clock over the last whole
 *     one; at the start of the run the value there, V
 * @param levelAfter mean output in the steady state to which the change leads, V
 * @param droop how far the output falls below the level before, ripple included, V; 0 if it does not
 * @param overshoot how far the output rises above the level before, ripple included, V; 0 if it does not
 * @param peakTime time after the change at which the output is farthest from the level before, s
 * @param peakInductorCurrent highest inductor current, A
 * @param settlingTime time after which the output stays within the band around the level after, s
 * @param recoveryTime time from the peak until then, s
 * @param settlingBand half the width of that band: 2 % of the level after, widened by the ripple in that steady state, V
 * @param dutyCycle duty cycles of the whole switching cycles from the change on
 */
public record ChangeFigures(
        double time,
        double levelBefore,
        Result<Double> levelAfter,
        double droop,
        double overshoot,
        double peakTime,
        double peakInductorCurrent,
        Result<Double> settlingTime,
        Result<Double> recoveryTime,
        Result<Double> settlingBand,
        Result<DutyFigures> dutyCycle) {
    private static final double BAND = 0.02;

    /**
     * Works out the figures of one change.
     *
     * @param run the run
     * @param cycles the switching cycles of the run
     * @param output the magnitude of the output voltage over the run
     * @param current the inductor current over the run
     * @param index which change, from 0
     */
    static ChangeFigures of(ConverterTransient run, Cycles cycles, Waveform output, Waveform current, int index) {
        Change change = run.changes().get(index);
        double end = endOf(run, index);
        Waveform window = output.between(change.time(), end);
        double before = levelBefore(run.after(0), cycles, output, change.time());
        Converter after = run.after(index + 1);
        Result<Waveform> settled = settled(after);
        Result<Double> level = settled.map(waveform -> Math.abs(waveform.mean()));
        Result<Double> band = settled.map(ChangeFigures::band);
        double peakTime = timeOfPeak(window, before) - change.time();
        Result<Double> settling = settlingTime(window, level, band);
        return new ChangeFigures(
                change.time(),
                before,
                level,
                window.droopBelow(before),
                window.overshootAbove(before),
                peakTime,
                current.between(change.time(), end).maximum(),
                settling,
                settling.map(time -> Math.max(0, time - peakTime)),
                band,
                cycles.between(change.time(), end));
    }

    /** When the effect of a change is looked at no longer: at the next one, or at the end. */
    static double endOf(ConverterTransient run, int index) {
        return index + 1 < run.changes().size() ? run.changes().get(index + 1).time() : run.finalTime();
    }

    private static double timeOfPeak(Waveform window, double before) {
        return window.overshootAbove(before) > window.droopBelow(before)
                ? window.timeOfMaximum()
                : window.timeOfMinimum();
    }

    static double band(Waveform settled) {
        double mean = settled.mean();
        return BAND * Math.abs(mean) + Math.max(settled.maximum() - mean, mean - settled.minimum());
    }

    private static double levelBefore(Converter converter, Cycles cycles, Waveform output, double time) {
        if (!(time > output.startTime())) {
            return output.at(time);
        }
        if (!converter.driven().isClocked()) {
            return cycles.meanOfLastCycle(output, time);
        }
        double period = converter.driven().clockPeriod();
        return output.between(Math.max(output.startTime(), time - period), time).mean();
    }

    static Result<Waveform> settled(Converter after) {
        try {
            return Result.of(after.steadyState().of(after.outputVoltage()));
        } catch (NoSteadyStateException e) {
            return Result.missing("no steady state after the change: " + e.getMessage());
        }
    }

    static Result<Double> settlingTime(Waveform window, Result<Double> level, Result<Double> band) {
        if (!level.exists()) {
            return level;
        }
        if (!(band.get() > 0)) {
            return Result.missing("the output settles to 0 V, of which no part can be a band");
        }
        OptionalDouble time = window.settlingTime(level.get(), band.get());
        return time.isPresent()
                ? Result.of(time.getAsDouble())
                : Result.missing("the output has not settled before the next change or the end");
    }
}
