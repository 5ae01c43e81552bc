package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** Example: a ceramic output capacitor that has lost a good part of its capacitance where it is used. */
public final class FadingCapacitor {
    private FadingCapacitor() {}

    /**
     * Prints the ripple of the output at three output voltages, with the capacitance on the label and with that which is there.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Bend.Fit curve = Bend.fit(new double[] {0, 3, 6}, new double[] {micro(47), micro(36), micro(20)}, 0.05); // V, F
        PowerStage constant = PowerStage.buck()
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(2))
                .transistor(milli(80))
                .rectifier(0.4, milli(20));
        PowerStage fading = constant.outputCapacitor(curve.value(), milli(2))
                .bias(curve.bends().toArray(Bend[]::new));
        System.out.println("output   ripple by the label   ripple");
        for (double volt : new double[] {1.8, 3.3, 5}) {
            System.out.printf(
                    Locale.ROOT,
                    "%.1f V    %.2f mV               %.2f mV%n",
                    volt,
                    1e3 * ripple(constant, volt),
                    1e3 * ripple(fading, volt));
        }
    }

    private static double ripple(PowerStage stage, double volt) {
        Converter rail = stage.load(Load.current(2)).input(12).drive(Drive.fixedDuty(volt / 12, kilo(300)));
        ConverterSteadyState steady = DutyCycleSearch.forOutput(rail, volt).steadyState();
        return steady.of(rail.outputVoltage()).peakToPeak();
    }
}
