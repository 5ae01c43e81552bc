package org.voltsecond.review;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.losses.LossModel;
import org.voltsecond.sizing.Corner;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * A converter at a corner of what it works with.
 *
 * <pre>{@code
 * OperatingCorners corners = OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)); // V, A
 * CornerState worst = corners.states(rail).get(0);
 * String where = worst.where(); // "corner 9 V, 200 mA"
 * double ripple = Figures.OUTPUT_RIPPLE.in(worst.steady().get()); // 3.38 mV
 * }</pre>
 *
 * @param corner input voltage and load current
 * @param values what its parts have there in place of their nominal values; empty at the nominal ones
 * @param steady the steady state, or why there is none
 */
public record CornerState(Corner corner, Map<StageValue, Double> values, Result<ConverterSteadyState> steady) {
    /** Of the rounding of four digits nobody could tell two values apart. */
    private static final int DIGITS = 4;

    /**
     * Copies the values.
     *
     * @param corner input voltage and load current
     * @param values what its parts have there in place of their nominal values
     * @param steady the steady state, or why there is none
     */
    public CornerState {
        values = Map.copyOf(values);
    }

    /**
     * Returns which corner it is.
     *
     * @return for example "corner 9 V, 2 A" or "corner 9 V, 2 A, inductance 17.60 µH"
     */
    public String where() {
        String parts = parts();
        return "corner " + Quantity.brief(corner.inputVoltage(), Unit.VOLT) + ", "
                + Quantity.brief(corner.loadCurrent(), Unit.AMPERE) + (parts.isEmpty() ? "" : ", " + parts);
    }

    /**
     * Returns what its parts have in place of their nominal values.
     *
     * @return for example "inductance 17.60 µH"; empty at the nominal ones
     */
    public String parts() {
        return values.entrySet().stream()
                .map(each -> each.getKey() + " "
                        + Quantity.format(each.getValue(), each.getKey().unit(), DIGITS))
                .sorted()
                .collect(Collectors.joining(", "));
    }

    /**
     * Returns what is told of a corner beside its mode of conduction.
     *
     * @param losses models of losses that ideal switching leaves out, for the efficiency; may be none
     * @return output mean and ripple, duty cycle, inductor peak and valley, transistor voltage, losses and efficiency
     */
    public static List<Figure<ConverterSteadyState>> figures(List<? extends LossModel> losses) {
        Figure<ConverterSteadyState> efficiency = Figures.efficiency(losses);
        return List.of(
                Figures.OUTPUT_VOLTAGE,
                Figures.OUTPUT_RIPPLE,
                Figures.DUTY_CYCLE,
                Figures.INDUCTOR_PEAK,
                VALLEY,
                TRANSISTOR_VOLTAGE,
                Figure.of(
                        "losses",
                        losses.isEmpty() ? "conduction losses" : "all losses",
                        Unit.WATT,
                        steady -> efficiency.of(steady).map(share -> steady.outputPower() * (1 / share - 1))),
                efficiency);
    }

    private static final Figure<ConverterSteadyState> VALLEY = Figure.of(
            "inductor_valley",
            "inductor valley",
            Unit.AMPERE,
            StageFigure.of(Measure.MINIMUM, StageSignal.INDUCTOR_CURRENT)::of);

    private static final Figure<ConverterSteadyState> TRANSISTOR_VOLTAGE = Figure.of(
            "transistor_voltage",
            "transistor voltage",
            Unit.VOLT,
            steady ->
                    Result.of(steady.of(steady.converter().transistorVoltage()).maximum()));

    @Override
    public String toString() {
        return where();
    }
}
