package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageLosses;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossModel;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * The catalogue of figures: what the library tells, each defined here and nowhere else.
 *
 * <pre>{@code
 * double ripple = FigureSheet.of(steady).get(Figures.OUTPUT_RIPPLE).get(); // 4.403 mV
 * }</pre>
 */
public final class Figures {
    /** Mean output voltage over a period, V; negative of an inverting stage. */
    public static final StageFigure OUTPUT_VOLTAGE = named("output_voltage", Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);

    /** Highest less lowest output voltage over a period, V. */
    public static final StageFigure OUTPUT_RIPPLE =
            named("output_ripple", Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);

    /** Highest less lowest inductor current over a period, A. */
    public static final StageFigure INDUCTOR_RIPPLE =
            named("inductor_ripple", Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT);

    /** Highest inductor current over a period, A. */
    public static final StageFigure INDUCTOR_PEAK =
            named("inductor_peak", Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT);

    /** Root of the mean square of the inductor current over a period, A. */
    public static final StageFigure INDUCTOR_RMS = named("inductor_rms", Measure.RMS, StageSignal.INDUCTOR_CURRENT);

    /** Output power over input power, both means over a period; from 0 to 1. */
    public static final StageFigure EFFICIENCY =
            StageFigure.named("efficiency", StageMeasurement.of(Measure.EFFICIENCY));

    /** The part of the period in which the transistor conducts, from 0 to 1. */
    public static final StageFigure DUTY_CYCLE =
            StageFigure.named("duty_cycle", StageMeasurement.of(Measure.DUTY_CYCLE));

    /** Time of a period in which neither transistor nor rectifier conducts, s. */
    public static final StageFigure IDLE_TIME = StageFigure.named("idle_time", StageMeasurement.of(Measure.IDLE_TIME));

    /** Root of the mean square of the transistor current over a period, A. */
    public static final StageFigure TRANSISTOR_RMS =
            named("transistor_rms", Measure.RMS, StageSignal.TRANSISTOR_CURRENT);

    /** Mean rectifier current over a period, A. */
    public static final StageFigure RECTIFIER_MEAN =
            named("rectifier_mean", Measure.MEAN, StageSignal.RECTIFIER_CURRENT);

    /** Root of the mean square of the output capacitor current over a period, A. */
    public static final StageFigure CAPACITOR_RMS = named("capacitor_rms", Measure.RMS, StageSignal.CAPACITOR_CURRENT);

    /** Mean input current over a period, A. */
    public static final StageFigure INPUT_CURRENT = named("input_current", Measure.MEAN, StageSignal.INPUT_CURRENT);

    /** Time of a period in which the transistor conducts, s. */
    public static final StageFigure ON_TIME = StageFigure.named("on_time", StageMeasurement.of(Measure.ON_TIME));

    /** Time of a period in which the transistor is open and the rectifier conducts, s. */
    public static final StageFigure OFF_TIME = StageFigure.named("off_time", StageMeasurement.of(Measure.OFF_TIME));

    /** The time after which everything repeats, s. */
    public static final Figure<ConverterSteadyState> PERIOD =
            Figure.of("period", "period", Unit.SECOND, steady -> Result.of(steady.period()));

    /** Number of periods of the fastest clock after which everything repeats; without a clock 1. */
    public static final Figure<ConverterSteadyState> PERIODS = Figure.of(
            "periods",
            "periods of the clock",
            Unit.ONE,
            steady -> Result.of(
                    steady.converter().driven().isClocked()
                            ? (double) Math.round(steady.period()
                                            / steady.converter().driven().clockPeriod())
                                    * steady.converter().driven().pulsesPerPeriod()
                            : 1.0));

    /** What the source delivers, mean over a period, W. */
    public static final Figure<ConverterSteadyState> INPUT_POWER =
            Figure.of("power/input", "input power", Unit.WATT, steady -> Result.of(steady.inputPower()));

    /** What the load takes, mean over a period, W; negative where the load delivers power. */
    public static final Figure<ConverterSteadyState> OUTPUT_POWER =
            Figure.of("power/output", "output power", Unit.WATT, steady -> Result.of(steady.outputPower()));

