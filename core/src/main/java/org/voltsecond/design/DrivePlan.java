package org.voltsecond.design;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;

/** What drives the transistor: a fixed duty cycle or a regulator. */
public sealed interface DrivePlan permits FixedDuty, Regulated {
    /**
     * Returns the switching frequency.
     *
     * @return the frequency, Hz; more than 0; of a regulator without clock about the frequency
     */
    double switchingFrequency();

    /**
     * Finishes a power stage with this drive.
     *
     * @param stage the stage with all its parts
     * @return the converter
     */
    Converter drive(PowerStage stage);
}
