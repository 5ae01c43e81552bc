package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Regime;
import org.voltsecond.circuit.Transition;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.ClockTime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Guard;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.SwitchingLaw;

/** Gates that the clock alone drives: the phase follows from the scheduled changes, the clock and the rectifiers. */
final class ClockedLaw implements SwitchingLaw {
    private static final int NONE = -1;

    private final double clockPeriod;
    private final List<Epoch> epochs;
    private final List<ClockTime> changes;
    private final double[] scale;
    private final int storedStates;
    private final ConcurrentMap<Node, CircuitPhase> phases = new ConcurrentHashMap<>();
    private final ConcurrentMap<Regime, Configuration> configurations = new ConcurrentHashMap<>();

    private record Node(int epoch, int segment, long conducting) {}

    ClockedLaw(double clockPeriod, List<Epoch> epochs) {
        this.clockPeriod = clockPeriod;
        this.epochs = epochs;
        changes = epochs.subList(1, epochs.size()).stream().map(Epoch::start).toList();
        scale = epochs.get(0).network().scale();
        storedStates = epochs.get(0).circuit().stateNames().size();
    }

    @Override
    public double[] scale() {
        return scale.clone();
    }

    @Override
    public double clockPeriod() {
        return clockPeriod;
    }

    @Override
    public List<ClockTime> changes() {
        return changes;
    }

    @Override
    public Entry first(double[] state) {
        return withNewSources(0, enter(0, 0, 0, NONE, epochs.get(0).network().withSources(state)));
    }

    @Override
    public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
        CircuitPhase phase = (CircuitPhase) ended;
        long conducting = phase.regime().conducting();
        return switch (cause.kind()) {
            case CHANGE -> {
                int epoch = cause.index() + 1;
                Epoch begun = epochs.get(epoch);
                int segment = begun.schedule().segmentAt(sinceTick);
                double[] renewed = begun.network().withSources(state);
                yield withNewSources(epoch, enter(epoch, segment, conducting, NONE, renewed));
            }
            case END -> {
                int segment = epochs.get(phase.epoch()).schedule().after(phase.segment());
                yield enter(phase.epoch(), segment, conducting, NONE, state);
            }
            case GUARD -> {
                int rectifier = phase.rectifierOf(cause.index());
                yield enter(phase.epoch(), phase.segment(), conducting, rectifier, state);
            }
        };
    }

    private Entry enter(int epoch, int segment, long conducting, int fired, double[] state) {
        Epoch present = epochs.get(epoch);
        long closed = present.schedule().closed(segment);
        Transition transition = present.network().resolve(closed, conducting, fired, state);
        return new Entry(phase(epoch, segment, transition.regime()), transition.jump());
    }

    private CircuitPhase phase(int epoch, int segment, Regime regime) {
        return phases.computeIfAbsent(
                new Node(epoch, segment, regime.conducting()), node -> newPhase(epoch, segment, regime));
    }

    private CircuitPhase newPhase(int epoch, int segment, Regime regime) {
        List<Integer> guarded = guardedRectifiers(regime);
        Epoch present = epochs.get(epoch);
        Configuration configuration =
                configurations.computeIfAbsent(regime, same -> configuration(present.network(), regime, guarded));
        double end = present.schedule().end(segment);
        return new CircuitPhase(configuration, end, epoch, segment, present.circuit(), regime, guarded);
    }

    /** A condition that does not depend on the state cannot fall through zero. */
    private static List<Integer> guardedRectifiers(Regime regime) {
        List<Integer> guarded = new ArrayList<>();
        for (int d = 0; d < regime.conditions().size(); d++) {
            AffineForm form = regime.conditions().get(d);
            boolean varies = false;
            for (int j = 0; j < form.dimension(); j++) {
                varies |= form.coefficient(j) != 0;
            }
            if (varies) {
                guarded.add(d);
            }
        }
        return List.copyOf(guarded);
    }

    private Configuration configuration(Network network, Regime regime, List<Integer> guarded) {
        int n = scale.length;
        double[][] a = new double[n][n];
        double[] b = new double[n];
        for (int i = 0; i < n; i++) {
            AffineForm rate = regime.rates().get(i);
            for (int j = 0; j < n; j++) {
                a[i][j] = rate.coefficient(j);
            }
            b[i] = rate.constant();
        }
        List<Guard> guards = new ArrayList<>();
        for (int d : guarded) {
            boolean conducts = (regime.conducting() >>> d & 1) != 0;
            String name = network.rectifierNames().get(d);
            guards.add(new Guard(
                    (conducts ? "current of " : "blocking voltage of ") + name,
                    regime.conditions().get(d)));
        }
        return Configuration.builder(regime.name(), scale, clockPeriod)
                .dynamics(a, b)
                .guards(guards)
                .channels(regime.channels())
                .constraints(regime.constraints())
                .build();
    }

    /** Puts the values of ramping sources before the jump of an entry. */
    private Entry withNewSources(int epoch, Entry entry) {
        int n = scale.length;
        if (n == storedStates) {
            return entry;
        }
        double[] values = epochs.get(epoch).network().withSources(new double[n]);
        AffineMap jump = entry.jump();
        double[][] matrix = new double[n][n];
        double[] offset = new double[n];
        for (int i = 0; i < n; i++) {
            offset[i] = jump == null ? 0 : jump.offset(i);
            for (int j = 0; j < n; j++) {
                double factor = factor(jump, i, j);
                if (j < storedStates) {
                    matrix[i][j] = factor;
                } else {
                    offset[i] += factor * values[j];
                }
            }
        }
        return new Entry(entry.phase(), AffineMap.of(matrix, offset));
    }

    private static double factor(@Nullable AffineMap jump, int row, int column) {
        if (jump != null) {
            return jump.entry(row, column);
        }
        return row == column ? 1 : 0;
    }
}
