package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;

/**
 * A modulator whose pulses have a given length, as a duty cycle that is a state. Another state takes by how much the
 * comparator is off zero at the end of the pulse (at its begin, if that is what it decides): more than zero asks for a
 * longer pulse.
 *
 * @param inner whose comparator waits for the given time
 * @param currentLimit inductor current that the pulse ends with instead, A; NaN for none
 */
record HeldModulator(Modulator inner, double currentLimit) implements Modulator {
    /** States of a few volts and of a duty cycle beside those of a power stage; see {@link Compensator}. */
    private static final double SCALE = 0x1p-8;

    @Override
    public double clockPeriod() {
        return inner.clockPeriod();
    }

    @Override
    public List<String> faults() {
        return inner.faults();
    }

    @Override
    public List<OwnState> states() {
        return List.of(new OwnState("held duty cycle", SCALE, 0.5), new OwnState("comparator off zero", SCALE, 0));
    }

    @Override
    public Pulse start() {
        return inner.start();
    }

    @Override
    public Next cut(Pulse pulse, Sensing sensing) {
        return inner.cut(pulse, sensing);
    }

    @Override
    public Present in(Pulse pulse, Sensing sensing, AffineForm control, Plant plant) {
        Present present = inner.in(pulse, sensing, control, plant);
        Instant instant = inner.instant(pulse);
        List<AffineForm> rates = List.of(sensing.constant(0), sensing.constant(0));
        List<PulseRule> rules = new ArrayList<>();
        if (instant != null) {
            PulseRule comparator = present.rules().get(0);
            AffineForm form = Double.isNaN(currentLimit)
                    ? comparator.form()
                    : sensing.of(plant.inductorCurrent()).times(-1).plus(currentLimit);
            rules.add(held(comparator, form, instant, sensing));
        }
        return new Present(rates, rules, present.endSinceTick(), present.atEnd(), present.ramp());
    }

    private PulseRule held(PulseRule comparator, AffineForm form, Instant instant, Sensing sensing) {
        double period = clockPeriod();
        AffineForm time = sensing.own(0).times(instant.share() * period).plus(instant.begin() * period);
        AffineForm then = form.plusRamp(-form.slope()).plus(form.slope(), time).times(Math.signum(instant.share()));
        return new PulseRule(
                comparator.name(),
                time.plusRamp(-1),
                Next.to(comparator.then().pulse(), List.of(sensing.own(0), then)));
    }

    @Override
    public double @Nullable [] dutyCycles() {
        return inner.dutyCycles();
    }

    @Override
    public ControlLimits usableControl(Plant plant, Protection protection) {
        return inner.usableControl(plant, protection);
    }
}
