package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.waveform.Signal;

/**
 * Tells the conduction mode of a steady state by some of its devices. An interval in which none of them carries a current is
 * idle only where the inductor current has come to its end: a rectifier has ended by itself before it, or the current is zero.
 * While a current commutates it charges the capacitance of a snubber, and no device carries it for a moment; that is no idle
 * interval.
 */
final class ConductionMode {
    /** How close to the boundary, in periods or in peaks of the current, counts as being there. */
    private static final double BOUNDARY = 1e-9;

    private final SteadyState steady;
    private final List<String> switches;
    private final List<String> rectifiers;
    private final List<String> inductors;

    ConductionMode(SteadyState steady, List<String> switches, List<String> rectifiers, List<String> inductors) {
        this.steady = steady;
        this.switches = switches;
        this.rectifiers = rectifiers;
        this.inductors = inductors;
    }

    /** By all devices and inductors of a circuit. */
    static ConductionMode of(SteadyState steady) {
        List<String> switches = new ArrayList<>();
        List<String> rectifiers = new ArrayList<>();
        List<String> inductors = new ArrayList<>();
        for (Part part : steady.circuit().circuit().parts()) {
            if (part instanceof Part.Switch) {
                switches.add(part.name());
            } else if (part instanceof Part.Rectifier) {
                rectifiers.add(part.name());
            } else if (part instanceof Part.Inductor || part instanceof Part.CoupledInductors) {
                part.ports().stream().map(Port::name).forEach(inductors::add);
            }
        }
        return new ConductionMode(steady, switches, rectifiers, inductors);
    }

    Conduction mode() {
        if (inductors.isEmpty()) {
            return Conduction.UNDEFINED;
        }
        double idle = idleTime();
        if (idle > BOUNDARY * steady.period()) {
            return Conduction.DISCONTINUOUS;
        }
        return idle > 0 || endsAtZero() ? Conduction.BOUNDARY : Conduction.CONTINUOUS;
    }

    private double idleTime() {
        List<Interval> intervals = steady.trajectory().intervals();
        double idle = 0;
        boolean counts = false;
        // twice around, since the stretch at the start may have begun before the end; the first round only finds that
        // out
        for (int k = 0; k < 2 * intervals.size(); k++) {
            Interval interval = intervals.get(k % intervals.size());
            if (isIdle(interval.phase())) {
                Interval before = intervals.get((k + intervals.size() - 1) % intervals.size());
                counts |= hasEnded(before) || isWithoutCurrent(interval);
                idle += counts && k >= intervals.size() ? interval.duration() : 0;
            } else {
                counts = false;
            }
        }
        return idle;
    }

    private boolean isIdle(Phase phase) {
        return switches.stream().noneMatch(part -> carries(phase, part))
                && rectifiers.stream().noneMatch(part -> carries(phase, part));
    }

    /** Whether a rectifier that has carried the current ends by itself. */
    private boolean hasEnded(Interval interval) {
        return !endedByClock(interval)
                && rectifiers.stream().anyMatch(part -> carries(interval.phase(), part))
                && switches.stream().noneMatch(part -> carries(interval.phase(), part));
    }

    private boolean isWithoutCurrent(Interval interval) {
        for (String inductor : inductors) {
            Signal current = steady.circuit().current(inductor);
            double peak = Math.max(
                    Math.abs(steady.of(current).maximum()),
                    Math.abs(steady.of(current).minimum()));
            double first = interval.valueAt(current.in(interval.configuration()), 0);
            if (Math.abs(first) > BOUNDARY * peak) {
                return false;
            }
        }
        return true;
    }

    /** Whether the current of some rectifier has come down to zero where the clock ends its conduction. */
    private boolean endsAtZero() {
        for (String rectifier : rectifiers) {
            Signal current = steady.circuit().current(rectifier);
            double peak = steady.of(current).maximum();
            for (Interval interval : steady.trajectory().intervals()) {
                if (peak > 0 && endedByClock(interval) && carries(interval.phase(), rectifier)) {
                    double last = interval.valueAt(current.in(interval.configuration()), interval.duration());
                    if (last <= BOUNDARY * peak) {
                        return true;
                    }
                }
            }
        }
        return false;
    }

    private static boolean endedByClock(Interval interval) {
        Cause cause = interval.cause();
        return cause == null || cause.kind() != Cause.Kind.GUARD;
    }

    /** Whether a device conducts and its current is not held at zero by an open device in series with it. */
    private boolean carries(Phase phase, String part) {
        DrivenCircuit circuit = steady.circuit();
        return circuit.conducts(phase, part)
                && !circuit.current(part).in(phase.configuration()).isZero();
    }
}
