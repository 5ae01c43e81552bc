package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Watch;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Finds the steady state of a stage; of a regulated one also by way of its own start-up, which its soft start guides. */
final class OrbitOfStage {
    private static final int FIRST_PERIODS = 500;
    private static final int MOST_PERIODS = 1 << 15;
    private static final int GROWTH = 8;

    /** Switching periods in a period of the line ripple, or in a few of them, that can be searched in some seconds. */
    private static final int MOST_PERIODS_OF_RIPPLE = 1 << 17;

    /** For all searches and start-ups of a stage together: a search of its own may use it up, and none begins after that. */
    private static final long MOST_STEPS = 40_000_000;

    /** Drop of a body diode that is there for the search alone, in input voltages. */
    private static final double LENT_DROP = 1e-2;

    /** After so many pauses nothing is left of the first start: each discharges the output. */
    private static final int STARTS_TO_SETTLE = 3;

    /** So many steps lead from straight parts to those that bend: few, and yet an eighth of a bend hardly moves an orbit. */
    private static final int STEPS_TO_BEND = 8;

    /** How far a number of periods may be off a whole one, relative: what is left of it is below the accuracy of the search. */
    private static final double WHOLE = 1e-12;

    private final DrivenCircuit driven;
    private final DrivenCircuit running;
    private final int cycles;
    /** Whether the input is too low for the regulator to start: all switches stay open. */
    private final boolean lockedOut;
    /** After how many pulses in a row that the current limit ends the regulator pauses; 0 for never. */
    private final int pulsesToHiccup;

    private final Watch effort = Watch.of().withSteps(MOST_STEPS);

    private OrbitOfStage(Blueprint values, DrivenCircuit driven, int cycles) {
        this.driven = driven;
        DrivenCircuit once = values.startsSoftly() ? StageRun.of(List.of(values.started()), List.of()) : driven;
        lockedOut = values.isRegulated()
                && lowestInput(values)
                        <= values.requiredRegulator().protection().lockout().start();
        running = lockedOut ? once.withoutChanges() : once.running();
        pulsesToHiccup = values.isRegulated()
                ? values.requiredRegulator().protection().hiccup().pulses()
                : 0;
        this.cycles = cycles;
    }

    private static double lowestInput(Blueprint values) {
        double lowest = values.inputVoltage();
        for (Profile.Sine sine : values.input().sines()) {
            lowest -= sine.amplitude();
        }
        return lowest;
    }

    static SteadyState of(Blueprint values, DrivenCircuit driven) {
        OrbitOfStage orbit = new OrbitOfStage(values, driven, cycles(values.input(), driven));
        DrivenCircuit starting = driven.startingAnew().orElse(null);
        if (starting == null || orbit.lockedOut || !driven.isClocked() || orbit.cycles > 1) {
            return orbit.found(values);
        }
        return orbit.unlessPausing(values, starting);
    }

    /** Where the regulator pauses again and again, that repeats too. */
    private SteadyState unlessPausing(Blueprint values, DrivenCircuit starting) {
        try {
            return found(values);
        } catch (NoSteadyStateException e) {
            SteadyState pausing = e.reason() == NoSteadyStateException.Reason.HICCUPS ? pausing(starting) : null;
            if (pausing == null) {
                throw e;
            }
            return pausing;
        }
    }

    /** The orbit from one start to the next, with the pause between them; null if there is none that repeats. */
    private @Nullable SteadyState pausing(DrivenCircuit starting) {
        for (int periods = FIRST_PERIODS; periods <= MOST_PERIODS; periods *= GROWTH) {
            try {
                List<Interval> starts = starts(starting, periods * starting.clockPeriod());
                int last = starts.size() - 1;
                if (last >= STARTS_TO_SETTLE) {
                    double cycle =
                            starts.get(last).start() - starts.get(last - 1).start();
                    int whole = (int) Math.rint(cycle / starting.clockPeriod());
                    return SteadyState.of(starting, starts.get(last).startState(), whole);
                }
            } catch (NoSteadyStateException e) {
                // another start is nearer to where it settles
            } catch (SwitchingException e) {
                return null;
            }
        }
        return null;
    }

    /** The intervals of a run from rest with which the regulator starts anew. */
    private static List<Interval> starts(DrivenCircuit starting, double duration) {
        Trajectory run = Simulation.of(starting.law()).record(starting.restState(), duration);
        List<Interval> starts = new ArrayList<>();
        for (int k = 1; k < run.size(); k++) {
            if (starting.startsBetween(
                    run.interval(k - 1).phase(), run.interval(k).phase())) {
                starts.add(run.interval(k));
            }
        }
        return starts;
    }

