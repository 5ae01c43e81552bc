package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Hysteretic control: a comparator with a band holds the output voltage or the inductor current in it. There is no
 * clock; the switching frequency follows from the band and the circuit. Immutable; every {@code with} returns a new one.
 *
 * <p>A band of 0 without delay makes the comparator chatter wherever what it senses turns back at once; the run then ends
 * with an error that names the comparator.
 *
 * <pre>{@code
 * Hysteretic regulator = Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(0.3)) // 1.5 mV at the output
 *         .withDelay(nano(50)); // of the comparator
 * double frequency = 1 / stage.drive(regulator).steadyState().period(); // 338 kHz
 * }</pre>
 */
public final class Hysteretic extends ComposedRegulator<Hysteretic.FreeRunning, Hysteretic> {
    private Hysteretic(Parts<FreeRunning> parts) {
        super(parts);
    }

    /**
     * Returns a regulator that turns the transistor off when the sensed voltage has risen half a band above the
     * reference, and on when it has fallen half a band below.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0. Nothing happens at this frequency:
     *     it sets the scale of time for the arithmetic
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param band width of the band of the sensed voltage, V; 0 or more
     * @return the regulator
     */
    public static Hysteretic voltageBand(double typicalFrequency, double reference, double divider, double band) {
        return new Hysteretic(Parts.of(
                ControlLoop.of(reference, divider, Compensator.proportional(1)),
                modulator(typicalFrequency, false, 1, band)));
    }

    /**
     * Returns a regulator that holds the inductor current in a band around a command that is given.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0
     * @param currentCommand middle of the band, A; more than 0
     * @param band width of the band, A; 0 or more
     * @return the regulator
     */
    public static Hysteretic currentBand(double typicalFrequency, double currentCommand, double band) {
        return new Hysteretic(
                Parts.of(ControlLoop.ofCommand(currentCommand), modulator(typicalFrequency, true, 1, band)));
    }

    /**
     * Returns a regulator that holds the inductor current in a band around the command of a voltage loop.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @param band width of the band of the current, A; 0 or more
     * @return the regulator
     */
    public static Hysteretic currentBand(
            double typicalFrequency,
            double reference,
            double divider,
            Compensator compensator,
            double sense,
            double band) {
        return new Hysteretic(Parts.of(
                ControlLoop.of(reference, divider, compensator), modulator(typicalFrequency, true, sense, band)));
    }

    private static FreeRunning modulator(double frequency, boolean ofCurrent, double sense, double band) {
        return new FreeRunning(1 / frequency, ofCurrent, sense, band, 0, Double.POSITIVE_INFINITY, 0, false);
    }

    /**
     * Returns this regulator with a delay from the comparator's crossing to the switch.
     *
     * @param delay s; 0 or more
     * @return a new regulator
     */
    public Hysteretic withDelay(double delay) {
        return with(modulator().withDelay(delay));
    }

    /**
     * Returns this regulator with a limit of the on-time, which a stage needs whose output falls while the transistor is
     * on, if it is the output voltage that is held in the band.
     *
     * @param maximumOnTime s; more than 0, infinite for none
     * @return a new regulator
     */
    public Hysteretic withMaximumOnTime(double maximumOnTime) {
        return with(modulator().withTimes(maximumOnTime, modulator().minimumOffTime()));
    }

    /**
     * Returns this regulator with a shortest time off.
     *
     * @param minimumOffTime s; 0 or more
     * @return a new regulator
     */
    public Hysteretic withMinimumOffTime(double minimumOffTime) {
        return with(modulator().withTimes(modulator().maximumOnTime(), minimumOffTime));
    }

    /**
     * Returns this regulator with limits of the control voltage of its voltage loop, in place of those that one with a current
     * band takes of itself: from zero to the current limit of its protection or, without one, to twice the command at full load.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     */
    public Hysteretic withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    @Override
    Hysteretic of(Parts<FreeRunning> others) {
        return new Hysteretic(others);
    }

    @Override
    public String toString() {
        return "hysteretic control near " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }

    /**
     * Comparators and timers without a clock. What they look at is how much is missing: of the sensed voltage to the
     * reference, or of the inductor current to the command.
     *
     * @param clockPeriod about one period of the switching, s: a scale, nothing that happens
     * @param ofCurrent whether the current is looked at, otherwise the control voltage alone
     * @param sense control voltage over current command, V/A
     * @param band between the levels of turning on and off, V or A; the command is in its middle
     * @param delay from a comparator's crossing to the switch, s
     * @param maximumOnTime s; infinite for none
     * @param minimumOffTime s; 0 for none
     * @param endsByTime whether the longest on-time alone ends a pulse
     */
    record FreeRunning(
            double clockPeriod,
            boolean ofCurrent,
            double sense,
            double band,
            double delay,
            double maximumOnTime,
            double minimumOffTime,
            boolean endsByTime)
            implements Modulator {
        /** Beside volts and amperes a timer that counts periods is of the size of a control voltage. */
        private static final double SCALE = 0x1p-8;

        private enum Part implements Pulse {
            ON(true),
            TURNING_OFF(true),
            RESTING(false),
            OFF(false),
            TURNING_ON(false);

            private final boolean on;

            Part(boolean on) {
                this.on = on;
            }

            @Override
            public boolean on() {
                return on;
            }
        }

        FreeRunning withDelay(double newDelay) {
            return new FreeRunning(
                    clockPeriod, ofCurrent, sense, band, newDelay, maximumOnTime, minimumOffTime, endsByTime);
        }

        FreeRunning withTimes(double newMaximumOnTime, double newMinimumOffTime) {
            return new FreeRunning(
                    clockPeriod, ofCurrent, sense, band, delay, newMaximumOnTime, newMinimumOffTime, endsByTime);
        }

        /** Of pulses that follow each other as soon as they may. */
        @Override
        public double highestDutyCycle() {
            double off = minimumOffTime + delay;
            return maximumOnTime < Double.POSITIVE_INFINITY ? maximumOnTime / (maximumOnTime + off) : 1;
        }

        /** A comparator that looks at the error itself has nothing that could wind up. */
        @Override
        public ControlLimits usableControl(Plant plant, Protection protection) {
            if (!ofCurrent) {
                return ControlLimits.none(ControlLimits.Origin.NONE);
            }
            ControlLimits current = Modulator.currentCommand(sense, plant, protection);
            return protection.letsCurrentBack(plant) ? current.with(-current.high(), current.high()) : current;
        }

        @Override
        public List<String> faults() {
            String unit = ofCurrent ? "A" : "V";
            return new Checks()
                    .frequency("typical switching frequency", clockPeriod)
                    .positive("sense factor", sense, "V/A")
                    .notNegative("band", band, unit)
                    .notNegative("delay", delay, "s")
                    .require(
                            maximumOnTime > 0,
                            endsByTime ? "on-time" : "maximum on-time",
                            "more than 0 s",
                            maximumOnTime,
                            "s")
                    .require(
                            !endsByTime || !(maximumOnTime == Double.POSITIVE_INFINITY),
                            "on-time",
                            "finite",
                            maximumOnTime,
                            "s")
                    .notNegative("minimum off-time", minimumOffTime, "s")
                    .faults();
        }

        @Override
        public Comparison comparison(boolean commanded) {
            return ofCurrent
                    ? Comparison.ofCurrent("sensed current", sense, commanded, band)
                    : Comparison.ofError(endsByTime ? 0 : band);
        }

        @Override
        public boolean isClocked() {
            return false;
        }

        private boolean timed() {
            return delay > 0 || maximumOnTime < Double.POSITIVE_INFINITY || minimumOffTime > 0;
        }

        @Override
        public List<OwnState> states() {
            return timed() ? List.of(new OwnState("timer", SCALE, 0)) : List.of();
        }

        @Override
        public Pulse start() {
            return Part.ON;
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            return enter(afterPulse(), sensing);
        }

        private Part afterPulse() {
            return minimumOffTime > 0 ? Part.RESTING : Part.OFF;
        }

        /** The timer starts anew. */
        private Next enter(Part part, Sensing sensing) {
            return timed() ? Next.to(part, List.of(sensing.constant(0))) : Next.to(part);
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            Part part = (Part) pulse;
            AffineForm flowing = sensing.of(current);
            AffineForm missing = ofCurrent ? control.times(1 / sense).plus(-1, flowing) : control;
            List<PulseRule> rules = new ArrayList<>();
            addTimer(part, sensing, rules);
            addComparator(part, sensing, missing, rules);
            List<AffineForm> rates = timed() ? List.of(sensing.constant(1 / clockPeriod)) : List.of();
            AffineForm compared = ofCurrent ? flowing.times(sense) : sensing.constant(0);
            return new Present(rates, rules, Double.POSITIVE_INFINITY, Next.to(part), compared);
        }

        private void addTimer(Part part, Sensing sensing, List<PulseRule> rules) {
            double limit = limit(part);
            if (limit < Double.POSITIVE_INFINITY) {
                AffineForm left = sensing.own(0).times(-1).plus(limit / clockPeriod);
                rules.add(new PulseRule("timer", left, enter(afterTime(part), sensing)));
            }
        }

        private double limit(Part part) {
            return switch (part) {
                case ON -> maximumOnTime;
                case TURNING_OFF, TURNING_ON -> delay;
                case RESTING -> minimumOffTime;
                case OFF -> Double.POSITIVE_INFINITY;
            };
        }

        private Part afterTime(Part part) {
            return switch (part) {
                case ON, TURNING_OFF -> afterPulse();
                case RESTING, OFF -> Part.OFF;
                case TURNING_ON -> Part.ON;
            };
        }

        private void addComparator(Part part, Sensing sensing, AffineForm missing, List<PulseRule> rules) {
            String name = ofCurrent ? "current comparator" : "voltage comparator";
            if (part == Part.ON && !endsByTime) {
                Part then = delay > 0 ? Part.TURNING_OFF : afterPulse();
                rules.add(new PulseRule(name, missing.plus(band / 2), enter(then, sensing)));
            } else if (part == Part.OFF) {
                Part then = delay > 0 ? Part.TURNING_ON : Part.ON;
                rules.add(new PulseRule(name, missing.times(-1).plus(band / 2), enter(then, sensing)));
            }
        }
    }
}
