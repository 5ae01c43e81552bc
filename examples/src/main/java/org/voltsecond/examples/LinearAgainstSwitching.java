package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Pictures;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Unit;

/** Example: what does a buck stage save over a linear regulator, from a flat to a full battery? */
public final class LinearAgainstSwitching {
    private LinearAgainstSwitching() {}

    /**
     * Prints both efficiencies and draws them.
     *
     * @param arguments the PNG file to draw; none for the table alone
     * @throws IOException if the file cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        double[] inputs = {9, 10.5, 12, 13.5, 15};
        double[] linear = new double[inputs.length];
        double[] switching = new double[inputs.length];
        System.out.println("input (V)  linear (%)  switching (%)");
        for (int k = 0; k < inputs.length; k++) {
            linear[k] = LinearRegulator.of(inputs[k], 5).efficiencyLimit();
            switching[k] = rail(inputs[k]).steadyState().efficiency().orElse(Double.NaN);
            System.out.printf(Locale.ROOT, "%9.1f  %10.2f  %13.2f%n", inputs[k], 100 * linear[k], 100 * switching[k]);
        }
        if (arguments.length > 0) {
            Pictures.lines("5 V, 2 A from a 12 V battery")
                    .x("input voltage", Unit.VOLT)
                    .yInPercent("efficiency")
                    .line("linear regulator, at best", inputs, linear)
                    .line("buck stage", inputs, switching)
                    .build()
                    .writePng(Path.of(arguments[0]));
        }
    }

    /** Duty cycle for 5 V out with the mean drops of transistor, rectifier and inductor at 2 A. */
    private static Converter rail(double input) {
        double duty = (5 + 0.4 + 2 * milli(50)) / (input + 0.4 - 2 * milli(60));
        return PowerStage.buck()
                .input(input)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(duty, kilo(300)));
    }
}