    /** Conduction loss of the transistor with its body diode, mean over a period, W. */
    public static final Figure<ConverterSteadyState> TRANSISTOR_LOSS = loss(StageLosses.TRANSISTOR);

    /** Conduction loss of the rectifier, mean over a period, W. */
    public static final Figure<ConverterSteadyState> RECTIFIER_LOSS = loss(StageLosses.RECTIFIER);

    /** Loss in the series resistance of the inductor, mean over a period, W. */
    public static final Figure<ConverterSteadyState> INDUCTOR_LOSS = loss(StageLosses.INDUCTOR);

    /** Loss in the series resistance of the output capacitor, mean over a period, W. */
    public static final Figure<ConverterSteadyState> CAPACITOR_LOSS = loss(StageLosses.OUTPUT_CAPACITOR);

    /** |energy in - energy out - losses - more stored| of a period over the largest of these. */
    public static final Figure<ConverterSteadyState> AUDIT_RESIDUAL = Figure.of(
            "power/audit_residual",
            "residual of the energy audit",
            Unit.ONE,
            steady -> Result.of(steady.audit().residual()));

    /** When a change happens, s. */
    public static final Figure<StepFigures> TIME = step("time", Unit.SECOND, step -> Result.of(step.time()));

    /** See {@link StepFigures#levelBefore}. */
    public static final Figure<StepFigures> LEVEL_BEFORE = step("level_before", Unit.VOLT, StepFigures::levelBefore);

    /** See {@link StepFigures#levelAfter}. */
    public static final Figure<StepFigures> LEVEL_AFTER = step("level_after", Unit.VOLT, StepFigures::levelAfter);

    /** The level after a start, V. */
    public static final Figure<StepFigures> LEVEL = step("level", Unit.VOLT, StepFigures::levelAfter);

    /** See {@link StepFigures#droop}. */
    public static final Figure<StepFigures> DROOP = step("droop", Unit.VOLT, StepFigures::droop);

    /** See {@link StepFigures#overshoot}. */
    public static final Figure<StepFigures> OVERSHOOT = step("overshoot", Unit.VOLT, StepFigures::overshoot);

    /** See {@link StepFigures#peakTime}. */
    public static final Figure<StepFigures> PEAK_TIME =
            step("peak_time", Unit.SECOND, step -> Result.of(step.peakTime()));

    /** See {@link StepFigures#peakInductorCurrent}. */
    public static final Figure<StepFigures> PEAK_INDUCTOR_CURRENT =
            step("peak_inductor_current", Unit.AMPERE, step -> Result.of(step.peakInductorCurrent()));

    /** See {@link StepFigures#peakSourceCurrent}. */
    public static final Figure<StepFigures> PEAK_SOURCE_CURRENT =
            step("peak_source_current", Unit.AMPERE, StepFigures::peakSourceCurrent);

    /** See {@link StepFigures#settlingTime}. */
    public static final Figure<StepFigures> SETTLING_TIME =
            step("settling_time", Unit.SECOND, StepFigures::settlingTime);

    /** See {@link StepFigures#recoveryTime}. */
    public static final Figure<StepFigures> RECOVERY_TIME =
            step("recovery_time", Unit.SECOND, StepFigures::recoveryTime);

    /** See {@link StepFigures#settlingBand}. */
    public static final Figure<StepFigures> SETTLING_BAND = step("settling_band", Unit.VOLT, StepFigures::settlingBand);

    /** The smallest duty cycle of a whole switching cycle after a change. */
    public static final Figure<StepFigures> LOWEST_DUTY_CYCLE = duty("minimum", StepFigures.DutyCycles::minimum);

    /** The largest duty cycle of a whole switching cycle after a change. */
    public static final Figure<StepFigures> HIGHEST_DUTY_CYCLE = duty("maximum", StepFigures.DutyCycles::maximum);

    /** The duty cycle of the last whole switching cycle after a change. */
    public static final Figure<StepFigures> LAST_DUTY_CYCLE = duty("last", StepFigures.DutyCycles::last);

