package org.voltsecond.converter;

import java.util.Arrays;
import java.util.List;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.Complex;

/** How interleaved phases share the load where nothing in the circuit decides it. */
final class SharedPhases {
    /** A multiplier that differs from one by less is that of a direction in which nothing brings the state back: its rounding. */
    private static final double NOTHING_BRINGS_BACK = 1e-10;

    /** Share of a phase's flux that resistance takes in a period where it is lent for a search; chosen so that it hardly shows. */
    private static final double LENT_DAMPING = 5e-2;

    /** One round makes the means even; more where a phase was discontinuous before. */
    private static final int MOST_ROUNDS = 4;

    /** Shares of the load that differ by less are equal but for the rounding of their means. */
    private static final double EVEN = 1e-11;

    private final Blueprint values;
    private final DrivenCircuit running;
    private final int cycles;
    private final Function<Blueprint, SteadyState> search;
    private final List<String> phases;

    /**
     * The phases of a stage.
     *
     * @param running the stage as it runs on
     * @param cycles in how many clock periods all repeats
     * @param search finds the steady state of a stage with other values
     */
    SharedPhases(Blueprint values, DrivenCircuit running, int cycles, Function<Blueprint, SteadyState> search) {
        this.values = values;
        this.running = running;
        this.cycles = cycles;
        this.search = search;
        phases = values.roles().inductors();
    }

    /**
     * Without resistance nothing brings the currents of interleaved phases together, so that each share of the load is as steady as
     * another. Taken is the one to which the least resistance in each phase would lead: where their means are equal.
     */
    SteadyState shared(SteadyState found) {
        if (phases.size() < 2 || isShared(found) || !running.isClocked()) {
            return found;
        }
        boolean free = found.multipliers().stream()
                .anyMatch(each -> each.subtract(Complex.ONE).magnitude() <= NOTHING_BRINGS_BACK);
        if (!free && !alike()) {
            return found;
        }
        SteadyState even = evened(found);
        even = even == null ? guided() : even;
        return even == null ? found : even;
    }

    /** The steady state near that of the stage with some resistance in each phase; null if there is none. */
    @Nullable
    SteadyState guided() {
        try {
            Blueprint lent = values;
            for (String name : phases) {
                double ohm = LENT_DAMPING * inductance(name) / running.clockPeriod();
                lent = lent.with(name + ".resistance", ohm);
            }
            SteadyState guide = search.apply(lent);
            return evened(SteadyState.of(running, running.stateFrom(guide.circuit(), guide.state()), cycles));
        } catch (NoSteadyStateException | SwitchingException e) {
            return null;
        }
    }

    /** The steady state with the currents moved so that their means are equal, as all of each waveform does; null if there is none. */
    private @Nullable SteadyState evened(SteadyState steady) {
        try {
            SteadyState even = steady;
            for (int round = 0; round < MOST_ROUNDS && !isShared(even); round++) {
                double[] means = means(even);
                double share = Arrays.stream(means).average().orElse(0);
                double[] state = even.state().clone();
                for (int k = 0; k < means.length; k++) {
                    state[running.stateNames().indexOf(phases.get(k))] += share - means[k];
                }
                even = SteadyState.of(running, state, cycles);
            }
            return isShared(even) ? even : null;
        } catch (NoSteadyStateException | SwitchingException e) {
            return null;
        }
    }

    private double inductance(String name) {
        return PartValue.of(values.power(), name + ".inductance").value();
    }

    private boolean alike() {
        return phases.stream().mapToDouble(name -> inductance(name)).distinct().count() == 1;
    }

    private double[] means(SteadyState steady) {
        return phases.stream()
                .mapToDouble(name -> steady.of(steady.circuit().current(name)).mean())
                .toArray();
    }

    private boolean isShared(SteadyState steady) {
        double[] means = means(steady);
        double lowest = Arrays.stream(means).min().orElse(0);
        double highest = Arrays.stream(means).max().orElse(0);
        return highest - lowest <= EVEN * Math.max(Math.abs(lowest), Math.abs(highest));
    }
}