    private SteadyState found(Blueprint values) {
        SharedPhases phases = new SharedPhases(
                values,
                running,
                cycles,
                lent -> new OrbitOfStage(lent, StageRun.of(List.of(lent), List.of()), cycles)
                        .usual(lent.isRegulated()));
        try {
            return phases.shared(usual(values.isRegulated()));
        } catch (NoSteadyStateException e) {
            SteadyState even = values.roles().inductors().size() > 1 ? phases.guided() : null;
            if (even != null) {
                return even;
            }
            Blueprint lent = values;
            for (String name : values.roles().switches()) {
                lent = values.bodyDiode(name) == null
                        ? lent.withBodyDiode(name, LENT_DROP * values.inputVoltage(), 0)
                        : lent;
            }
            if (e.reason() == NoSteadyStateException.Reason.STOPS && !lent.equals(values)) {
                return byWayOf(lent, e);
            }
            if (values.power().withBends(0).equals(values.power()) || lockedOut || !driven.isClocked()) {
                throw e;
            }
            return byBending(values, e);
        }
    }

    /**
     * A search that begins far away may go in circles among bends: from the steady state of straight parts they are bent little by
     * little.
     */
    private SteadyState byBending(Blueprint values, NoSteadyStateException first) {
        try {
            Blueprint straight = values.with(values.power().withBends(0));
            SteadyState last = of(straight, StageRun.of(List.of(straight), List.of()));
            for (int step = 1; step <= STEPS_TO_BEND; step++) {
                Blueprint bent = values.with(values.power().withBends((double) step / STEPS_TO_BEND));
                DrivenCircuit next = step == STEPS_TO_BEND
                        ? running
                        : new OrbitOfStage(bent, StageRun.of(List.of(bent), List.of()), cycles).running;
                last = SteadyState.of(next, next.stateFrom(last.circuit(), last.state()), cycles);
            }
            return thatLasts(last);
        } catch (NoSteadyStateException | SwitchingException e) {
            first.addSuppressed(e);
            throw first;
        }
    }

    private SteadyState usual(boolean regulated) {
        if (!regulated || lockedOut) {
            return SteadyState.of(running, running.restState(), cycles);
        }
        return thatLasts(effort.over(() -> driven.isClocked() ? clocked() : afterStartUp(null)));
    }

