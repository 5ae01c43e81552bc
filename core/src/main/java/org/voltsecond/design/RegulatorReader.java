package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.AverageCurrentMode;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.design.CompensatorReader.AmplifierReader;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the keys of each kind of regulator. What a reader returns after faults is null, or of no use. */
final class RegulatorReader {
    private static final Map<String, Edge> MODULATIONS = new TreeMap<>(
            Map.of("trailing-edge", Edge.TRAILING, "leading-edge", Edge.LEADING, "double-edge", Edge.BOTH));

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

    private RegulatorReader() {}

    static @Nullable Regulated voltageMode(Section drive) {
        Loop loop = new Loop(drive);
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
    private static @Nullable VoltageMode computed(Loop loop, double frequency, Sensed sensed) {
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
        Loop loop = new Loop(drive);
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

    static @Nullable Regulated averageCurrentMode(Section drive) {
        Loop loop = new Loop(drive);
        double frequency = loop.frequency();
        Compensator inner = CompensatorReader.read(drive, "current_compensator");
        Limits ramp = ramp(drive);
        double maximumDutyCycle = loop.maximumDutyCycle();
        double softStart = loop.softStart();
        @Nullable Limits limits = loop.limits();
        boolean commanded = loop.isCommanded();
        double command = commanded ? loop.command() : 0;
        Sensed sensed = commanded ? new Sensed(1, 1) : loop.sensed();
        Compensator outer = commanded ? Compensator.proportional(1) : loop.compensator();
        double sense = commanded ? 1 : loop.sense();
        if (inner == null || outer == null) {
            return null;
        }
        AverageCurrentMode bare = commanded
                ? AverageCurrentMode.of(frequency, command, inner)
                : AverageCurrentMode.of(frequency, sensed.reference(), sensed.divider(), outer, sense, inner);
        AverageCurrentMode regulator = bare.withRamp(ramp.low(), ramp.high())
                .withMaximumDutyCycle(maximumDutyCycle)
                .withSoftStart(softStart);
        return new Regulated(
                "average-current-mode",
                limits == null ? regulator : regulator.withControlLimits(limits.low(), limits.high()),
                commanded);
    }

    static Regulated constantOnTime(Section drive) {
        Loop loop = new Loop(drive);
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
        Loop loop = new Loop(drive);
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

    /** Reads the keys that several kinds of regulators share: the voltage loop, soft start, limits of the control voltage. */
    static final class Loop {
        private final Section drive;

        Loop(Section drive) {
            this.drive = drive;
        }

        Sensed sensed() {
            return new Sensed(drive.quantity("reference"), drive.quantity("divider"));
        }

        @Nullable
        Compensator compensator() {
            return CompensatorReader.read(drive, "compensator");
        }

        double frequency() {
            return drive.quantity("switching_frequency");
        }

        /** Of a regulator that sets its own frequency. */
        double typicalFrequency() {
            if (!drive.has("typical_frequency")) {
                drive.fault(
                        "typical_frequency",
                        "missing; approximate switching frequency of this regulator, which has no clock: within a factor "
                                + "of 10 is enough; valid: "
                                + DesignKeys.of("drive", "typical_frequency")
                                        .kind()
                                        .valid());
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
    }

    /** Reads a hysteretic regulator: of the output voltage, or of the inductor current with a command or a voltage loop. */
    static final class HystereticReader {
        private final Section drive;
        private final Loop loop;

        private HystereticReader(Section drive) {
            this.drive = drive;
            this.loop = new Loop(drive);
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
