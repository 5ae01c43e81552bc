package org.voltsecond.losses;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.ConverterSteadyState;

/**
 * A loss that ideal switching leaves out, estimated from its waveforms and data-sheet values. It does not act back on them:
 * the converter is the same with and without it. So it holds while the loss is small beside the power that is converted.
 * A model is that of all parts of its kind, or of those that it names.
 *
 * <p>Models are immutable and safe for any thread.
 *
 * <pre>{@code
 * List<LossModel> models = List.of(new OverlapLoss(nano(15), nano(20)), new OutputCapacitanceLoss(pico(250)));
 * double extra = models.stream().mapToDouble(model -> model.power(steady)).sum(); // 139.2 mW
 * double first = models.get(0).powers(steady).get("Q1"); // 133.4 mW
 * }</pre>
 */
public interface LossModel {
    /** {@return what causes the loss, for a table; short} */
    String cause();

    /**
     * Works out the loss of each part that it heats.
     *
     * @param steady a periodic steady state
     * @return the mean powers over a period, W; 0 or more; by reference designator, {@link LossEntry#GATE_DRIVE} for a driver
     * @throws IllegalArgumentException if the model does not fit the converter
     */
    Map<String, Double> powers(ConverterSteadyState steady);

    /**
     * Works out the loss.
     *
     * @param steady a periodic steady state
     * @return the mean power over a period, W; 0 or more
     * @throws IllegalArgumentException if the model does not fit the converter
     */
    default double power(ConverterSteadyState steady) {
        double sum = 0;
        for (double power : powers(steady).values()) {
            sum += power;
        }
        return sum;
    }

    /**
     * Works out one power for each of several parts.
     *
     * @param parts their names
     * @param power the power of one, W
     * @return the powers by the names, in the given order
     */
    static Map<String, Double> each(List<String> parts, ToDoubleFunction<String> power) {
        Map<String, Double> powers = new LinkedHashMap<>();
        parts.forEach(part -> powers.put(part, power.applyAsDouble(part)));
        return powers;
    }
}
