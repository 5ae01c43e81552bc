package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.waveform.Signal;

/**
 * A regulated circuit with the length of its pulse held: the duty cycle is a state that nothing moves, and another state
 * tells after a period by how much what the regulator aims at is missed. So the steady state of a regulated circuit is that of
 * the open circuit at the duty cycle with which nothing is missed, whatever a start-up would wind up.
 *
 * <pre>{@code
 * HeldPulse held = HeldPulse.of(regulated.driven(), HeldPulse.Aim.MEAN_OUTPUT).orElseThrow();
 * double longest = held.longest(); // 1, of a regulator without maximum duty cycle
 * }</pre>
 */
public final class HeldPulse {
    /** What the length of the pulse is to do. */
    public enum Aim {
        /** The mean of the output is what an integrator asks for; the rest of the compensator is left out. */
        MEAN_OUTPUT,
        /** The comparator acts just then, by the control voltage as it would be without limits. */
        COMPARATOR,
        /** The comparator acts just then, with the control voltage at its upper limit. */
        UPPER_LIMIT,
        /** The comparator acts just then, with the control voltage at its lower limit. */
        LOWER_LIMIT,
        /** The inductor current reaches its limit just then. */
        CURRENT_LIMIT
    }

    private final DrivenCircuit full;
    private final RegulatedController regulator;
    private final DrivenCircuit circuit;
    private final Aim aim;
    private final List<Leg> legs;

    private HeldPulse(DrivenCircuit full, RegulatedController regulator, RegulatedController held, Aim aim) {
        this.full = full;
        this.regulator = regulator;
        this.aim = aim;
        circuit = full.controlledBy(held);
        legs = held.legs();
    }

    /**
     * Holds the pulse of a regulated circuit.
     *
     * @param full the circuit, without soft start
     * @param aim what the length of the pulse is to do
     * @return the circuit with the pulse held; empty if no comparator decides its length in each period, or if what is aimed
     *     at does not exist, such as a limit
     */
    public static Optional<HeldPulse> of(DrivenCircuit full, Aim aim) {
        if (!(full.driving() instanceof RegulatedController regulator) || full.isLockedOut()) {
            return Optional.empty();
        }
        RegulatedController held = held(regulator, aim);
        return held == null ? Optional.empty() : Optional.of(new HeldPulse(full, regulator, held, aim));
    }

    /** A controller with pulses of a given length; null if the aim does not exist for it. */
    private static @Nullable RegulatedController held(RegulatedController full, Aim aim) {
        ControlPath path = full.path().held(aim, full.clockPeriod());
        Protection protection = full.protection();
        boolean limited = aim != Aim.CURRENT_LIMIT || protection.limitsCurrent();
        if (path == null || full.modulator().dutyCycles() == null || !limited) {
            return null;
        }
        double current = aim == Aim.CURRENT_LIMIT ? protection.currentLimit().current() : Double.NaN;
        boolean byComparator = aim == Aim.COMPARATOR || aim == Aim.UPPER_LIMIT || aim == Aim.LOWER_LIMIT;
        Modulator inner = byComparator ? full.modulator() : full.modulator().ofPulsesAlone();
        return full.with(path, new HeldModulator(inner, current), protection.ofGatesAlone());
    }

    /** The states of the path with the control voltage at rest at a limit; empty if there is no such limit. */
    private List<Double> statesAtLimit(boolean upper) {
        if (!(regulator.path() instanceof ControlLoop loop)) {
            return List.of();
        }
        double limit = upper ? loop.limits().high() : loop.limits().low();
        return Double.isInfinite(limit) ? List.of() : loop.statesAt(limit, regulator.clockPeriod());
    }

    /**
     * Returns the circuit with the pulses held.
     *
     * @return the circuit, among whose last states are the duty cycle of each leg and what is missed at its comparator
     */
    public DrivenCircuit circuit() {
        return circuit;
    }

    /**
     * Returns where the duty cycles are among the states.
     *
     * @return an index for each leg
     */
    public int[] dutyCycles() {
        int first = circuit.stateNames().size() - circuit.driving().states().size();
        return legs.stream().mapToInt(leg -> first + leg.firstState()).toArray();
    }

    /**
     * Returns where what is missed is among the states.
     *
     * @return indices of states whose values after a period that it begins with 0 are to be 0, for each leg, or one for all
     *     together; more than 0 asks for longer pulses
     */
    public int[] missed() {
        int[] duties = dutyCycles();
        return aim == Aim.MEAN_OUTPUT
                ? new int[] {duties[0] - 1}
                : IntStream.of(duties).map(duty -> duty + 1).toArray();
    }

    /**
     * Returns the states that a steady state brings back.
     *
     * @return indices of all states but the duty cycles and what is missed
     */
    public int[] returning() {
        List<Integer> apart = new ArrayList<>();
        for (int duty : dutyCycles()) {
            apart.add(duty);
            apart.add(duty + 1);
        }
        for (int miss : missed()) {
            apart.add(miss);
        }
        return IntStream.range(0, circuit.stateNames().size())
                .filter(i -> !apart.contains(i))
                .toArray();
    }

