package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.OptionalDouble;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.PreferredSeries;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Example: embedding in another Java tool, here one that picks an inductor from a series of preferred values. */
public final class InductorChoice {
    private InductorChoice() {}

    /**
     * Picks the smallest inductor of the series E12 with which the ripple of the inductor current is small enough.
     *
     * @param converter the converter, whatever inductor it has
     * @param mostRipple the largest ripple allowed, peak to peak, as a fraction of the mean inductor current
     * @return the inductance, H; empty if none from 1 µH to 1 mH will do
     */
    public static OptionalDouble pick(Converter converter, double mostRipple) {
        return PreferredSeries.E12.between(micro(1), milli(1)).stream()
                .mapToDouble(Double::doubleValue)
                .filter(henry -> ripple(converter.withInductor(henry, 0)) <= mostRipple)
                .findFirst();
    }

    private static double ripple(Converter converter) {
        var current = converter.steadyState().of(converter.inductorCurrent());
        return current.peakToPeak() / current.mean();
    }

    /**
     * Prints the inductor for the logic rail of the buoy at the highest battery voltage.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter rail = PowerStage.buck()
                .input(15)
                .inductor(micro(1))
                .outputCapacitor(micro(47), milli(5))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.36, kilo(300)));
        double choice = pick(rail, 0.3).orElseThrow();
        System.out.println("smallest E12 inductor with at most 30 % ripple: " + Quantity.format(choice, Unit.HENRY));
    }
}
