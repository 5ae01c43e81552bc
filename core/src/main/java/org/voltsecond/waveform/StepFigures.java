package org.voltsecond.waveform;

import java.util.OptionalDouble;

/**
 * How a regulated quantity goes through a step of load, line or reference. Overshoot and settling are the terms of
 * IEC 60469 (Transitions, pulses and related waveforms: terms, definitions and algorithms; quoted from memory), taken as
 * distances in the unit of the waveform since a load step has no transition of the output to be a fraction of. Droop and
 * recovery are the words of the trade.
 *
 * <pre>{@code
 * Waveform output = regulated.transientFromSteadyState(milli(2), Change.at(milli(0.5)).load(Load.resistor(5)))
 *         .of(regulated.outputVoltage());
 * StepFigures step = StepFigures.of(output, milli(0.5), milli(2), 5, 5, 0.05); // within 50 mV
 * double overshoot = step.overshoot(); // 587.1 mV
 * double settling = step.settlingTime().orElseThrow(); // 1.108 ms
 * }</pre>
 *
 * @param time when the step happens, s
 * @param levelBefore level before the step
 * @param levelAfter level that is aimed at after the step
 * @param droop how far the waveform falls below the lower of both levels, 0 or more
 * @param overshoot how far it rises above the higher of both levels, 0 or more
 * @param peakTime time from the step to the peak: the bottom of the droop or the top of the overshoot, whichever is larger;
 *     0 if there is neither, s
 * @param settlingTime time from the step until the waveform stays within the band around the level after it, s; empty if
 *     it ends outside
 * @param recoveryTime time from the peak until then, s; empty if it ends outside
 */
public record StepFigures(
        double time,
        double levelBefore,
        double levelAfter,
        double droop,
        double overshoot,
        double peakTime,
        OptionalDouble settlingTime,
        OptionalDouble recoveryTime) {

    /**
     * Measures a step.
     *
     * @param waveform the regulated quantity over a run
     * @param time when the step happens, s
     * @param end until when to look, such as the next step, s
     * @param levelBefore level before the step
     * @param levelAfter level that is aimed at after the step
     * @param band half the width of the band around the level after; more than 0
     * @return the figures
     * @throws IllegalArgumentException if the times are not within the waveform or the band is not more than 0
     */
    public static StepFigures of(
            Waveform waveform, double time, double end, double levelBefore, double levelAfter, double band) {
        if (!(band > 0) || !Double.isFinite(levelBefore) || !Double.isFinite(levelAfter)) {
            throw new IllegalArgumentException("step at " + time + " s: levels must be finite and the band more than 0 "
                    + waveform.unit().symbol() + " but they were " + levelBefore + ", " + levelAfter + " and " + band);
        }
        Waveform response = waveform.between(time, end);
        double droop = Math.max(0, Math.min(levelBefore, levelAfter) - response.minimum());
        double overshoot = Math.max(0, response.maximum() - Math.max(levelBefore, levelAfter));
        double peak = 0;
        if (droop > 0 || overshoot > 0) {
            peak = (droop >= overshoot ? response.timeOfMinimum() : response.timeOfMaximum()) - time;
        }
        OptionalDouble settling = response.settlingTime(levelAfter, band);
        OptionalDouble recovery =
                settling.isEmpty() ? settling : OptionalDouble.of(Math.max(0, settling.getAsDouble() - peak));
        return new StepFigures(time, levelBefore, levelAfter, droop, overshoot, peak, settling, recovery);
    }
}
