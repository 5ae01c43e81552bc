package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Voltage-mode control: the output is compared with a reference, the compensator makes the control voltage of the error,
 * and a comparator makes pulses of the control voltage and a ramp. Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * VoltageMode regulator = VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
 *         .withRamp(0, 1) // V
 *         .withMaximumDutyCycle(0.95)
 *         .withSoftStart(milli(2));
 * Converter rail = stage.drive(regulator);
 * double output = rail.startUp(milli(4)).of(rail.outputVoltage()).at(milli(4)); // 5.00 V
 * }</pre>
 */
public final class VoltageMode extends ComposedRegulator<VoltageMode.RampModulator, VoltageMode> {
    private VoltageMode(Parts<RampModulator> parts) {
        super(parts);
    }

    /** Which edge of a pulse the control voltage moves; the clock fixes the other. */
    public enum Edge {
        /** The ramp rises over the period; the clock turns the transistor on, the comparator turns it off. */
        TRAILING,
        /** The ramp falls over the period; the comparator turns the transistor on, the clock turns it off. */
        LEADING,
        /** The ramp is a triangle; the comparator moves both edges. */
        BOTH
    }

    /**
     * Returns a regulator with a ramp from 0 V to 1 V, trailing edge, one pulse per period, no soft start and no limits.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @return the regulator
     */
    public static VoltageMode of(double switchingFrequency, double reference, double divider, Compensator compensator) {
        return of(ControlLoop.of(reference, divider, compensator), switchingFrequency);
    }

    /**
     * Returns a regulator whose control voltage the circuit makes, with an amplifier and its network as parts. Reference,
     * soft start and limits are then parts of the circuit too.
     *
     * @param switchingFrequency Hz; more than 0
     * @param controlVoltage a voltage of the circuit
     * @return the regulator; ramp from 0 V to 1 V, trailing edge, one pulse per period
     */
    public static VoltageMode sensing(double switchingFrequency, Signal controlVoltage) {
        return of(new ControlPath.OfCircuit(controlVoltage), switchingFrequency);
    }

    /**
     * Returns a regulator whose control voltage an error amplifier of the stage makes, whose parts also hold reference and
     * limits.
     *
     * @param switchingFrequency Hz; more than 0
     * @return the regulator; ramp from 0 V to 1 V, trailing edge, one pulse per period
     */
    public static VoltageMode withErrorAmplifier(double switchingFrequency) {
        return of(ControlPath.OfCircuit.byAmplifier(), switchingFrequency);
    }

