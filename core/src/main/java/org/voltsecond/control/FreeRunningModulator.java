package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;

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
record FreeRunningModulator(
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

    FreeRunningModulator withDelay(double newDelay) {
        return new FreeRunningModulator(
                clockPeriod, ofCurrent, sense, band, newDelay, maximumOnTime, minimumOffTime, endsByTime);
    }

    FreeRunningModulator withTimes(double newMaximumOnTime, double newMinimumOffTime) {
        return new FreeRunningModulator(
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
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        Part part = (Part) pulse;
        AffineForm current = sensing.of(plant.inductorCurrent());
        AffineForm missing = ofCurrent ? control.times(1 / sense).plus(-1, current) : control;
        List<PulseRule> rules = new ArrayList<>();
        addTimer(part, sensing, rules);
        addComparator(part, sensing, missing, rules);
        List<AffineForm> rates = timed() ? List.of(sensing.constant(1 / clockPeriod)) : List.of();
        AffineForm compared = ofCurrent ? current.times(sense) : sensing.constant(0);
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