    /** See {@link OutputRegulation#target}. */
    public static final Figure<OutputRegulation> TARGET =
            Figure.of("target", "target", Unit.VOLT, regulation -> Result.of(regulation.target()));

    /** See {@link OutputRegulation#error}. */
    public static final Figure<OutputRegulation> REGULATION_ERROR =
            Figure.of("error", "error of the output", Unit.VOLT, regulation -> Result.of(regulation.error()));

    /** The lower limit of the control voltage, V. */
    public static final Figure<OutputRegulation> CONTROL_LOW =
            control("low", regulation -> regulation.controlLimits().low());

    /** The upper limit of the control voltage, V. */
    public static final Figure<OutputRegulation> CONTROL_HIGH =
            control("high", regulation -> regulation.controlLimits().high());

    /** Output power over input power of a linear regulator that takes no current for itself. */
    public static final Figure<LinearInstead> LINEAR_EFFICIENCY =
            Figure.of("efficiency", "efficiency", Unit.ONE, linear -> Result.of(linear.efficiency()));

    /** What a linear regulator takes from the source, W. */
    public static final Figure<LinearInstead> LINEAR_INPUT_POWER =
            Figure.of("input_power", "power from the source", Unit.WATT, linear -> Result.of(linear.inputPower()));

    /** What a linear regulator turns into heat, W. */
    public static final Figure<LinearInstead> LINEAR_HEAT =
            Figure.of("heat", "heat", Unit.WATT, linear -> Result.of(linear.heat()));

    /** Where the harmonic lies that is held against its limit, Hz. */
    public static final Figure<Worst> EMISSION_FREQUENCY =
            Figure.of("frequency", "frequency", Unit.HERTZ, worst -> Result.of(worst.frequency()));

    /** Its level at the artificial network, dBµV. */
    public static final Figure<Worst> EMISSION_LEVEL =
            Figure.of("level", "level", Unit.DECIBEL_MICROVOLT, worst -> Result.of(worst.level()));

    /** Its limit, dBµV. */
    public static final Figure<Worst> EMISSION_LIMIT = Figure.of(
            "limit", "limit", Unit.DECIBEL_MICROVOLT, worst -> Result.finite(worst.limit(), Worst.WITHOUT_LIMIT));

    /** Limit less level, dB; negative where the limit is exceeded. */
    public static final Figure<Worst> EMISSION_MARGIN = Figure.of(
            "margin", "emission margin", Unit.DECIBEL, worst -> Result.finite(worst.margin(), Worst.WITHOUT_LIMIT));

    private static final List<StageFigure> STAGE = List.of(
            OUTPUT_VOLTAGE,
            OUTPUT_RIPPLE,
            INDUCTOR_RIPPLE,
            INDUCTOR_PEAK,
            INDUCTOR_RMS,
            EFFICIENCY,
            DUTY_CYCLE,
            IDLE_TIME,
            TRANSISTOR_RMS,
            RECTIFIER_MEAN,
            CAPACITOR_RMS,
            INPUT_CURRENT);

    private Figures() {}

    /**
     * Returns the efficiency with losses beyond conduction.
     *
     * @param models the losses; with none it is {@link #EFFICIENCY}
     * @return output power over itself and all losses, from 0 to 1, with key and words of {@link #EFFICIENCY}
     */
    public static Figure<ConverterSteadyState> efficiency(List<? extends LossModel> models) {
        return models.isEmpty()
                ? EFFICIENCY
                : Figure.of(
                        EFFICIENCY.key(),
                        EFFICIENCY.words(),
                        EFFICIENCY.unit(),
                        steady -> EFFICIENCY
                                .of(steady)
                                .flatMap(ideal -> Result.finite(
                                        LossBudget.of(steady, models).efficiency(), StageFigure.NO_POWER)));
    }

    private static StageFigure named(String key, Measure measure, StageSignal signal) {
        return StageFigure.named(key, StageMeasurement.of(measure, signal));
    }

