package org.voltsecond.control;

import java.util.List;
import org.voltsecond.engine.AffineForm;

/**
 * On at the clock, off when the inductor current and the compensating slope together reach the command.
 *
 * @param clockPeriod s
 * @param sense control voltage over current command, V/A
 * @param slope of the compensation, referred to the inductor current, zero at the clock, A/s
 * @param blanking time from the clock in which the comparator is not listened to, s
 * @param maximumDutyCycle longest pulse in periods
 */
record PeakCurrentModulator(double clockPeriod, double sense, double slope, double blanking, double maximumDutyCycle)
        implements Modulator {

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
    public List<String> faults() {
        return new Checks()
                .frequency("switching frequency", clockPeriod)
                .positive("sense factor", sense, "V/A")
                .notNegative("slope compensation", slope, "A/s")
                .dutyCycle(maximumDutyCycle)
                .require(
                        blanking >= 0 && !(blanking >= longest()),
                        "blanking time",
                        "0 s or more and below the longest pulse of " + longest() + " s",
                        blanking,
                        "s")
                .faults();
    }

    private double longest() {
        return maximumDutyCycle * clockPeriod;
    }

    @Override
    public Pulse start() {
        return blanking > 0 ? Part.BLANKED : Part.ON;
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return Next.to(Part.OVER);
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        AffineForm ramp = sensing.of(plant.inductorCurrent()).plusRamp(slope).times(sense);
        return switch ((Part) pulse) {
            case BLANKED -> new Present(List.of(), List.of(), blanking, Next.to(Part.ON), ramp);
            case ON ->
                new Present(
                        List.of(),
                        List.of(new PulseRule("peak current comparator", control.plus(-1, ramp), Next.to(Part.OVER))),
                        longest(),
                        Next.to(maximumDutyCycle < 1 ? Part.OVER : start()),
                        ramp);
            case OVER -> new Present(List.of(), List.of(), clockPeriod, Next.to(start()), ramp);
        };
    }
}
