package org.voltsecond.design;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.converter.ErrorAmplifier;

/**
 * What drives the switches: a fixed duty cycle, a regulator, or gates of a custom circuit.
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
     * A fixed duty cycle.
     *
     * @param dutyCycle the part of the period in which the transistor is closed, from 0 to 1; of a four-switch stage that of the
     *     input leg
     * @param outputLeg that of the output leg of a four-switch stage, from 0 to 1; the same where both are driven at once
     * @param switchingFrequency the frequency, Hz; more than 0
     */
    public record FixedDuty(double dutyCycle, double outputLeg, double switchingFrequency) implements DrivePlan {
        /**
         * Drives all switches alike.
         *
         * @param dutyCycle the part of the period in which the transistor is closed, from 0 to 1
         * @param switchingFrequency the frequency, Hz; more than 0
         */
        public FixedDuty(double dutyCycle, double switchingFrequency) {
            this(dutyCycle, dutyCycle, switchingFrequency);
        }

        /** {@return the drive of the transistor} */
        public Drive drive() {
            return Drive.fixedDuty(dutyCycle, switchingFrequency);
        }

        /** {@return whether the legs of a four-switch stage are driven apart} */
        public boolean isApart() {
            return outputLeg != dutyCycle;
        }
    }

    /**
     * A drive of its own for each switch of a circuit.
     *
     * @param drives by the names of the switches, all of one frequency; at least one
     */
    public record Gates(Map<String, Drive> drives) implements DrivePlan {
        /**
         * Copies the drives.
         *
         * @param drives by the names of the switches, all of one frequency; at least one
         */
        public Gates {
            drives = Collections.unmodifiableMap(new LinkedHashMap<>(drives));
        }

        @Override
        public double switchingFrequency() {
            return drives.values().iterator().next().switchingFrequency();
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
    }
}
