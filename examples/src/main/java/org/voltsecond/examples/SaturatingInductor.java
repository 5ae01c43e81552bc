package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.BentPart;
import org.voltsecond.stage.Load;

/** Example: how far the inductor of the buoy's logic rail can be loaded before it saturates. */
public final class SaturatingInductor {
    private SaturatingInductor() {}

    /**
     * Prints ripple, peak and what is left of the inductance, load by load.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        // the curve of a data sheet, as segments that are within 5 % of it
        double[] ampere = {0, 2, 3, 4};
        double[] henry = {micro(22), micro(20), micro(14), micro(6)};
        Bend.Fit curve = Bend.fit(ampere, henry, 0.05);
        System.out.println("load    ripple    peak      inductance at the peak");
        for (double load : new double[] {0.5, 1, 1.5, 2, 2.5, 3}) {
            Converter rail = PowerStage.buck()
                    .input(12)
                    .inductor(curve.value(), milli(30))
                    .saturation(curve.bends().toArray(Bend[]::new))
                    .outputCapacitor(micro(47), milli(5))
                    .transistor(milli(80))
                    .rectifier(0.4, milli(20))
                    .load(Load.current(load))
                    .drive(Drive.fixedDuty(0.45, kilo(300)));
            ConverterSteadyState steady = rail.steadyState();
            BentPart inductor = BentPart.of(rail, steady).get(0);
            System.out.printf(
                    Locale.ROOT,
                    "%.1f A   %.3f A   %.3f A   %.1f µH, %.0f %%%s%n",
                    load,
                    steady.of(rail.inductorCurrent()).peakToPeak(),
                    inductor.peak(),
                    1e6 * inductor.valueAt(inductor.peak()),
                    100 * inductor.left(),
                    inductor.isSaturated() ? ": saturated" : "");
        }
    }
}
