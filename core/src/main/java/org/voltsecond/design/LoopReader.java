package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;

/** Reads the keys that several kinds of regulators share: the voltage loop, soft start, limits of the control voltage. */
final class LoopReader {
    private final Section drive;

    LoopReader(Section drive) {
        this.drive = drive;
    }

    /**
     * What is sensed and compared.
     *
     * @param reference V
     * @param divider sensed voltage over output voltage
     */
    record Sensed(double reference, double divider) {}

    /**
     * Limits of the control voltage.
     *
     * @param low V
     * @param high V
     */
    record Limits(double low, double high) {}

    Sensed sensed() {
        return new Sensed(drive.quantity("reference", Kind.REFERENCE), drive.quantity("divider", Kind.DIVIDER));
    }

    @Nullable
    Compensator compensator() {
        return CompensatorReader.read(drive);
    }

    double frequency() {
        return drive.quantity("switching_frequency", Kind.FREQUENCY);
    }

    /** Of a regulator that sets its own frequency. */
    double typicalFrequency() {
        if (!drive.has("typical_frequency")) {
            drive.fault(
                    "typical_frequency",
                    "missing; about how often this regulator, which has no clock, will switch: a guess within a factor "
                            + "of 10 will do; valid: " + Kind.FREQUENCY.valid());
            return Double.NaN;
        }
        return drive.quantity("typical_frequency", Kind.FREQUENCY);
    }

    double maximumDutyCycle() {
        return drive.quantity("maximum_duty_cycle", Kind.MAXIMUM_DUTY_CYCLE, 1);
    }

    double softStart() {
        return drive.quantity("soft_start", Kind.SOFT_START, 0);
    }

    /** Infinite where there are none. */
    Limits limits() {
        Section table = drive.table("control_limits");
        if (table == null) {
            return new Limits(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
        }
        Limits limits = new Limits(table.quantity("low", Kind.LEVEL), table.quantity("high", Kind.LEVEL));
        table.finish();
        return limits;
    }

    /** Whether the inductor current is commanded, and not by a voltage loop. */
    boolean isCommanded() {
        boolean commanded = drive.has("current_command");
        boolean looped = drive.has("reference");
        if (commanded == looped) {
            drive.fault((commanded
                            ? "both current_command and reference are given"
                            : "neither current_command nor " + "reference is given")
                    + "; valid: one of the two, for example current_command = " + Kind.COMMAND.example()
                    + ", or reference, divider, compensator and sense for a voltage loop");
        }
        return commanded;
    }

    double command() {
        return drive.quantity("current_command", Kind.COMMAND);
    }

    double sense() {
        return drive.quantity("sense", Kind.SENSE);
    }
}
