package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: how far do output and inductor current overshoot when a rail without soft start is switched on? */
public final class StartUp {
    private StartUp() {}

    /**
     * Prints the overshoot.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter rail = PowerStage.buck()
                .input(28)
                .inductor(micro(50))
                .outputCapacitor(micro(500))
                .synchronousRectifier(0)
                .load(Load.resistor(3))
                .drive(Drive.fixedDuty(15.0 / 28, kilo(100)));
        ConverterTransient start = rail.startUp(milli(5));
        Waveform output = start.of(rail.outputVoltage());
        Waveform current = start.of(rail.inductorCurrent());
        double settled = rail.steadyState().of(rail.outputVoltage()).mean();
        double peakTime = 1e6 * output.timeOfMaximum();
        System.out.printf(Locale.ROOT, "final output   %.4f V%n", settled);
        System.out.printf(Locale.ROOT, "highest output %.4f V after %.1f us%n", output.maximum(), peakTime);
        System.out.printf(Locale.ROOT, "inrush current %.4f A%n", current.maximum());
        System.out.printf(Locale.ROOT, "energy audit   %.0e%n", start.audit().residual());
    }
}
