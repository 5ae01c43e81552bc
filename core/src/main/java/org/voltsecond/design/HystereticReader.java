package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.design.LoopReader.Limits;
import org.voltsecond.design.LoopReader.Sensed;

/** Reads a hysteretic regulator: of the output voltage, or of the inductor current with a command or a voltage loop. */
final class HystereticReader {
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
        double delay = drive.quantity("delay", Kind.DELAY, 0);
        double minimumOffTime = drive.quantity("minimum_off_time", Kind.DELAY, 0);
        double maximumOnTime = drive.quantity("maximum_on_time", Kind.ON_TIME, Double.POSITIVE_INFINITY);
        double softStart = loop.softStart();
        Limits limits = loop.limits();
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
                .withSoftStart(softStart)
                .withControlLimits(limits.low(), limits.high());
        return new Regulated("hysteretic", regulator, commanded);
    }

    private boolean isOfVoltage() {
        boolean voltage = drive.has("voltage_band");
        boolean current = drive.has("current_band");
        if (voltage == current) {
            drive.fault((voltage
                            ? "both voltage_band and current_band are given"
                            : "neither voltage_band nor " + "current_band is given")
                    + "; valid: one of the two, for example voltage_band = " + Kind.VOLTAGE_BAND.example());
        }
        return !current;
    }

    private Hysteretic ofVoltage(double frequency) {
        Sensed sensed = loop.sensed();
        double band = drive.quantity("voltage_band", Kind.VOLTAGE_BAND, Double.NaN);
        return Hysteretic.voltageBand(frequency, sensed.reference(), sensed.divider(), band);
    }

    private @Nullable Hysteretic ofCurrent(double frequency, boolean commanded) {
        double band = drive.quantity("current_band", Kind.CURRENT_BAND, Double.NaN);
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
