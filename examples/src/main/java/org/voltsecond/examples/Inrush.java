package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: what does a soft start spare the inductor and the load when a regulated rail is switched on? */
public final class Inrush {
    private Inrush() {}

    /**
     * Prints inrush current and overshoot with and without soft start.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        VoltageMode regulator = VoltageMode.of(
                        kilo(300), 1, 0.2, Compensator.type3(36e3, kilo(3.5), kilo(3.5), kilo(120), kilo(150)))
                .withMaximumDutyCycle(0.95)
                .withControlLimits(0, 1);
        System.out.println("soft start  inrush   highest output");
        print("none   ", rail(regulator));
        print("2 ms   ", rail(regulator.withSoftStart(milli(2))));
    }

    private static Converter rail(VoltageMode regulator) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(regulator);
    }

    private static void print(String label, Converter rail) {
        ConverterTransient start = rail.startUp(milli(4));
        Waveform current = start.of(rail.inductorCurrent());
        Waveform output = start.of(rail.outputVoltage());
        System.out.printf(Locale.ROOT, "%s     %.3f A  %.3f V%n", label, current.maximum(), output.maximum());
    }
}
