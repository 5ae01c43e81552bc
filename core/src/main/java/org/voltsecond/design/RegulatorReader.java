package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.design.CompensatorReader.AmplifierReader;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.LoopReader.Limits;
import org.voltsecond.design.LoopReader.Sensed;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the keys of each kind of regulator. What a reader returns after faults is null, or of no use. */
final class RegulatorReader {
    private static final Map<String, Edge> MODULATIONS = new TreeMap<>(
            Map.of("trailing-edge", Edge.TRAILING, "leading-edge", Edge.LEADING, "double-edge", Edge.BOTH));

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
        Edge edge = drive.choice("modulation", MODULATIONS);
        boolean latch = drive.flag("latch");
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
        @Nullable Limits limits = loop.limits();
        if (compensator == null) {
            return null;
        }
        VoltageMode started = VoltageMode.of(frequency, sensed.reference(), sensed.divider(), compensator)
                .withSoftStart(softStart);
        return limits == null ? started : started.withControlLimits(limits.low(), limits.high());
    }

    private static Limits ramp(Section drive) {
        Section table = drive.table("ramp");
        if (table == null) {
            return new Limits(0, 1);
        }
        Limits ramp = new Limits(table.quantity("valley"), table.quantity("peak"));
        if (ramp.low() >= ramp.high()) {
            table.fault(
                    "peak",
                    Quantity.brief(ramp.high(), Unit.VOLT) + " is not above the valley; valid: more than "
                            + Quantity.brief(ramp.low(), Unit.VOLT));
        }
        table.finish();
        return ramp;
    }

    static @Nullable Regulated currentMode(Section drive, CurrentMode.Extreme extreme) {
        LoopReader loop = new LoopReader(drive);
        String kind = extreme == CurrentMode.Extreme.PEAK ? "peak-current-mode" : "valley-current-mode";
        double frequency = loop.frequency();
        double slope = drive.quantity("slope_compensation");
        double blanking = drive.quantity("blanking_time");
        double maximumDutyCycle = loop.maximumDutyCycle();
        UnaryOperator<CurrentMode> timed = regulator -> regulator
                .withSlopeCompensation(slope)
                .withBlankingTime(blanking)
                .withMaximumDutyCycle(maximumDutyCycle);
        boolean commanded = loop.isCommanded();
        if (!commanded && AmplifierReader.isMeant(drive)) {
            ErrorAmplifier amplifier = AmplifierReader.read(drive, loop.sensed());
            CurrentMode amplified = CurrentMode.withErrorAmplifier(extreme, frequency, loop.sense());
            return new Regulated(kind, timed.apply(amplified), amplifier, false);
        }
        double softStart = loop.softStart();
        @Nullable Limits limits = loop.limits();
        CurrentMode regulator;
        if (commanded) {
            regulator = CurrentMode.of(extreme, frequency, loop.command());
        } else {
            Sensed sensed = loop.sensed();
            Compensator compensator = loop.compensator();
            double sense = loop.sense();
            if (compensator == null) {
                return null;
            }
            regulator = CurrentMode.of(extreme, frequency, sensed.reference(), sensed.divider(), compensator, sense);
        }
        CurrentMode started = timed.apply(regulator).withSoftStart(softStart);
        CurrentMode limited = limits == null ? started : started.withControlLimits(limits.low(), limits.high());
        return new Regulated(kind, limited, commanded);
    }

    static Regulated constantOnTime(Section drive) {
        LoopReader loop = new LoopReader(drive);
        Sensed sensed = loop.sensed();
        ConstantOnTime regulator = ConstantOnTime.of(
                        loop.typicalFrequency(),
                        sensed.reference(),
                        sensed.divider(),
                        drive.quantity("on_time"),
                        drive.quantity("minimum_off_time"))
                .withDelay(drive.quantity("delay"))
                .withSoftStart(loop.softStart());
        return new Regulated("constant-on-time", regulator, false);
    }

    static Regulated sampled(Section drive) {
        LoopReader loop = new LoopReader(drive);
        double frequency = loop.frequency();
        Sensed sensed = loop.sensed();
        double[] numerator = coefficients(drive, "numerator");
        double[] denominator = coefficients(drive, "denominator");
        SampledControl regulator = SampledControl.of(frequency, sensed.reference(), sensed.divider(), numerator)
                .withDenominator(denominator)
                .withBias(drive.quantity("bias"))
                .withSampling(drive.quantity("sampling_instant"), drive.quantity("delay"))
                .withMaximumDutyCycle(loop.maximumDutyCycle())
                .withQuantisedDutyCycle(drive.whole("duty_cycle_steps"))
                .withSoftStart(loop.softStart());
        return new Regulated("sampled", regulator, false);
    }

    private static double[] coefficients(Section drive, String key) {
        List<Double> values = drive.quantities(key);
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
