package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.converter.PowerStage;

/**
 * What drives the transistor: a fixed duty cycle or a regulator.
 *
 * <pre>{@code
 * double frequency = design.drive().switchingFrequency(); // 300 kHz
 * boolean regulated = design.drive() instanceof DrivePlan.Regulated; // false
 * }</pre>
 */
public sealed interface DrivePlan {
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

    /**
     * A regulator with what surrounds it.
     *
     * @param kind the kind as the design file calls it
     * @param regulator the regulator
     * @param amplifier the error amplifier whose parts make the control voltage; null if the regulator computes it
     * @param commanded true if an inductor current is commanded, false if the output voltage is regulated
     */
    public record Regulated(
            String kind, Regulator regulator, @Nullable ErrorAmplifier amplifier, boolean commanded)
            implements DrivePlan {
        Regulated(String kind, Regulator regulator, boolean commanded) {
            this(kind, regulator, null, commanded);
        }

        Regulated with(Regulator other) {
            return new Regulated(kind, other, amplifier, commanded);
        }

        /** {@return whether the protection starts the converter anew, while the reference of the amplifier rises once} */
        public boolean startsAnewWithoutSoftStart() {
            Protection protection = regulator.protection();
            boolean startsAnew =
                    protection.hiccup().exists() || protection.lockout().stop() > Double.NEGATIVE_INFINITY;
            return amplifier != null && amplifier.softStart() > 0 && startsAnew;
        }

        @Override
        public double switchingFrequency() {
            return 1 / regulator.clockPeriod();
        }

        @Override
        public Converter drive(PowerStage stage) {
            return amplifier == null ? stage.drive(regulator) : stage.drive(regulator, amplifier);
        }
    }
}
