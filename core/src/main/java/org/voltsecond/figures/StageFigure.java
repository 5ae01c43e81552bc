package org.voltsecond.figures;

import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * A figure that every steady state of a stage has and that has a derivative by each of its values: a measure of a signal, a
 * time, the duty cycle, or the efficiency. Two of the same measurement are equal. Immutable.
 *
 * <pre>{@code
 * StageFigure rms = StageFigure.of(StageMeasurement.Measure.RMS, StageSignal.RECTIFIER_CURRENT);
 * double ampere = rms.in(steady); // 1.494 A
 * }</pre>
 */
public final class StageFigure implements Figure<ConverterSteadyState> {
    /** Why there is no efficiency. */
    static final String NO_POWER = "the source delivers no power";

    private final StageMeasurement measurement;
    private final String key;

    private StageFigure(StageMeasurement measurement, String key) {
        this.measurement = measurement;
        this.key = key;
    }

    /** One of the catalogue. */
    static StageFigure named(String key, StageMeasurement measurement) {
        return new StageFigure(measurement, key);
    }

    /**
     * Returns a measure of a signal.
     *
     * @param measure mean, RMS, maximum, minimum or peak to peak
     * @param signal the signal
     * @return the figure, that of the {@linkplain Figures catalogue} where there is one
     */
    public static StageFigure of(StageMeasurement.Measure measure, StageSignal signal) {
        return of(StageMeasurement.of(measure, signal));
    }

    /**
     * Returns the figure of a measurement.
     *
     * @param measurement what is measured
     * @return the figure, that of the {@linkplain Figures catalogue} where there is one
     */
    public static StageFigure of(StageMeasurement measurement) {
        return Figures.stage().stream()
                .filter(known -> known.measurement.equals(measurement))
                .findFirst()
                .orElseGet(() -> new StageFigure(
                        measurement, measurement.name().replace(' ', '_').replace('-', '_')));
    }

    /**
     * Returns what is measured, for the derivatives of a steady state and for {@link
     * org.voltsecond.converter.StageSampler}.
     *
     * @return the measurement
     */
    public StageMeasurement measurement() {
        return measurement;
    }

    @Override
    public String key() {
        return key;
    }

    @Override
    public String path() {
        return measurement.signal() == null
                ? measurement.measure() == StageMeasurement.Measure.EFFICIENCY ? "power/" + key : key
                : "signals/" + NamedSignals.key(measurement.signal()) + "/" + SignalMeasure.of(measurement.measure());
    }

    @Override
    public String words() {
        return measurement.name();
    }

    @Override
    public Unit unit() {
        return measurement.unit();
    }

    @Override
    public double in(ConverterSteadyState steady) {
        return measurement.in(steady);
    }

    /** Told as 0 where it is nothing but round-off of its signal or of the period. */
    @Override
    public Result<Double> of(ConverterSteadyState steady) {
        StageSignal signal = measurement.signal();
        if (signal != null) {
            return Result.of(Told.number(in(steady), steady.of(signal.of(steady.converter()))));
        }
        return switch (measurement.measure()) {
            case EFFICIENCY -> efficiency(steady);
            case DUTY_CYCLE -> Result.of(Told.number(in(steady), 1));
            default -> Result.of(Told.number(in(steady), steady.period()));
        };
    }

    private Result<Double> efficiency(ConverterSteadyState steady) {
        return steady.outputPower() < 0
                ? Result.missing("the load delivers power, so that there is no efficiency")
                : Result.finite(in(steady), NO_POWER);
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof StageFigure figure && figure.measurement.equals(measurement);
    }

    @Override
    public int hashCode() {
        return measurement.hashCode();
    }

    @Override
    public String toString() {
        return words();
    }
}