    /**
     * Returns the mean loss of some parts of a converter.
     *
     * @param parts what they are called, one of {@link StageLosses#parts}, for example "input filter"
     * @return the figure, W
     */
    public static Figure<ConverterSteadyState> loss(String parts) {
        return Figure.of(
                "power/losses/" + parts.replace(' ', '_'),
                "conduction loss of the " + parts,
                Unit.WATT,
                steady ->
                        Result.of(Told.number(steady.losses().groups().getOrDefault(parts, 0.0), steady.inputPower())));
    }

    private static Figure<StepFigures> step(String key, Unit unit, Function<StepFigures, Result<Double>> measure) {
        return Figure.of(key, key.replace('_', ' '), unit, measure);
    }

    private static Figure<StepFigures> duty(String key, ToDoubleFunction<StepFigures.DutyCycles> measure) {
        return Figure.of(
                "duty_cycle/" + key,
                key + " duty cycle",
                Unit.ONE,
                step -> step.dutyCycle().map(measure::applyAsDouble));
    }

    private static Figure<OutputRegulation> control(String key, ToDoubleFunction<OutputRegulation> limit) {
        return Figure.of(
                "control_limits/" + key,
                key + " limit of the control voltage",
                Unit.VOLT,
                regulation -> Result.finite(limit.applyAsDouble(regulation), "there is no such limit"));
    }

    /** What is told about a change. */
    static List<Figure<StepFigures>> change(StepFigures found) {
        return withSource(
                found,
                List.of(
                        TIME,
                        LEVEL_BEFORE,
                        LEVEL_AFTER,
                        DROOP,
                        OVERSHOOT,
                        PEAK_TIME,
                        PEAK_INDUCTOR_CURRENT,
                        SETTLING_TIME,
                        RECOVERY_TIME,
                        SETTLING_BAND,
                        LOWEST_DUTY_CYCLE,
                        HIGHEST_DUTY_CYCLE,
                        LAST_DUTY_CYCLE));
    }

    /** What is told about a start. */
    static List<Figure<StepFigures>> start(StepFigures found) {
        return withSource(found, List.of(LEVEL, OVERSHOOT, PEAK_INDUCTOR_CURRENT, SETTLING_TIME, SETTLING_BAND));
    }

    /** The peak of the source's current is told where it is not that of the stage. */
    private static List<Figure<StepFigures>> withSource(StepFigures found, List<Figure<StepFigures>> usual) {
        List<Figure<StepFigures>> all = new ArrayList<>(usual);
        if (found.peakSourceCurrent().exists()) {
            all.add(all.indexOf(PEAK_INDUCTOR_CURRENT) + 1, PEAK_SOURCE_CURRENT);
        }
        return all;
    }

    /** What is told about a steady state, each signal between the times and the power. */
    static List<Figure<ConverterSteadyState>> steadyState(Converter converter) {
        List<Figure<ConverterSteadyState>> all =
                new ArrayList<>(List.of(PERIOD, ON_TIME, OFF_TIME, IDLE_TIME, DUTY_CYCLE));
        for (String signal : NamedSignals.of(converter).keySet()) {
            all.addAll(SignalMeasure.steadyState(signal));
        }
        all.addAll(PulseFigures.told());
        all.addAll(List.of(INPUT_POWER, OUTPUT_POWER, EFFICIENCY));
        StageLosses.parts(converter).keySet().forEach(parts -> all.add(loss(parts)));
        all.add(AUDIT_RESIDUAL);
        all.addAll(SignalMeasure.circuit(converter));
        return all;
    }

    /**
     * Returns the figures that maps, sweeps and tolerances can be asked for by their keys.
     *
     * @return those that a designer looks at first in front
     */
    public static List<StageFigure> stage() {
        return STAGE;
    }

    /**
     * Returns the figures that a designer looks at first: output voltage and its ripple, inductor ripple, peak and RMS
     * current, and the efficiency.
     *
     * @return the figures
     */
    public static List<StageFigure> usual() {
        return STAGE.subList(0, 6);
    }
}
