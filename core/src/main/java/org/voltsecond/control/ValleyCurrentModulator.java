package org.voltsecond.control;

import java.util.List;
import org.voltsecond.engine.AffineForm;

/**
 * Off at the clock, on when the inductor current has fallen to the command and the compensating slope together.
 *
 * @param clockPeriod s
 * @param sense control voltage over current command, V/A
 * @param slope of the compensation, by which the current at which the transistor turns on rises from the clock on, A/s
 * @param blanking time from the clock in which the comparator is not listened to, s
 * @param maximumDutyCycle longest pulse in periods
 */
record ValleyCurrentModulator(double clockPeriod, double sense, double slope, double blanking, double maximumDutyCycle)
        implements Modulator {

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
    public List<String> faults() {
        return new Checks()
                .frequency("switching frequency", clockPeriod)
                .positive("sense factor", sense, "V/A")
                .notNegative("slope compensation", slope, "A/s")
                .dutyCycle(maximumDutyCycle)
                .require(
                        blanking >= 0 && !(blanking >= clockPeriod),
                        "blanking time",
                        "0 s or more and below the period of " + clockPeriod + " s",
                        blanking,
                        "s")
                .faults();
    }

    private double earliest() {
        return Math.max(blanking, (1 - maximumDutyCycle) * clockPeriod);
    }

    @Override
    public Pulse start() {
        return earliest() > 0 ? Part.EARLY : Part.OFF;
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return Next.to(Part.OVER);
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        AffineForm ramp = sensing.of(plant.inductorCurrent()).plusRamp(-slope).times(sense);
        return switch ((Part) pulse) {
            case EARLY -> new Present(List.of(), List.of(), earliest(), Next.to(Part.OFF), ramp);
            case OFF ->
                new Present(
                        List.of(),
                        List.of(new PulseRule("valley current comparator", ramp.plus(-1, control), Next.to(Part.ON))),
                        clockPeriod,
                        Next.to(start()),
                        ramp);
            case ON, OVER -> new Present(List.of(), List.of(), clockPeriod, Next.to(start()), ramp);
        };
    }
}
