package org.voltsecond.plot.report;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.units.Result;

/**
 * A linear regulator in the place of the converter, at its best: it takes no current for itself.
 *
 * @param efficiency more than 0 and at most 1
 * @param inputPower W
 * @param heat W
 */
record LinearInstead(double efficiency, double inputPower, double heat) {

    static Result<LinearInstead> of(ConverterSteadyState steady) {
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
