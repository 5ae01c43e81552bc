package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.CurrentMode.Extreme;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The clock begins one part of the period, the comparator of the inductor current ends it: on until the current has risen to
 * the command less the compensating slope, or off until it has fallen to the command and the slope together.
 *
 * @param extreme which of the two
 * @param clockPeriod s
 * @param sense control voltage over current command, V/A
 * @param slope of the compensation, referred to the inductor current, zero at the clock, A/s
 * @param blanking time from the clock in which the comparator is not listened to, s
 * @param maximumDutyCycle longest pulse in periods
 */
record CurrentModulator(
        Extreme extreme, double clockPeriod, double sense, double slope, double blanking, double maximumDutyCycle)
        implements Modulator {

    /** Where in the period. The comparator ends what the clock begins. */
    private enum Part {
        /** As the clock has it, and the comparator is not listened to yet. */
        BLANKED,
        /** As the clock has it. */
        BEFORE,
        /** After the comparator, until the next clock edge. */
        AFTER,
        /** Cut short: off until the next clock edge. */
        CUT
    }

    /**
     * A part of the period and what it means for the transistor.
     *
     * @param part where in the period
     * @param on whether the transistor is asked to be on
     */
    private record Stretch(Part part, boolean on) implements Pulse {}

    CurrentModulator withSlope(double newSlope) {
        return new CurrentModulator(extreme, clockPeriod, sense, newSlope, blanking, maximumDutyCycle);
    }

    CurrentModulator withBlanking(double newBlanking) {
        return new CurrentModulator(extreme, clockPeriod, sense, slope, newBlanking, maximumDutyCycle);
    }

    CurrentModulator withMaximumDutyCycle(double newMaximum) {
        return new CurrentModulator(extreme, clockPeriod, sense, slope, blanking, newMaximum);
    }

    private boolean peak() {
        return extreme == Extreme.PEAK;
    }

    private double longestPulse() {
        return maximumDutyCycle * clockPeriod;
    }

    @Override
    public Comparison comparison(boolean commanded) {
        return Comparison.ofCurrent(slope > 0 ? "sensed current with slope" : "sensed current", sense, commanded, 0);
    }

    @Override
    public List<String> faults() {
        double most = peak() ? longestPulse() : clockPeriod;
        String span = peak() ? "longest pulse" : "period";
        return new Checks()
                .frequency("switching frequency", clockPeriod)
                .positive("sense factor", sense, "V/A")
                .notNegative("slope compensation", slope, "A/s")
                .dutyCycle(maximumDutyCycle)
                .require(
                        blanking >= 0 && !(blanking >= most),
                        "blanking time",
                        "0 s or more and below the " + span + " of " + Quantity.brief(most, Unit.SECOND),
                        blanking,
                        "s")
                .faults();
    }

    @Override
    public @Nullable Instant instant(Pulse pulse) {
        if (((Stretch) pulse).part() != Part.BEFORE) {
            return null;
        }
        return peak() ? new Instant(0, 1) : new Instant(1, -1);
    }

    @Override
    public double[] dutyCycles() {
        double blind = blindTime() / clockPeriod;
        return peak() ? new double[] {blind, maximumDutyCycle} : new double[] {0, 1 - blind};
    }

    /** How long after the clock the comparator cannot switch. The longest pulse of a valley begins so late. */
    private double blindTime() {
        return peak() ? blanking : Math.max(blanking, (1 - maximumDutyCycle) * clockPeriod);
    }

    private Pulse in(Part part) {
        boolean asTheClock = part == Part.BLANKED || part == Part.BEFORE;
        return new Stretch(part, part != Part.CUT && asTheClock == peak());
    }

    @Override
    public Pulse start() {
        return in(blindTime() > 0 ? Part.BLANKED : Part.BEFORE);
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return Next.to(in(Part.CUT));
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        double direction = peak() ? 1 : -1;
        AffineForm ramp =
                sensing.of(plant.inductorCurrent()).plusRamp(direction * slope).times(sense);
        return switch (((Stretch) pulse).part()) {
            case BLANKED -> new Present(List.of(), List.of(), blindTime(), Next.to(in(Part.BEFORE)), ramp);
            case BEFORE -> {
                AffineForm left = peak() ? control.plus(-1, ramp) : ramp.plus(-1, control);
                PulseRule comparator =
                        new PulseRule(extreme.word() + " current comparator", left, Next.to(in(Part.AFTER)));
                boolean cutShort = peak() && maximumDutyCycle < 1;
                yield new Present(
                        List.of(),
                        List.of(comparator),
                        peak() ? longestPulse() : clockPeriod,
                        Next.to(cutShort ? in(Part.AFTER) : start()),
                        ramp);
            }
            case AFTER, CUT -> new Present(List.of(), List.of(), clockPeriod, Next.to(start()), ramp);
        };
    }

    /**
     * The compensating slope takes from the command of a peak what it adds to that of a valley: over the longest pulse, or
     * the longest time off. Where a synchronous transistor lets the current flow back, a valley of the light load lies below
     * zero.
     */
    @Override
    public ControlLimits usableControl(Plant plant, Protection protection) {
        ControlLimits current = Modulator.currentCommand(sense, plant, protection);
        if (peak()) {
            return current.with(0, current.high() + sense * slope * longestPulse());
        }
        double back = protection.letsCurrentBack(plant) ? current.high() : 0;
        return current.with(0 - back - sense * slope * clockPeriod, current.high());
    }
}
