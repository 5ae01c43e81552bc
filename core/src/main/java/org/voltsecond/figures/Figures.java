package org.voltsecond.figures;

import java.util.List;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossModel;
import org.voltsecond.units.Result;

/**
 * The catalogue of figures: what the library tells, each defined here and nowhere else.
 *
 * <pre>{@code
 * double ripple = FigureSheet.of(steady).get(Figures.OUTPUT_RIPPLE).get(); // 4.403 mV
 * }</pre>
 */
public final class Figures {
    /** Why there is no efficiency. */
    static final String NO_POWER = "the source delivers no power";

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
                        steady -> Result.finite(LossBudget.of(steady, models).efficiency(), NO_POWER));
    }

    private static StageFigure named(String key, Measure measure, StageSignal signal) {
        return StageFigure.named(key, StageMeasurement.of(measure, signal));
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
