package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;

/**
 * From the sensed output to the control voltage: reference with soft start, divider, compensator, limits of the control
 * voltage. Immutable.
 *
 * <p>At a limit the control voltage stays at the limit to the bit; the integrator gives way just as much as that takes,
 * and goes on by itself as soon as the error asks for less (no wind-up). A compensator without integrator is simply cut.
 *
 * @param reference V
 * @param softStart time in which the reference rises linearly from 0, s; 0 for none
 * @param divider sensed voltage over output voltage
 * @param compensator from error to control voltage
 * @param low lower limit of the control voltage, V; minus infinity for none
 * @param high upper limit of the control voltage, V; infinity for none
 */
record ControlLoop(
        double reference, double softStart, double divider, Compensator compensator, double low, double high) {

    /** Where the control voltage is. */
    enum Limit {
        FREE,
        LOW,
        HIGH
    }

    /** The discrete part of the loop. */
    record State(boolean rising, Limit limit) {
        State with(Limit newLimit) {
            return new State(rising, newLimit);
        }
    }

    /** A comparator of the loop and the state that follows it. */
    record LoopRule(String name, AffineForm form, State then) {}

    /** The loop while the circuit is in one configuration. */
    record Present(List<AffineForm> rates, List<LoopRule> rules, AffineForm control, AffineForm error) {}

    List<String> faults() {
        List<String> faults = new ArrayList<>(compensator.faults());
        check(
                faults,
                reference > 0 && reference < Double.POSITIVE_INFINITY,
                "reference",
                "more than 0 V",
                reference,
                "V");
        check(faults, divider > 0 && divider <= 1, "divider", "more than 0 and at most 1", divider, "");
        check(
                faults,
                softStart >= 0 && softStart < Double.POSITIVE_INFINITY,
                "soft start",
                "0 s or more",
                softStart,
                "s");
        if (!(low < high)) {
            faults.add("the lower limit of the control voltage must be below the upper but they were " + low + " V and "
                    + high + " V");
        }
        return faults;
    }

    private static void check(
            List<String> faults, boolean holds, String what, String valid, double value, String unit) {
        if (!holds) {
            faults.add("the " + what + " must be " + valid + " and finite but was " + value + " " + unit);
        }
    }

    State start() {
        return new State(softStart > 0, Limit.FREE);
    }

    ControlLoop withoutSoftStart() {
        return new ControlLoop(reference, 0, divider, compensator, low, high);
    }

    List<OwnState> states(double clockPeriod) {
        List<OwnState> states = new ArrayList<>();
        if (softStart > 0) {
            states.add(new OwnState("rising reference", 0x1p-8, 0));
        }
        states.addAll(compensator.states(clockPeriod));
        return states;
    }

    Present in(State state, Sensing sensing, AffineForm outputVoltage) {
        List<AffineForm> rates = new ArrayList<>();
        List<LoopRule> rules = new ArrayList<>();
        AffineForm aim = sensing.constant(reference);
        if (softStart > 0) {
            if (state.rising()) {
                aim = sensing.own(0);
                AffineForm left = sensing.constant(reference).plus(-1, aim);
                rules.add(new LoopRule("end of soft start", left, new State(false, state.limit())));
            }
            rates.add(sensing.constant(state.rising() ? reference / softStart : 0));
        }
        AffineForm error = aim.plus(-divider, outputVoltage);
        Compensator.Realisation free = compensator.realise(sensing, rates.size(), error);
        AffineForm control = limited(state, sensing, free, rates, rules);
        return new Present(rates, rules, control, error);
    }

    private AffineForm limited(
            State state, Sensing sensing, Compensator.Realisation free, List<AffineForm> rates, List<LoopRule> rules) {
        if (state.limit() == Limit.FREE) {
            rates.addAll(free.rates());
            addLimitRule(
                    rules,
                    high,
                    "upper limit of the control voltage",
                    free.output().times(-1).plus(high),
                    state.with(Limit.HIGH));
            addLimitRule(
                    rules,
                    low,
                    "lower limit of the control voltage",
                    free.output().plus(-low),
                    state.with(Limit.LOW));
            return free.output();
        }
        boolean atHigh = state.limit() == Limit.HIGH;
        double limit = atHigh ? high : low;
        AffineForm outputRate = free.outputRate();
        AffineForm pressing = outputRate == null ? free.output().plus(-limit) : outputRate;
        rules.add(new LoopRule(
                "return of the control voltage from its limit",
                atHigh ? pressing : pressing.times(-1),
                state.with(Limit.FREE)));
        List<AffineForm> held = new ArrayList<>(free.rates());
        if (outputRate != null) {
            held.set(0, held.get(0).plus(-1 / free.throughIntegrator(), outputRate));
        }
        rates.addAll(held);
        return sensing.constant(limit);
    }

    private static void addLimitRule(List<LoopRule> rules, double limit, String name, AffineForm form, State then) {
        if (Double.isFinite(limit)) {
            rules.add(new LoopRule(name, form, then));
        }
    }
}
