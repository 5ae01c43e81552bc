package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** Example: in which mode does the logic rail conduct, from a flat to a full battery and from full load to sleep? */
public final class WhichConductionMode {
    private WhichConductionMode() {}

    /**
     * Prints a table of line and load.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        System.out.println("input (V)  load (ohm)  conduction     output (V)  idle (us)");
        for (double input : new double[] {9, 12, 15}) {
            for (double ohm : new double[] {2.5, 25, 250}) {
                ConverterSteadyState steady =
                        rail.withInput(input).withLoad(Load.resistor(ohm)).steadyState();
                double output = steady.of(rail.outputVoltage()).mean();
                double idle = 1e6 * steady.idleTime();
                System.out.printf(Locale.ROOT, "%9.0f  %10.1f  %-13s", input, ohm, steady.conduction());
                System.out.printf(Locale.ROOT, "  %10.4f  %9.4f%n", output, idle);
            }
        }
    }
}
