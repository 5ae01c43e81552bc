package org.voltsecond.examples.design;

import org.voltsecond.control.Regulator;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;

/**
 * A regulator with what surrounds it.
 *
 * @param kind the kind as the design file calls it
 * @param regulator the regulator
 * @param commanded true if an inductor current is commanded, false if the output voltage is regulated
 */
public record Regulated(String kind, Regulator regulator, boolean commanded) implements DrivePlan {
    @Override
    public double switchingFrequency() {
        return 1 / regulator.clockPeriod();
    }

    @Override
    public Converter drive(PowerStage stage) {
        return stage.drive(regulator);
    }
}