    /** What is sought knows no hiccup, since that is no part of a steady state: an orbit that ends in one is none. */
    private SteadyState thatLasts(SteadyState found) {
        if (pulsesToHiccup > 0 && pausesFrom(driven.stateFrom(running, found.state()))) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.HICCUPS,
                    "there is no periodic steady state since the current limit ends " + pulsesToHiccup
                            + " pulses in a row, and the regulator pauses and restarts repeatedly; lower the load, raise "
                            + "the current limit, or run a transient to see the hiccups");
        }
        return found;
    }

    private boolean pausesFrom(double[] state) {
        boolean[] paused = {false};
        Simulation.of(driven.law()).stream(
                state,
                (pulsesToHiccup + 2) * driven.clockPeriod(),
                interval -> paused[0] |= driven.pauses(interval.phase()));
        return paused[0];
    }

    /**
     * A start-up that rings above the input stops where the transistor interrupts the current that flows back, though the
     * steady state beyond it may know no such current: a body diode is lent for the way there.
     */
    private SteadyState byWayOf(Blueprint lent, NoSteadyStateException first) {
        SteadyState guide;
        try {
            guide = of(lent, StageRun.of(List.of(lent), List.of()));
        } catch (NoSteadyStateException | SwitchingException e) {
            first.addSuppressed(e);
            throw first;
        }
        try {
            return SteadyState.of(running, running.stateFrom(guide.circuit(), guide.state()), cycles);
        } catch (NoSteadyStateException e) {
            throw new NoSteadyStateException(
                    first.getMessage() + "; with a body diode across the transistor there is a steady state", first);
        }
    }

    /** The steady state next to one of a stage that hardly differs; if there is none, the usual one. */
    static SteadyState near(Blueprint values, DrivenCircuit driven, SteadyState neighbour) {
        if (driven.isClocked()) {
            try {
                OrbitOfStage orbit = new OrbitOfStage(values, driven, cycles(values.input(), driven));
                double[] guess = orbit.running.stateFrom(neighbour.circuit(), neighbour.state());
                return SteadyState.of(orbit.running, guess, orbit.cycles);
            } catch (NoSteadyStateException e) {
                return of(values, driven);
            }
        }
        return of(values, driven);
    }

    /** An orbit of several times the usual number of cycles, to which the stage settles from rest. */
    static SteadyState of(Blueprint values, DrivenCircuit driven, int times) {
        if (!(times >= 1)) {
            throw new IllegalArgumentException("the number of periods must be at least 1 but was " + times);
        }
        int once = cycles(values.input(), driven);
        return times == 1 ? of(values, driven) : new OrbitOfStage(values, driven, once * times).settled();
    }

    /** Runs longer and longer before the search, since a short run may end near the unstable orbit of fewer cycles. */
    private SteadyState settled() {
        NoSteadyStateException failure = null;
        for (int periods = FIRST_PERIODS; periods <= MOST_PERIODS; periods *= GROWTH) {
            try {
                SteadyState found = SteadyState.of(running, endOfStartUp(periods), cycles);
                int repeats = found.repeatsAfter();
                if (repeats == cycles) {
                    return found;
                }
                failure = joined(failure, sooner(found, repeats));
            } catch (NoSteadyStateException e) {
                failure = joined(failure, e);
            } catch (SwitchingException e) {
                throw joined(failure, stopped(e));
            }
        }
        throw Objects.requireNonNull(failure, "at least one search has failed");
    }

    private NoSteadyStateException sooner(SteadyState found, int repeats) {
        return new NoSteadyStateException(
                NoSteadyStateException.Reason.REPEATS_SOONER,
                "no periodic steady state that takes " + cycles
                        + " switching periods was found: the circuit comes back to the "
                        + "same state after " + repeats + " already, in "
                        + (found.isStable()
                                ? "a stable steady state"
                                : "an unstable steady state, to which no run settles")
                        + "; ask for the steady state of " + repeats);
    }

    /** After how many cycles the line is again as it was. */
    private static int cycles(Profile input, DrivenCircuit driven) {
        if (!input.oscillates()) {
            return 1;
        }
        if (!driven.isClocked()) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.NO_COMMON_PERIOD,
                    "there is no periodic steady state since the line ripple and a regulator that "
                            + "runs freely do not repeat together: run a transient and look at its end, or leave the ripple out");
        }
        double frequency = input.sines().get(0).frequency();
        double periods = 1 / (frequency * driven.clockPeriod());
        for (int ripples = 1;
                ripples * periods <= MOST_PERIODS_OF_RIPPLE && ripples <= MOST_PERIODS_OF_RIPPLE;
                ripples++) {
            long whole = Math.round(ripples * periods);
            if (whole > 0 && Math.abs(ripples * periods - whole) <= WHOLE * whole) {
                return (int) whole;
            }
        }
        throw new NoSteadyStateException(
                NoSteadyStateException.Reason.NO_COMMON_PERIOD,
                "there is no periodic steady state of at most " + MOST_PERIODS_OF_RIPPLE
                        + " switching periods since the line ripple of " + Quantity.brief(frequency, Unit.HERTZ)
                        + " and the switching at "
                        + Quantity.brief(1 / driven.clockPeriod(), Unit.HERTZ)
                        + " do not repeat together: choose a ripple whose period is a whole number of "
                        + "switching periods, or run a transient");
    }

    private SteadyState fromRest() {
        return cycles == 1 ? SteadyState.of(running) : SteadyState.of(running, running.restState(), cycles);
    }

    private SteadyState clocked() {
        try {
            return fromRest();
        } catch (NoSteadyStateException e) {
            if (e.reason() == NoSteadyStateException.Reason.AT_LIMIT) {
                throw e;
            }
            return afterStartUp(e);
        }
    }

    /**
     * Trial states of a search from rest may be such as the circuit cannot run from; those of its start-up are not. Without
     * a clock the cycles of a start-up last much longer than those of the steady state, so that only its end is near it.
     *
     * @param first why an earlier search failed; null if this is the first
     */
    private SteadyState afterStartUp(@Nullable NoSteadyStateException first) {
        NoSteadyStateException failure = first;
        try {
            for (int periods = FIRST_PERIODS; periods <= MOST_PERIODS; periods *= GROWTH) {
                double[] start = endOfStartUp(periods, failure);
                try {
                    return SteadyState.of(running, start, cycles);
                } catch (NoSteadyStateException e) {
                    failure = joined(failure, e);
                } catch (SwitchingException e) {
                    failure = joined(failure, stopped(e));
                }
            }
        } catch (Watch.Stopped e) {
            if (!e.isBy(effort)) {
                throw e;
            }
            failure = failure == null ? spent() : failure;
        }
        throw Objects.requireNonNull(failure, "at least one search has failed");
    }

    private static NoSteadyStateException spent() {
        return new NoSteadyStateException(
                NoSteadyStateException.Reason.EFFORT_IS_SPENT,
                "no periodic steady state was found in " + MOST_STEPS
                        + " steps of simulation, after which the search was "
                        + "given up; run a transient to see what the circuit does");
    }

    /** The state after a start-up; a longer one would stop where this one does. */
    private double[] endOfStartUp(int periods, @Nullable NoSteadyStateException failure) {
        try {
            return endOfStartUp(periods);
        } catch (SwitchingException e) {
            throw joined(failure, stopped(e));
        }
    }

    private static NoSteadyStateException stopped(SwitchingException e) {
        return new NoSteadyStateException(
                "no periodic steady state was found because a run on the way to it failed: " + e.getMessage(), e);
    }

    /** The longer run knows more of what becomes of the circuit, unless its search was given up. */
    private static NoSteadyStateException joined(@Nullable NoSteadyStateException first, NoSteadyStateException next) {
        boolean knowsMore = next.reason() != NoSteadyStateException.Reason.EFFORT_IS_SPENT;
        if (first == null) {
            return next;
        }
        NoSteadyStateException kept = knowsMore ? next : first;
        kept.addSuppressed(knowsMore ? first : next);
        return kept;
    }

    /** Without a clock the start of the first cycle after that many typical periods. */
    private double[] endOfStartUp(int periods) {
        double[] end = Simulation.of(driven.law()).finalState(driven.restState(), periods * driven.clockPeriod());
        double[] state = running.stateFrom(driven, end);
        return driven.isClocked()
                ? state
                : PeriodMap.returning(running.law(), 1, running::opensCycle).apply(state);
    }
}
