package org.voltsecond.figures;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.units.Result;

/**
 * A linear regulator in the place of a converter, at its best: it takes no current for itself.
 *
 * <pre>{@code
 * double heat = LinearInstead.of(steady).get().heat(); // 14.02 W
 * }</pre>
 *
 * @param efficiency more than 0 and at most 1
 * @param inputPower W
 * @param heat W
 */
public record LinearInstead(double efficiency, double inputPower, double heat) {
    /**
     * Looks whether a linear regulator could do what a converter does.
     *
     * @param steady the steady state of the converter
     * @return the linear regulator, or why there can be none
     */
    public static Result<LinearInstead> of(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        double input = converter.inputVoltage();
        double output = steady.of(converter.outputVoltage()).mean();
        double current = steady.of(converter.loadCurrent()).mean();
        if (!(output > 0 && output <= input)) {
            return Result.missing("it neither steps up nor inverts");
        }
        if (!(current > 0)) {
            return Result.missing("the load draws nothing");
        }
        LinearRegulator linear = LinearRegulator.of(input, output);
        return Result.of(
                new LinearInstead(linear.efficiency(current), linear.inputPower(current), linear.loss(current)));
    }
}
