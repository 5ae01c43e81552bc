package org.voltsecond.design;

import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;

/**
 * A fixed duty cycle.
 *
 * @param dutyCycle the part of the period in which the transistor is closed, from 0 to 1
 * @param switchingFrequency the frequency, Hz; more than 0
 */
public record FixedDuty(double dutyCycle, double switchingFrequency) implements DrivePlan {
    @Override
    public Converter drive(PowerStage stage) {
        return stage.drive(Drive.fixedDuty(dutyCycle, switchingFrequency));
    }
}
