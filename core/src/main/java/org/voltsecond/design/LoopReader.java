package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.LoopReader.Limits;
import org.voltsecond.design.LoopReader.Sensed;

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
        return new Sensed(drive.quantity("reference"), drive.quantity("divider"));
    }

    @Nullable
    Compensator compensator() {
        return CompensatorReader.read(drive);
    }

    double frequency() {
        return drive.quantity("switching_frequency");
    }

    /** Of a regulator that sets its own frequency. */
    double typicalFrequency() {
        if (!drive.has("typical_frequency")) {
            drive.fault(
                    "typical_frequency",
                    "missing; about how often this regulator, which has no clock, will switch: a guess within a factor "
                            + "of 10 will do; valid: "
                            + DesignKeys.of("drive", "typical_frequency").kind().valid());
            return Double.NaN;
        }
        return drive.quantity("typical_frequency");
    }

    double maximumDutyCycle() {
        return drive.quantity("maximum_duty_cycle");
    }

    double softStart() {
        return drive.quantity("soft_start");
    }

    /** Null where none are given: the regulator then takes its own. */
    @Nullable
    Limits limits() {
        Section table = drive.table("control_limits");
        if (table == null) {
            return null;
        }
        Limits limits = new Limits(table.quantity("low"), table.quantity("high"));
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
                    + "; valid: one of the two, for example current_command = " + drive.example("current_command")
                    + ", or reference, divider, compensator and sense for a voltage loop");
        }
        return commanded;
    }

    double command() {
        return drive.quantity("current_command");
    }

    double sense() {
        return drive.quantity("sense");
    }

    /** Reads a hysteretic regulator: of the output voltage, or of the inductor current with a command or a voltage loop. */
    static final class HystereticReader {
        private final Section drive;
        private final LoopReader loop;

        private HystereticReader(Section drive) {
            this.drive = drive;
            this.loop = new LoopReader(drive);
        }

        static @Nullable Regulated read(Section drive) {
            return new HystereticReader(drive).read();
        }

        private @Nullable Regulated read() {
            double frequency = loop.typicalFrequency();
            double delay = drive.quantity("delay");
            double minimumOffTime = drive.quantity("minimum_off_time");
            double maximumOnTime = drive.quantity("maximum_on_time", Double.POSITIVE_INFINITY);
            double softStart = loop.softStart();
            @Nullable Limits limits = loop.limits();
            boolean ofVoltage = isOfVoltage();
            boolean commanded = !ofVoltage && loop.isCommanded();
            Hysteretic regulator = ofVoltage ? ofVoltage(frequency) : ofCurrent(frequency, commanded);
            if (regulator == null) {
                return null;
            }
            regulator = regulator
                    .withDelay(delay)
                    .withMinimumOffTime(minimumOffTime)
                    .withMaximumOnTime(maximumOnTime)
                    .withSoftStart(softStart);
            if (limits != null) {
                regulator = regulator.withControlLimits(limits.low(), limits.high());
            }
            return new Regulated("hysteretic", regulator, commanded);
        }

        private boolean isOfVoltage() {
            boolean voltage = drive.has("voltage_band");
            boolean current = drive.has("current_band");
            if (voltage == current) {
                drive.fault((voltage
                                ? "both voltage_band and current_band are given"
                                : "neither voltage_band nor " + "current_band is given")
                        + "; valid: one of the two, for example voltage_band = " + drive.example("voltage_band"));
            }
            return !current;
        }

        private Hysteretic ofVoltage(double frequency) {
            Sensed sensed = loop.sensed();
            double band = drive.quantity("voltage_band");
            return Hysteretic.voltageBand(frequency, sensed.reference(), sensed.divider(), band);
        }

        private @Nullable Hysteretic ofCurrent(double frequency, boolean commanded) {
            double band = drive.quantity("current_band");
            if (commanded) {
                return Hysteretic.currentBand(frequency, loop.command(), band);
            }
            Sensed sensed = loop.sensed();
            Compensator compensator = loop.compensator();
            double sense = loop.sense();
            return compensator == null
                    ? null
                    : Hysteretic.currentBand(frequency, sensed.reference(), sensed.divider(), compensator, sense, band);
        }
    }
}
