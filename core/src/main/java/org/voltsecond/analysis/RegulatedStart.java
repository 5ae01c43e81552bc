package org.voltsecond.analysis;

import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.HeldPulse;
import org.voltsecond.control.HeldPulse.Aim;

/**
 * States from which the search for the steady state of a regulated circuit starts, the likeliest first. With an integrator the
 * mean of the output is what the reference asks for, whatever the rest of the loop does: so the orbit of the open circuit
 * that has this mean is that of the regulated one, and the states of the compensator follow from it. Where no pulse is long
 * or short enough for that, the control voltage or the current stands at a limit.
 */
final class RegulatedStart {
    private final DrivenCircuit circuit;
    private final Function<double[], OrbitSearch.@Nullable Orbit> search;
    private String miss = "";

    RegulatedStart(DrivenCircuit circuit, Function<double[], OrbitSearch.@Nullable Orbit> search) {
        this.circuit = circuit;
        this.search = search;
    }

    /** The orbit that is found from the first of the starts from which one is; null if there is none. */
    OrbitSearch.@Nullable Orbit orbit() {
        HeldPulse regulated = HeldPulse.of(circuit, Aim.COMPARATOR).orElse(null);
        if (regulated == null) {
            return null;
        }
        OrbitSearch.Orbit found = regulated(regulated);
        for (Aim limit : new Aim[] {Aim.CURRENT_LIMIT, Aim.UPPER_LIMIT, Aim.LOWER_LIMIT}) {
            found = found == null ? atLimit(limit) : found;
        }
        return found;
    }

    /** See {@link #miss()}. */
    static String missOf(DrivenCircuit circuit) {
        RegulatedStart start = new RegulatedStart(circuit, state -> null);
        HeldPulse.of(circuit, Aim.COMPARATOR).ifPresent(start::regulated);
        return start.miss();
    }

    /** What stands in the way of regulation, as far as the open circuit tells: no pulse is long or short enough; else empty. */
    String miss() {
        return miss;
    }

    private HeldOrbit.Outcome noted(HeldOrbit.Outcome outcome) {
        miss = switch (outcome) {
            case TOO_LITTLE -> "even the longest pulse gives less than the regulator aims at";
            case TOO_MUCH -> "even the shortest pulse gives more than the regulator aims at";
            case FOUND, NONE -> "";
        };
        return outcome;
    }

    private OrbitSearch.@Nullable Orbit regulated(HeldPulse regulated) {
        HeldPulse mean = HeldPulse.of(circuit, Aim.MEAN_OUTPUT).orElse(null);
        HeldOrbit whole = new HeldOrbit(regulated, regulated.circuit().restState());
        boolean found;
        if (mean == null) {
            found = noted(whole.find()) == HeldOrbit.Outcome.FOUND;
            // what is found with one duty cycle for all legs is only near where each has its own
            found = (found && regulated.dutyCycles().length == 1) || whole.polish() == HeldOrbit.Outcome.FOUND;
        } else {
            HeldOrbit power = new HeldOrbit(mean, mean.circuit().restState());
            found = noted(power.find()) == HeldOrbit.Outcome.FOUND;
            if (found) {
                whole = new HeldOrbit(regulated, regulated.from(mean.circuit(), power.state()));
                found = whole.polish() == HeldOrbit.Outcome.FOUND;
            }
        }
        if (!found) {
            return null;
        }
        return search.apply(whole.inFull());
    }

    private OrbitSearch.@Nullable Orbit atLimit(Aim limit) {
        HeldPulse held = HeldPulse.of(circuit, limit).orElse(null);
        if (held == null) {
            return null;
        }
        HeldOrbit orbit = new HeldOrbit(held, held.circuit().restState());
        return orbit.find() == HeldOrbit.Outcome.NONE ? null : search.apply(orbit.inFull());
    }
}