    /**
     * Returns the duty cycle of a leg where all are moved by one number: the duty cycle of the first leg, and beyond 1 what is more
     * than that in the second leg of two that take turns.
     *
     * @param leg its place in the pattern
     * @param common the number, from {@link #shortest()} to {@link #longest()}
     * @return its pulse, in periods
     */
    public double dutyCycle(int leg, double common) {
        double[] range = range(leg);
        return Math.min(Math.max(common - raise(leg), range[0]), range[1]);
    }

    /**
     * Returns whether the duty cycle of a leg can get longer and shorter.
     *
     * @param leg its place in the pattern
     * @param dutyCycle its pulse, in periods
     * @return false of a pulse that is as long, or as short, as can be
     */
    public boolean moves(int leg, double dutyCycle) {
        double[] range = range(leg);
        return legs.size() == 1 || (dutyCycle > range[0] && dutyCycle < range[1]);
    }

    private double raise(int leg) {
        return regulator.plant().pattern().raise(leg);
    }

    /**
     * Returns the shortest and the longest pulse of a leg.
     *
     * @param leg its place in the pattern
     * @return both, in periods
     */
    public double[] range(int leg) {
        double[] range = legs.get(leg).modulator().dutyCycles();
        return range == null ? new double[2] : range;
    }

    /**
     * Returns the shortest pulse.
     *
     * @return periods
     */
    public double shortest() {
        return range(0)[0];
    }

    /**
     * Returns the longest pulse, or of legs that take turns that of all together.
     *
     * @return periods
     */
    public double longest() {
        int last = legs.size() - 1;
        return range(last)[1] + raise(last);
    }

    /**
     * Returns how long the pulse could be if nothing limited it.
     *
     * @return periods: 1, of two legs that take turns 2
     */
    public double whole() {
        return 1 + raise(legs.size() - 1);
    }

    /**
     * Returns the state of the full circuit that goes with one of this.
     *
     * @param held a state of {@link #circuit()}
     * @return a state of the circuit whose pulse is held; at a limit with the control voltage at that limit
     */
    public double[] inFull(double[] held) {
        double[] state = full.stateFrom(circuit, held);
        List<Double> own = switch (aim) {
            case UPPER_LIMIT -> statesAtLimit(true);
            case LOWER_LIMIT -> statesAtLimit(false);
            case CURRENT_LIMIT -> statesAtLimit(true);
            case MEAN_OUTPUT, COMPARATOR -> List.of();
        };
        int first = state.length - regulator.states().size();
        for (int i = 0; i < own.size(); i++) {
            state[first + i] = own.get(i);
        }
        return state;
    }

    /**
     * Returns the state of this circuit that goes with one of another.
     *
     * @param other the other circuit, such as the one at another aim
     * @param state its state
     * @return states of the same name keep their value, others are as at the start
     */
    public double[] from(DrivenCircuit other, double[] state) {
        return circuit.stateFrom(other, state);
    }

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
            List<OwnState> states = new ArrayList<>();
            states.add(new OwnState("held duty cycle", SCALE, 0.5));
            states.add(new OwnState("comparator off zero", SCALE, 0));
            states.addAll(inner.states());
            return states;
        }

        @Override
        public Pulse resting() {
            return inner.resting();
        }

        @Override
        public List<Pulse> pulses() {
            return inner.pulses();
        }

        @Override
        public double end(Pulse pulse) {
            return inner.end(pulse);
        }

        @Override
        public Pulse next(Pulse pulse) {
            return inner.next(pulse);
        }

        @Override
        public HeldModulator ofLeg(SwitchPattern pattern, int leg) {
            return new HeldModulator(inner.ofLeg(pattern, leg), currentLimit);
        }

        @Override
        public Pulse start() {
            return inner.start();
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            return inner.cut(pulse, sensing.from(2));
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            Present present = inner.in(pulse, sensing.from(2), control, current);
            Instant instant = inner.instant(pulse);
            List<AffineForm> rates = new ArrayList<>(List.of(sensing.constant(0), sensing.constant(0)));
            rates.addAll(present.rates());
            List<PulseRule> rules = new ArrayList<>();
            if (instant != null) {
                PulseRule comparator = present.rules().get(0);
                AffineForm form = Double.isNaN(currentLimit)
                        ? comparator.form()
                        : sensing.of(current).times(-1).plus(currentLimit);
                rules.add(held(comparator, form, instant, sensing));
            }
            return new Present(rates, rules, present.endSinceTick(), present.atEnd(), present.ramp());
        }

        private PulseRule held(PulseRule comparator, AffineForm form, Instant instant, Sensing sensing) {
            double period = clockPeriod();
            AffineForm time = sensing.own(0).times(instant.share() * period).plus(instant.begin() * period);
            AffineForm then =
                    form.plusRamp(-form.slope()).plus(form.slope(), time).times(Math.signum(instant.share()));
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
}
