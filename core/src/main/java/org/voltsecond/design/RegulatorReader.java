package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.PeakCurrentMode;
import org.voltsecond.control.PulseEdge;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.ValleyCurrentMode;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.design.CompensatorReader.AmplifierReader;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.LoopReader.Limits;
import org.voltsecond.design.LoopReader.Sensed;

/** Reads the keys of each kind of regulator. What a reader returns after faults is null, or of no use. */
final class RegulatorReader {
    private static final Map<String, PulseEdge> MODULATIONS = new TreeMap<>(Map.of(
            "trailing-edge", PulseEdge.TRAILING, "leading-edge", PulseEdge.LEADING, "double-edge", PulseEdge.BOTH));
    private static final int MOST_COEFFICIENTS = 16;

    private RegulatorReader() {}

    static @Nullable Regulated voltageMode(Section drive) {
        LoopReader loop = new LoopReader(drive);
        double frequency = loop.frequency();
        Sensed sensed = loop.sensed();
        boolean parts = AmplifierReader.isMeant(drive);
        ErrorAmplifier amplifier = parts ? AmplifierReader.read(drive, sensed) : null;
        VoltageMode bare = parts ? VoltageMode.withErrorAmplifier(frequency) : computed(loop, frequency, sensed);
        Limits ramp = ramp(drive);
        double maximumDutyCycle = loop.maximumDutyCycle();
        PulseEdge edge = drive.choice("modulation", MODULATIONS, PulseEdge.TRAILING);
        boolean latch = drive.flag("latch", true);
        if (bare == null || edge == null) {
            return null;
        }
        VoltageMode regulator = bare.withRamp(ramp.low(), ramp.high())
                .withMaximumDutyCycle(maximumDutyCycle)
                .withModulation(edge, latch);
        return new Regulated("voltage-mode", regulator, amplifier, false);
    }

    /** With the compensator as a transfer function. */
    private static @Nullable VoltageMode computed(LoopReader loop, double frequency, Sensed sensed) {
        Compensator compensator = loop.compensator();
        double softStart = loop.softStart();
        Limits limits = loop.limits();
        return compensator == null
                ? null
                : VoltageMode.of(frequency, sensed.reference(), sensed.divider(), compensator)
                        .withSoftStart(softStart)
                        .withControlLimits(limits.low(), limits.high());
    }

    private static Limits ramp(Section drive) {
        Section table = drive.table("ramp");
        if (table == null) {
            return new Limits(0, 1);
        }
        Limits ramp = new Limits(table.quantity("valley", Kind.LEVEL), table.quantity("peak", Kind.LEVEL));
        table.finish();
        return ramp;
    }

    /** The keys of both kinds of current mode. */
    private record CurrentKeys(double slope, double blanking, double maximumDutyCycle) {
        static CurrentKeys of(Section drive, LoopReader loop) {
            return new CurrentKeys(
                    drive.quantity("slope_compensation", Kind.SLOPE, 0),
                    drive.quantity("blanking_time", Kind.DELAY, 0),
                    loop.maximumDutyCycle());
        }

        PeakCurrentMode in(PeakCurrentMode regulator) {
            return regulator
                    .withSlopeCompensation(slope)
                    .withBlankingTime(blanking)
                    .withMaximumDutyCycle(maximumDutyCycle);
        }

        ValleyCurrentMode in(ValleyCurrentMode regulator) {
            return regulator
                    .withSlopeCompensation(slope)
                    .withBlankingTime(blanking)
                    .withMaximumDutyCycle(maximumDutyCycle);
        }
    }

