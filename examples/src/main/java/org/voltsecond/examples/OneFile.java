package org.voltsecond.examples;

import org.voltsecond.control.Drive;
import org.voltsecond.converter.*;
import org.voltsecond.stage.Load;
import org.voltsecond.units.*;

/** Example: runs without a build: {@code java -cp "examples/target/lib/*" OneFile.java}. */
public final class OneFile {
    private OneFile() {}

    /**
     * Prints how the ripple of a rail falls as its inductor grows.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        for (double henry : new double[] {10e-6, 22e-6, 47e-6}) {
            Converter rail = PowerStage.buck()
                    .input(12)
                    .inductor(henry)
                    .outputCapacitor(47e-6, 5e-3)
                    .load(Load.resistor(2.5))
                    .drive(Drive.fixedDuty(0.45, 300e3));
            double ripple = rail.steadyState().of(rail.outputVoltage()).peakToPeak();
            System.out.println(Quantity.format(henry, Unit.HENRY, 3) + ": " + Quantity.format(ripple, Unit.VOLT, 3));
        }
    }
}