    /**
     * Returns this regulator with another ramp.
     *
     * @param valley lowest value, V
     * @param peak highest value, V; above the valley
     * @return a new regulator
     */
    public VoltageMode withRamp(double valley, double peak) {
        return with(modulator().withRamp(valley, peak));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public VoltageMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().withMaximumDutyCycle(maximumDutyCycle));
    }

    /**
     * Returns this regulator with another modulation.
     *
     * @param edge which edge of the pulse the control voltage moves
     * @param latch whether there is at most one pulse in a period; false: natural sampling, the comparator drives the
     *     switch
     * @return a new regulator
     */
    public VoltageMode withModulation(Edge edge, boolean latch) {
        return with(modulator().withModulation(edge, latch));
    }

    /**
     * Returns this regulator with limits of the control voltage in place of those that it takes of itself, the valley and the
     * peak of its ramp.
     *
     * @param low lower limit, V; minus infinity for none
     * @param high upper limit, V; above the lower; infinite for none
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public VoltageMode withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    private static VoltageMode of(ControlPath path, double switchingFrequency) {
        return new VoltageMode(Parts.of(path, new RampModulator(1 / switchingFrequency, 0, 1, 1, Edge.TRAILING, true)));
    }

    @Override
    VoltageMode of(Parts<RampModulator> others) {
        return new VoltageMode(others);
    }

    @Override
    public String toString() {
        return "voltage mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }

    /**
     * Compares the control voltage with a ramp that repeats with the clock.
     *
     * @param clockPeriod s
     * @param valley lowest value of the ramp, V
     * @param peak highest value, V
     * @param maximumDutyCycle longest pulse in periods
     * @param edge which edge of the pulse the control voltage moves
     * @param latch whether there is at most one pulse in a period; otherwise the comparator drives the switch
     */
    record RampModulator(
            double clockPeriod, double valley, double peak, double maximumDutyCycle, Edge edge, boolean latch)
            implements Modulator {

        /** Where in the period. A rising ramp ends a pulse, a falling one begins it. */
        private enum Part implements Pulse {
            RISING_ON(true),
            RISING_OFF(false),
            /** After the longest pulse: off until the ramp turns. */
            RISING_OVER(false),
            /** Before the earliest start of a pulse: off. */
            FALLING_EARLY(false),
            FALLING_OFF(false),
            FALLING_ON(true),
            /** Cut short: off until the clock, and in the rise after it too. */
            FALLING_OVER(false);

            private final boolean on;

            Part(boolean on) {
                this.on = on;
            }

            @Override
            public boolean on() {
                return on;
            }

            boolean rising() {
                return this == RISING_ON || this == RISING_OFF || this == RISING_OVER;
            }
        }

        RampModulator withRamp(double newValley, double newPeak) {
            return new RampModulator(clockPeriod, newValley, newPeak, maximumDutyCycle, edge, latch);
        }

        RampModulator withMaximumDutyCycle(double newMaximum) {
            return new RampModulator(clockPeriod, valley, peak, newMaximum, edge, latch);
        }

        RampModulator withModulation(Edge newEdge, boolean newLatch) {
            return new RampModulator(clockPeriod, valley, peak, maximumDutyCycle, newEdge, newLatch);
        }

        @Override
        public boolean clockEndsPulses() {
            return edge == Edge.LEADING;
        }

        @Override
        public ControlLimits usableControl(Plant plant, Protection protection) {
            return new ControlLimits(valley, peak, ControlLimits.Origin.RAMP);
        }

        @Override
        public List<String> faults() {
            List<String> faults = new ArrayList<>();
            if (!(clockPeriod > 0 && clockPeriod < Double.POSITIVE_INFINITY)) {
                faults.add(
                        "the switching frequency must be more than 0 Hz and finite but was " + 1 / clockPeriod + " Hz");
            }
            if (!(valley < peak && peak - valley < Double.POSITIVE_INFINITY)) {
                faults.add("the valley of the ramp must be below its peak but they were " + valley + " V and " + peak
                        + " V");
            }
            if (!(maximumDutyCycle > 0 && maximumDutyCycle <= 1)) {
                faults.add("the maximum duty cycle must be more than 0 and at most 1 but was " + maximumDutyCycle);
            }
            return faults;
        }

        @Override
        public Pulse start() {
            return edge == Edge.LEADING ? beginOfFall() : Part.RISING_ON;
        }

        private Part beginOfFall() {
            return maximumDutyCycle < 1 ? Part.FALLING_EARLY : Part.FALLING_OFF;
        }

        @Override
        public Pulse resting() {
            return start() == Part.RISING_ON ? Part.RISING_OVER : Part.FALLING_OVER;
        }

        @Override
        public List<Pulse> pulses() {
            return List.of(Part.values());
        }

        @Override
        public List<String> faultsIn(SwitchPattern pattern) {
            return List.of();
        }

        /** Of two legs that take turns the first one steps down: its pulse may fill the period. */
        @Override
        public RampModulator ofLeg(SwitchPattern pattern, int leg) {
            boolean stepsDown = pattern.timing() == SwitchPattern.Timing.FOUR_SWITCH && leg == 0;
            double longest = stepsDown ? 1 : Math.min(maximumDutyCycle, pattern.longestPulse());
            double raise = pattern.raise(leg) * (peak - valley);
            return withRamp(valley + raise, peak + raise).withMaximumDutyCycle(longest);
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            return Next.to(((Part) pulse).rising() ? Part.RISING_OVER : Part.FALLING_OVER);
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            Part part = (Part) pulse;
            AffineForm ramp = ramp(part, sensing);
            AffineForm above = control.plus(-1, ramp);
            return new Present(List.of(), rules(part, above), end(part), Next.to(next(part)), ramp);
        }

        /** The rising part of a triangle takes the first half of the period, the falling part the second. */
        private AffineForm ramp(Part part, Sensing sensing) {
            double swing = peak - valley;
            return switch (edge) {
                case TRAILING -> sensing.constant(valley).plusRamp(swing / clockPeriod);
                case LEADING -> sensing.constant(peak).plusRamp(-swing / clockPeriod);
                case BOTH ->
                    part.rising()
                            ? sensing.constant(valley).plusRamp(2 * swing / clockPeriod)
                            : sensing.constant(peak + swing).plusRamp(-2 * swing / clockPeriod);
            };
        }

        private List<PulseRule> rules(Part part, AffineForm above) {
            AffineForm below = above.times(-1);
            return switch (part) {
                case RISING_ON -> List.of(comparator(above, latch ? Part.RISING_OVER : Part.RISING_OFF));
                case RISING_OFF -> List.of(comparator(below, Part.RISING_ON));
                case FALLING_OFF -> List.of(comparator(below, Part.FALLING_ON));
                case FALLING_ON -> latch ? List.of() : List.of(comparator(above, Part.FALLING_OFF));
                case RISING_OVER, FALLING_EARLY, FALLING_OVER -> List.of();
            };
        }

        /** With a triangle half of the pulse lies on each side of the clock. */
        @Override
        public @Nullable Instant instant(Pulse pulse) {
            double share = edge == Edge.BOTH ? 0.5 : 1;
            return switch ((Part) pulse) {
                case RISING_ON -> new Instant(0, share);
                case FALLING_OFF -> new Instant(1, -share);
                case RISING_OFF, RISING_OVER, FALLING_EARLY, FALLING_ON, FALLING_OVER -> null;
            };
        }

        @Override
        public double[] dutyCycles() {
            return new double[] {0, maximumDutyCycle};
        }

        @Override
        public double @Nullable [] rampOfPulse(double begin, double duration, double[] current) {
            if (edge != Edge.TRAILING) {
                return null;
            }
            double[] ramp = new double[current.length];
            ramp[0] = valley + (peak - valley) / clockPeriod * begin;
            ramp[1] = (peak - valley) / clockPeriod * duration;
            return ramp;
        }

        private static PulseRule comparator(AffineForm form, Part then) {
            return new PulseRule("PWM comparator", form, Next.to(then));
        }

        @Override
        public double end(Pulse pulse) {
            Part part = (Part) pulse;
            double share = edge == Edge.BOTH ? 0.5 : 1;
            double turn = share * clockPeriod;
            if (part.rising()) {
                boolean limited = part == Part.RISING_ON || part == Part.RISING_OFF;
                return limited ? turn * maximumDutyCycle : turn;
            }
            double begin = clockPeriod - turn;
            return part == Part.FALLING_EARLY ? begin + turn * (1 - maximumDutyCycle) : clockPeriod;
        }

        @Override
        public Pulse next(Pulse pulse) {
            return switch ((Part) pulse) {
                case RISING_ON, RISING_OFF, RISING_OVER -> afterRise((Part) pulse);
                case FALLING_EARLY -> Part.FALLING_OFF;
                case FALLING_OVER -> edge == Edge.LEADING ? beginOfFall() : Part.RISING_OVER;
                case FALLING_OFF, FALLING_ON -> edge == Edge.LEADING ? beginOfFall() : Part.RISING_ON;
            };
        }

        private Pulse afterRise(Part part) {
            if (part != Part.RISING_OVER && maximumDutyCycle < 1) {
                return Part.RISING_OVER;
            }
            return edge == Edge.TRAILING ? Part.RISING_ON : beginOfFall();
        }
    }
}