    static @Nullable Regulated peakCurrentMode(Section drive) {
        LoopReader loop = new LoopReader(drive);
        double frequency = loop.frequency();
        CurrentKeys keys = CurrentKeys.of(drive, loop);
        boolean commanded = loop.isCommanded();
        if (!commanded && AmplifierReader.isMeant(drive)) {
            ErrorAmplifier amplifier = AmplifierReader.read(drive, loop.sensed());
            PeakCurrentMode amplified = keys.in(PeakCurrentMode.withErrorAmplifier(frequency, loop.sense()));
            return new Regulated("peak-current-mode", amplified, amplifier, false);
        }
        double softStart = loop.softStart();
        Limits limits = loop.limits();
        PeakCurrentMode regulator;
        if (commanded) {
            regulator = PeakCurrentMode.of(frequency, loop.command());
        } else {
            Sensed sensed = loop.sensed();
            Compensator compensator = loop.compensator();
            double sense = loop.sense();
            if (compensator == null) {
                return null;
            }
            regulator = PeakCurrentMode.of(frequency, sensed.reference(), sensed.divider(), compensator, sense);
        }
        regulator = keys.in(regulator).withSoftStart(softStart).withControlLimits(limits.low(), limits.high());
        return new Regulated("peak-current-mode", regulator, commanded);
    }

    static @Nullable Regulated valleyCurrentMode(Section drive) {
        LoopReader loop = new LoopReader(drive);
        double frequency = loop.frequency();
        CurrentKeys keys = CurrentKeys.of(drive, loop);
        boolean commanded = loop.isCommanded();
        if (!commanded && AmplifierReader.isMeant(drive)) {
            ErrorAmplifier amplifier = AmplifierReader.read(drive, loop.sensed());
            ValleyCurrentMode amplified = keys.in(ValleyCurrentMode.withErrorAmplifier(frequency, loop.sense()));
            return new Regulated("valley-current-mode", amplified, amplifier, false);
        }
        double softStart = loop.softStart();
        Limits limits = loop.limits();
        ValleyCurrentMode regulator;
        if (commanded) {
            regulator = ValleyCurrentMode.of(frequency, loop.command());
        } else {
            Sensed sensed = loop.sensed();
            Compensator compensator = loop.compensator();
            double sense = loop.sense();
            if (compensator == null) {
                return null;
            }
            regulator = ValleyCurrentMode.of(frequency, sensed.reference(), sensed.divider(), compensator, sense);
        }
        regulator = keys.in(regulator).withSoftStart(softStart).withControlLimits(limits.low(), limits.high());
        return new Regulated("valley-current-mode", regulator, commanded);
    }

    static Regulated constantOnTime(Section drive) {
        LoopReader loop = new LoopReader(drive);
        Sensed sensed = loop.sensed();
        ConstantOnTime regulator = ConstantOnTime.of(
                        loop.typicalFrequency(),
                        sensed.reference(),
                        sensed.divider(),
                        drive.quantity("on_time", Kind.ON_TIME),
                        drive.quantity("minimum_off_time", Kind.DELAY, 0))
                .withDelay(drive.quantity("delay", Kind.DELAY, 0))
                .withSoftStart(loop.softStart());
        return new Regulated("constant-on-time", regulator, false);
    }

    static Regulated sampled(Section drive) {
        LoopReader loop = new LoopReader(drive);
        double frequency = loop.frequency();
        Sensed sensed = loop.sensed();
        double[] numerator = coefficients(drive, "numerator", 1);
        double[] denominator = coefficients(drive, "denominator", 0);
        SampledControl regulator = SampledControl.of(frequency, sensed.reference(), sensed.divider(), numerator)
                .withDenominator(denominator)
                .withBias(drive.quantity("bias", Kind.COEFFICIENT, 0))
                .withSampling(
                        drive.quantity("sampling_instant", Kind.SAMPLING_INSTANT, 0),
                        drive.quantity("delay", Kind.DELAY, 0))
                .withMaximumDutyCycle(loop.maximumDutyCycle())
                .withQuantisedDutyCycle(drive.whole("duty_cycle_steps", 0, 0))
                .withSoftStart(loop.softStart());
        return new Regulated("sampled", regulator, false);
    }

    private static double[] coefficients(Section drive, String key, int least) {
        List<Double> values = drive.quantities(key, Kind.COEFFICIENT, least, MOST_COEFFICIENTS);
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
