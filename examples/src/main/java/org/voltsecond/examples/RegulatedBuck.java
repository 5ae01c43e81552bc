package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: how does a regulated 5 V rail take a load step from 0.2 A to 2 A? */
public final class RegulatedBuck {
    private RegulatedBuck() {}

    /**
     * Prints what the load step does to output, control voltage and pulses.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        VoltageMode regulator = VoltageMode.of(
                        kilo(300), 1, 0.2, Compensator.type3(36e3, kilo(3.5), kilo(3.5), kilo(120), kilo(150)))
                .withMaximumDutyCycle(0.95)
                .withControlLimits(0, 1);
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(25))
                .drive(regulator);
        ConverterTransient step =
                rail.transientFromSteadyState(milli(2), Change.at(milli(1)).load(Load.resistor(2.5)));
        Waveform output = step.of(rail.outputVoltage()).between(milli(1), milli(2));
        Waveform control = step.of(rail.controlVoltage());
        double settled = output.settlingTime(5, 0.1).orElse(Double.NaN);
        double end = output.between(milli(1.9), milli(2)).mean();
        System.out.println("stable          " + rail.steadyState().periodic().isStable());
        System.out.printf(Locale.ROOT, "droop           %.1f mV%n", output.droopBelow(5) * 1e3);
        System.out.printf(Locale.ROOT, "within 2 %%      after %.1f us%n", settled * 1e6);
        System.out.printf(Locale.ROOT, "control voltage from %.3f V to %.3f V%n", control.at(0), control.maximum());
        System.out.printf(Locale.ROOT, "in the end      %.4f V%n", end);
    }
}
