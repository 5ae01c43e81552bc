package org.voltsecond.converter;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Sensitivity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * What can be measured on the steady state of every power stage, with its derivatives: a measure of a signal, a time, the
 * duty cycle, or the efficiency. What is told about a stage, under which name, is the matter of
 * {@code org.voltsecond.figures}. Immutable.
 *
 * <pre>{@code
 * StageMeasurement ripple = StageMeasurement.of(StageMeasurement.Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
 * double volt = ripple.in(steady); // 4.403 mV
 * }</pre>
 *
 * @param measure what is measured
 * @param signal on what; null for times and the efficiency, which need none
 */
public record StageMeasurement(Measure measure, @Nullable StageSignal signal) {

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
    public StageMeasurement {
        if (measure.needsSignal() != (signal != null)) {
            throw new IllegalArgumentException("a figure of " + measure.words + " must have "
                    + (measure.needsSignal() ? "a signal" : "no signal") + " but had " + signal);
        }
    }

    /**
     * Returns a measure of a signal.
     *
     * @param measure mean, RMS, maximum, minimum or peak to peak
     * @param signal the signal
     * @return the figure
     */
    public static StageMeasurement of(Measure measure, StageSignal signal) {
        return new StageMeasurement(measure, signal);
    }

    /**
     * Returns a figure of the stage as a whole.
     *
     * @param measure a time or the efficiency
     * @return the figure
     */
    public static StageMeasurement of(Measure measure) {
        return new StageMeasurement(measure, null);
    }

    /**
     * Measures a steady state.
     *
     * @param steady the steady state
     * @return the measurement, in {@link #unit()}; not a number where it does not exist
     */
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
            case ON_TIME -> sensitivity.timeIn(steady.isOn());
            case OFF_TIME -> sensitivity.timeIn(steady.isOff());
            case IDLE_TIME -> sensitivity.timeIn(steady.isIdle());
            case DUTY_CYCLE ->
                (sensitivity.timeIn(steady.isOn()) - steady.dutyCycle() * sensitivity.period()) / steady.period();
            case EFFICIENCY -> efficiency(steady, sensitivity);
        };
    }

    private static double efficiency(ConverterSteadyState steady, Sensitivity sensitivity) {
        Converter converter = steady.converter();
        double input = steady.inputPower();
        double output = sensitivity.meanProduct(converter.outputVoltage(), converter.loadCurrent());
        double taken = sensitivity.meanProduct(converter.inputNode(), converter.sourceCurrent());
        for (String source : steady.furtherFeeds()) {
            taken -= sensitivity.meanProduct(
                    converter.driven().voltageAcross(source), converter.driven().current(source));
        }
        return steady.efficiency().isEmpty() ? Double.NaN : (output - steady.outputPower() / input * taken) / input;
    }

    /**
     * Returns what it is, for headings.
     *
     * @return a few words, for example "inductor current peak to peak"
     */
    public String name() {
        return signal == null ? measure.words : signal + " " + measure.words;
    }

    /**
     * Returns the unit.
     *
     * @return the unit of the values
     */
    public Unit unit() {
        return switch (measure) {
            case ON_TIME, OFF_TIME, IDLE_TIME -> Unit.SECOND;
            case DUTY_CYCLE, EFFICIENCY -> Unit.ONE;
            default ->
                signal == StageSignal.OUTPUT_VOLTAGE || signal == StageSignal.SWITCH_NODE ? Unit.VOLT : Unit.AMPERE;
        };
    }

    @Override
    public String toString() {
        return name();
    }
}
