package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Off at the clock, on when the inductor current has fallen to the command and the compensating slope together.
 *
 * @param timing times and slopes
 */
record ValleyCurrentModulator(CurrentTiming timing) implements Modulator {

    private enum Part implements Pulse {
        /** Before the earliest begin of a pulse. */
        EARLY,
        OFF,
        ON,
        /** After a pulse that was cut short, until the next clock edge. */
        OVER;

        @Override
        public boolean on() {
            return this == ON;
        }
    }

    @Override
    public double clockPeriod() {
        return timing.clockPeriod();
    }

    @Override
    public List<String> faults() {
        double blanking = timing.blanking();
        return timing.checks()
                .require(
                        blanking >= 0 && !(blanking >= clockPeriod()),
                        "blanking time",
                        "0 s or more and below the period of " + Quantity.brief(clockPeriod(), Unit.SECOND),
                        blanking,
                        "s")
                .faults();
    }

    private double earliest() {
        return Math.max(timing.blanking(), (1 - timing.maximumDutyCycle()) * clockPeriod());
    }

    @Override
    public Pulse start() {
        return earliest() > 0 ? Part.EARLY : Part.OFF;
    }

    @Override
    public @Nullable Instant instant(Pulse pulse) {
        return pulse == Part.OFF ? new Instant(1, -1) : null;
    }

    @Override
    public double[] dutyCycles() {
        return new double[] {0, 1 - earliest() / clockPeriod()};
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return Next.to(Part.OVER);
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        AffineForm ramp =
                sensing.of(plant.inductorCurrent()).plusRamp(-timing.slope()).times(timing.sense());
        return switch ((Part) pulse) {
            case EARLY -> new Present(List.of(), List.of(), earliest(), Next.to(Part.OFF), ramp);
            case OFF ->
                new Present(
                        List.of(),
                        List.of(new PulseRule("valley current comparator", ramp.plus(-1, control), Next.to(Part.ON))),
                        clockPeriod(),
                        Next.to(start()),
                        ramp);
            case ON, OVER -> new Present(List.of(), List.of(), clockPeriod(), Next.to(start()), ramp);
        };
    }
}
