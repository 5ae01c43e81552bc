package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.control.Controller.Channel;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * From the sensed output to the control voltage: reference with soft start, divider, compensator, limits of the control
 * voltage. Immutable.
 *
 * <p>At a limit the control voltage stays at the limit to the bit, as that of a transconductance amplifier whose output
 * is clamped: the other capacitors of its network go on towards the limit, and the control voltage leaves it in the
 * moment in which the network as a whole asks for less (no wind-up). A compensator without integrator is simply cut.
 *
 * @param reference V; of a command that is given A, at a control voltage of 1 V/A
 * @param softStart time in which the reference rises linearly from 0, s; 0 for none
 * @param divider sensed voltage over output voltage; 0 where the command is given and nothing is sensed
 * @param compensator from error to control voltage
 * @param limits of the control voltage; of origin {@code NONE} where none were asked for
 * @param commanded whether the command is given
 */
record ControlLoop(
        double reference,
        double softStart,
        double divider,
        Compensator compensator,
        ControlLimits limits,
        boolean commanded)
        implements ControlPath {

    private static final ControlLimits UNLIMITED = ControlLimits.none(ControlLimits.Origin.NONE);

    /** A loop without soft start and with no limits asked for. */
    static ControlLoop of(double reference, double divider, Compensator compensator) {
        return new ControlLoop(reference, 0, divider, compensator, UNLIMITED, false);
    }

    /** A current command that is given: the loop senses nothing. */
    static ControlLoop ofCommand(double command) {
        return new ControlLoop(command, 0, 0, Compensator.proportional(1), UNLIMITED, true);
    }

    ControlLoop withSoftStart(double time) {
        return new ControlLoop(reference, time, divider, compensator, limits, commanded);
    }

    ControlLoop withReference(double newReference) {
        return new ControlLoop(newReference, softStart, divider, compensator, limits, commanded);
    }

    ControlLoop withDivider(double newDivider) {
        return new ControlLoop(reference, softStart, newDivider, compensator, limits, commanded);
    }

    /** Limits of a duty cycle are the modulator's own. */
    @Override
    public ControlLoop within(ControlLimits newLimits) {
        if (newLimits.origin() == ControlLimits.Origin.DUTY_CYCLE) {
            return this;
        }
        return new ControlLoop(reference, softStart, divider, compensator, newLimits, commanded);
    }

    /** A command that is given winds nothing up. */
    @Override
    public ControlLimits limits(ControlLimits usable) {
        return commanded || limits.origin() == ControlLimits.Origin.GIVEN ? limits : usable;
    }

    @Override
    public OptionalDouble target() {
        return commanded ? OptionalDouble.empty() : OptionalDouble.of(reference / divider);
    }

    /** Where the control voltage is. */
    enum Limit {
        FREE,
        LOW,
        HIGH
    }

    /** The discrete part of the loop. */
    private record LoopState(boolean rising, Limit limit) implements State {
        LoopState with(Limit newLimit) {
            return new LoopState(rising, newLimit);
        }
    }

    /** All discrete states that a loop without soft start has. */
    static Stream<State> statesAfterStart() {
        return Stream.of(Limit.values()).map(limit -> new LoopState(false, limit));
    }

    @Override
    public List<String> faults() {
        Checks checks = new Checks().and(compensator.faults());
        if (commanded) {
            checks.positive("current command", reference, "A");
        } else {
            checks.positive("reference", reference, "V")
                    .require(divider > 0 && divider <= 1, "divider", "more than 0 and at most 1", divider, "");
        }
        return checks.notNegative("soft start", softStart, "s")
                .require(
                        limits.low() < limits.high(),
                        "lower limit of the control voltage",
                        "below the upper of " + Quantity.brief(limits.high(), Unit.VOLT),
                        limits.low(),
                        "V")
                .faults();
    }

    @Override
    public State start() {
        return new LoopState(softStart > 0, Limit.FREE);
    }

    /** Its limits may have moved: a limit that still binds binds again at once. */
    @Override
    public State resume(State other) {
        return ((LoopState) other).with(Limit.FREE);
    }

    @Override
    public ControlPath afterStart() {
        return withSoftStart(0);
    }

    @Override
    public List<OwnState> states(double clockPeriod) {
        List<OwnState> states = new ArrayList<>();
        if (softStart > 0) {
            states.add(new OwnState("rising reference", 0x1p-8, 0));
        }
        states.addAll(compensator.states(clockPeriod));
        return states;
    }

    @Override
    public List<Double> statesAfterStart(double clockPeriod) {
        List<Double> values = new ArrayList<>();
        states(clockPeriod).forEach(state -> values.add(state.initial()));
        if (softStart > 0) {
            values.set(0, reference);
        }
        return values;
    }

    @Override
    public @Nullable ControlPath held(HeldPulse.Aim aim, double clockPeriod) {
        return switch (aim) {
            case MEAN_OUTPUT -> compensator.integrates() ? meanError(clockPeriod) : null;
            case COMPARATOR -> withSoftStart(0).within(UNLIMITED);
            case UPPER_LIMIT -> limits.high() < Double.POSITIVE_INFINITY ? ofCommand(limits.high()) : null;
            case LOWER_LIMIT -> limits.low() > Double.NEGATIVE_INFINITY ? ofCommand(limits.low()) : null;
            case CURRENT_LIMIT -> ofCommand(0);
        };
    }

    /** The change of its control voltage over a period is the mean error. */
    private ControlLoop meanError(double clockPeriod) {
        return of(reference, divider, Compensator.type1(1 / clockPeriod));
    }

    /** The states with the control voltage at rest at a value. */
    List<Double> statesAt(double controlVoltage, double clockPeriod) {
        List<Double> values = new ArrayList<>(statesAfterStart(clockPeriod));
        for (int i = softStart > 0 ? 1 : 0; i < values.size(); i++) {
            values.set(i, controlVoltage);
        }
        return values;
    }

    @Override
    public List<Channel> channels() {
        return List.of(new Channel("error voltage", Unit.VOLT));
    }

    @Override
    public Present in(State present, Sensing sensing, Plant plant) {
        return in(present, sensing, plant.outputVoltage(), sensing.constant(0));
    }

    /** The same of any signal, with a voltage on top of the reference. */
    Present in(State present, Sensing sensing, Signal sensed, AffineForm onReference) {
        LoopState state = (LoopState) present;
        List<AffineForm> rates = new ArrayList<>();
        List<PathRule> rules = new ArrayList<>();
        AffineForm aim = sensing.constant(reference);
        if (softStart > 0) {
            if (state.rising()) {
                aim = sensing.own(0);
                AffineForm left = sensing.constant(reference).plus(-1, aim);
                rules.add(PathRule.of("end of soft start", left, new LoopState(false, state.limit())));
            }
            rates.add(sensing.constant(state.rising() ? reference / softStart : 0));
        }
        AffineForm error = aim.plus(-divider, sensing.of(sensed)).plus(1, onReference);
        Compensator.Realisation free = compensator.realise(sensing, rates.size(), error);
        AffineForm control = limited(state, sensing, free, rates, rules);
        return new Present(rates, rules, control, List.of(error));
    }

    private AffineForm limited(
            LoopState state,
            Sensing sensing,
            Compensator.Realisation free,
            List<AffineForm> rates,
            List<PathRule> rules) {
        AffineForm output = free.output();
        if (state.limit() == Limit.FREE) {
            rates.addAll(free.rates());
            if (limits.high() < Double.POSITIVE_INFINITY) {
                rules.add(new PathRule(
                        "upper limit of the control voltage",
                        output.times(-1).plus(limits.high()),
                        state.with(Limit.HIGH),
                        statesAt(limits.high(), sensing, free)));
            }
            if (limits.low() > Double.NEGATIVE_INFINITY) {
                rules.add(new PathRule(
                        "lower limit of the control voltage",
                        output.plus(-limits.low()),
                        state.with(Limit.LOW),
                        statesAt(limits.low(), sensing, free)));
            }
            return output;
        }
        boolean atHigh = state.limit() == Limit.HIGH;
        double limit = atHigh ? limits.high() : limits.low();
        AffineForm pressing = free.outputIsState() ? free.rates().get(0) : output.plus(-limit);
        rules.add(PathRule.of(
                "return of the control voltage from its limit",
                atHigh ? pressing : pressing.times(-1),
                state.with(Limit.FREE)));
        List<AffineForm> held = new ArrayList<>(free.rates());
        if (free.outputIsState()) {
            held.set(0, sensing.constant(0));
        }
        rates.addAll(held);
        return sensing.constant(limit);
    }

    /** The states with the output exactly at a limit; null if it is none of them. */
    private @Nullable List<AffineForm> statesAt(double limit, Sensing sensing, Compensator.Realisation free) {
        if (!free.outputIsState()) {
            return null;
        }
        List<AffineForm> states = new ArrayList<>();
        int output = softStart > 0 ? 1 : 0;
        for (int i = 0; i < output + free.rates().size(); i++) {
            states.add(i == output ? sensing.constant(limit) : sensing.own(i));
        }
        return states;
    }
}
