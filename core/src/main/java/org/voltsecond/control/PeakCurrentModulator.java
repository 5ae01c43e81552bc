package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * On at the clock, off when the inductor current and the compensating slope together reach the command.
 *
 * @param timing times and slopes
 */
record PeakCurrentModulator(CurrentTiming timing) implements Modulator {

    private enum Part implements Pulse {
        BLANKED,
        ON,
        /** Until the next clock edge. */
        OVER;

        @Override
        public boolean on() {
            return this != OVER;
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
                        blanking >= 0 && !(blanking >= timing.longestPulse()),
                        "blanking time",
                        "0 s or more and below the longest pulse of "
                                + Quantity.brief(timing.longestPulse(), Unit.SECOND),
                        blanking,
                        "s")
                .faults();
    }

    @Override
    public Pulse start() {
        return timing.blanking() > 0 ? Part.BLANKED : Part.ON;
    }

    @Override
    public @Nullable Instant instant(Pulse pulse) {
        return pulse == Part.ON ? new Instant(0, 1) : null;
    }

    @Override
    public double[] dutyCycles() {
        return new double[] {timing.blanking() / clockPeriod(), timing.maximumDutyCycle()};
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return Next.to(Part.OVER);
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        AffineForm ramp =
                sensing.of(plant.inductorCurrent()).plusRamp(timing.slope()).times(timing.sense());
        return switch ((Part) pulse) {
            case BLANKED -> new Present(List.of(), List.of(), timing.blanking(), Next.to(Part.ON), ramp);
            case ON ->
                new Present(
                        List.of(),
                        List.of(new PulseRule("peak current comparator", control.plus(-1, ramp), Next.to(Part.OVER))),
                        timing.longestPulse(),
                        Next.to(timing.maximumDutyCycle() < 1 ? Part.OVER : start()),
                        ramp);
            case OVER -> new Present(List.of(), List.of(), clockPeriod(), Next.to(start()), ramp);
        };
    }
}
