package org.voltsecond.examples.design;

import org.voltsecond.control.Drive;

/** What drives the transistor. One record for each kind of drive that a design file can ask for. */
public sealed interface DrivePlan permits FixedDuty {
    /**
     * Returns the switching frequency.
     *
     * @return the frequency, Hz; more than 0
     */
    double switchingFrequency();

    /**
     * Returns the drive to give to the power stage.
     *
     * @return the drive
     */
    Drive drive();
}
