package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.viewer.Viewer;
import org.voltsecond.stage.Load;

/** Example: look at the start-up of a rail on the screen; F1 in the window tells how to zoom and measure. */
public final class ViewStartUp {
    private ViewStartUp() {}

    /**
     * Opens the window.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        ConverterTransient start = rail.startUp(milli(3));
        Viewer.builder("Start-up of the logic rail")
                .panel(start.of(rail.switchNode()))
                .panel(start.of(rail.inductorCurrent()))
                .panel(start.of(rail.outputVoltage()))
                .period(1 / kilo(300))
                .open();
    }
}
