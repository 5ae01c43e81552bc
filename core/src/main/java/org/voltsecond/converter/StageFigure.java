package org.voltsecond.converter;

import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Sensitivity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * A figure that every power stage has: a measure of a signal, a time, the duty cycle, or the efficiency. Immutable.
 *
 * <pre>{@code
 * StageFigure ripple = StageFigure.of(StageFigure.Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
 * double volt = ripple.in(steady); // 4.403 mV
 * }</pre>
 *
 * @param measure what is measured
 * @param signal on what; null for times and the efficiency, which need none
 */
public record StageFigure(Measure measure, @Nullable StageSignal signal) implements Figure {

    /** What can be measured. */
    public enum Measure {
        /** Mean over a period. */
        MEAN("mean", true),
        /** Root of the mean square over a period. */
        RMS("RMS", true),
        /** Largest value. */
        MAXIMUM("maximum", true),
        /** Smallest value. */
        MINIMUM("minimum", true),
        /** Largest less smallest value: the ripple. */
        PEAK_TO_PEAK("peak to peak", true),
        /** Time in which the transistor conducts, s. */
        ON_TIME("on time", false),
        /** Time in which the rectifier conducts, s. */
        OFF_TIME("off time", false),
        /** Time in which neither conducts, s. */
        IDLE_TIME("idle time", false),
        /** The part of the period in which the transistor conducts, 0 to 1. */
        DUTY_CYCLE("duty cycle", false),
        /** Output power for each unit of input power. */
        EFFICIENCY("efficiency", false);

        private final String words;
        private final boolean needsSignal;

        Measure(String words, boolean needsSignal) {
            this.words = words;
            this.needsSignal = needsSignal;
        }

        /**
         * Tells whether this measure is one of a signal.
         *
         * @return false for times and the efficiency
         */
        public boolean needsSignal() {
            return needsSignal;
        }
    }

    /**
     * Checks that a measure of a signal has one, and that others have none.
     *
     * @param measure what is measured
     * @param signal on what; null for times and the efficiency
     * @throws IllegalArgumentException if the two do not fit together
     */
    public StageFigure {
        if (measure.needsSignal() != (signal != null)) {
            throw new IllegalArgumentException("a figure of " + measure.words + " must have "
                    + (measure.needsSignal() ? "a signal" : "no signal") + " but had " + signal);
        }
    }

    /**
     * Returns the figures that a designer looks at first: output voltage and its ripple, inductor ripple, peak and RMS
     * current, and the efficiency.
     *
     * @return the figures
     */
    public static List<StageFigure> usual() {
        return List.of(
                outputVoltage(),
                outputRipple(),
                inductorRipple(),
                inductorPeak(),
                of(Measure.RMS, StageSignal.INDUCTOR_CURRENT),
                efficiency());
    }

    /**
     * Returns the mean output voltage.
     *
     * @return the figure, V; negative of an inverting stage
     */
    public static StageFigure outputVoltage() {
        return of(Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
    }

    /**
     * Returns the ripple of the output voltage.
     *
     * @return the figure, V peak to peak
     */
    public static StageFigure outputRipple() {
        return of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
    }

    /**
     * Returns the ripple of the inductor current.
     *
     * @return the figure, A peak to peak
     */
    public static StageFigure inductorRipple() {
        return of(Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT);
    }

    /**
     * Returns the largest inductor current.
     *
     * @return the figure, A
     */
    public static StageFigure inductorPeak() {
        return of(Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT);
    }

    /**
     * Returns the duty cycle, which a regulator sets.
     *
     * @return the figure, from 0 to 1
     */
    public static StageFigure dutyCycle() {
        return of(Measure.DUTY_CYCLE);
    }

    /**
     * Returns the efficiency.
     *
     * @return the figure, from 0 to 1; not a number where the source delivers nothing
     */
    public static StageFigure efficiency() {
        return of(Measure.EFFICIENCY);
    }

    /**
     * Returns a measure of a signal.
     *
     * @param measure mean, RMS, maximum, minimum or peak to peak
     * @param signal the signal
     * @return the figure
     */
    public static StageFigure of(Measure measure, StageSignal signal) {
        return new StageFigure(measure, signal);
    }

    /**
     * Returns a figure of the stage as a whole.
     *
     * @param measure a time or the efficiency
     * @return the figure
     */
    public static StageFigure of(Measure measure) {
        return new StageFigure(measure, null);
    }

    @Override
    public double in(ConverterSteadyState steady) {
        return switch (measure) {
            case MEAN -> waveform(steady).mean();
            case RMS -> waveform(steady).rms();
            case MAXIMUM -> waveform(steady).maximum();
            case MINIMUM -> waveform(steady).minimum();
            case PEAK_TO_PEAK -> waveform(steady).peakToPeak();
            case ON_TIME -> steady.onTime();
            case OFF_TIME -> steady.offTime();
            case IDLE_TIME -> steady.idleTime();
            case DUTY_CYCLE -> steady.dutyCycle();
            case EFFICIENCY -> steady.efficiency().orElse(Double.NaN);
        };
    }

    private Waveform waveform(ConverterSteadyState steady) {
        return steady.of(signal(steady.converter()));
    }

    private Signal signal(Converter converter) {
        return Objects.requireNonNull(signal).of(converter);
    }

    /** The derivative of this figure by the parameter of a sensitivity. */
    double derivative(ConverterSteadyState steady, Sensitivity sensitivity) {
        Converter converter = steady.converter();
        return switch (measure) {
            case MEAN -> sensitivity.mean(signal(converter));
            case RMS -> sensitivity.rms(signal(converter));
            case MAXIMUM -> sensitivity.maximum(signal(converter));
            case MINIMUM -> sensitivity.minimum(signal(converter));
            case PEAK_TO_PEAK -> sensitivity.peakToPeak(signal(converter));
            case ON_TIME -> sensitivity.timeIn(steady::isOn);
            case OFF_TIME -> sensitivity.timeIn(steady::isOff);
            case IDLE_TIME -> sensitivity.timeIn(steady::isIdle);
            case DUTY_CYCLE ->
                (sensitivity.timeIn(steady::isOn) - steady.dutyCycle() * sensitivity.period()) / steady.period();
            case EFFICIENCY -> efficiency(steady, sensitivity);
        };
    }

    private static double efficiency(ConverterSteadyState steady, Sensitivity sensitivity) {
        Converter converter = steady.converter();
        double input = steady.inputPower();
        double output = sensitivity.meanProduct(converter.outputVoltage(), converter.loadCurrent());
        double taken =
                sensitivity.meanProduct(converter.driven().nodeVoltage(StageCircuit.INPUT), converter.inputCurrent());
        return steady.efficiency().isEmpty() ? Double.NaN : (output - steady.outputPower() / input * taken) / input;
    }

    @Override
    public String name() {
        return signal == null ? measure.words : signal + " " + measure.words;
    }

    @Override
    public Unit unit() {
        return switch (measure) {
            case ON_TIME, OFF_TIME, IDLE_TIME -> Unit.SECOND;
            case DUTY_CYCLE, EFFICIENCY -> Unit.ONE;
            default ->
                signal == StageSignal.OUTPUT_VOLTAGE || signal == StageSignal.SWITCH_NODE ? Unit.VOLT : Unit.AMPERE;
        };
    }

    /**
     * Returns the figure in words.
     *
     * @return for example "inductor current, peak to peak"
     */
    @Override
    public String toString() {
        return signal == null ? measure.words : signal + ", " + measure.words;
    }
}
