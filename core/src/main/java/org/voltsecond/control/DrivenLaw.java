package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Regime;
import org.voltsecond.circuit.Transition;
import org.voltsecond.control.ControlLaw.Rule;
import org.voltsecond.control.ControlLaw.Succession;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.ClockTime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Guard;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.SwitchingLaw;

/**
 * A circuit and its controller as one piecewise-affine system. A phase is made of the epoch (which scheduled changes have
 * been), the mode of the controller, and the rectifiers that conduct.
 */
final class DrivenLaw implements SwitchingLaw {
    private static final int NONE = -1;

    private final List<Epoch> epochs;
    private final List<ClockTime> changes;
    private final double clockPeriod;
    private final double[] scale;
    private final int circuitStates;
    private final StateJumps jumps;
    private final List<String> channelNames;
    private final ConcurrentMap<Node, CircuitPhase> phases = new ConcurrentHashMap<>();
    /** Shared by phases in which the same holds, and only what follows differs. */
    private final ConcurrentMap<Node, Configuration> configurations = new ConcurrentHashMap<>();

    /** The time between two scheduled changes: what the circuit and its sources are, and what drives its gates. */
    record Epoch(ClockTime start, Circuit circuit, Network network, Controller controller) {}

    /** What a phase is found by; its own equals and hash are far quicker than those that a record is given. */
    private record Node(int epoch, Controller.Mode mode, long conducting) {
        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Node node
                    && node.epoch == epoch
                    && node.conducting == conducting
                    && node.mode.equals(mode);
        }

        @Override
        public int hashCode() {
            return 31 * (31 * epoch + mode.hashCode()) + Long.hashCode(conducting);
        }
    }

    DrivenLaw(List<Epoch> epochs) {
        this.epochs = epochs;
        changes = epochs.size() == 1
                ? List.of()
                : epochs.subList(1, epochs.size()).stream().map(Epoch::start).toList();
        Epoch first = epochs.get(0);
        clockPeriod = first.controller().clockPeriod();
        double[] ofCircuit = first.network().scale();
        circuitStates = ofCircuit.length;
        List<Controller.OwnState> own = first.controller().states();
        scale = Arrays.copyOf(ofCircuit, circuitStates + own.size());
        for (int i = 0; i < own.size(); i++) {
            scale[circuitStates + i] = own.get(i).scale();
        }
        channelNames = joined(
                first.network().channelNames(),
                first.controller().channels().stream()
                        .map(Controller.Channel::name)
                        .toList());
        jumps = new StateJumps(first.circuit().stateNames().size(), circuitStates, scale.length);
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
        Controller controller = epochs.get(0).controller();
        double[] own = Arrays.copyOfRange(state, circuitStates, state.length);
        Sensing sensing = new Sensing(List.of(), List.of(), circuitStates, state.length);
        Succession first = controller.start(own, sensing);
        return renewed(0, first, 0, state, !controller.startsByStates());
    }

    @Override
    public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
        CircuitPhase phase = (CircuitPhase) ended;
        long conducting = phase.regime().conducting();
        return switch (cause.kind()) {
            case CHANGE -> {
                int epoch = cause.index() + 1;
                Controller.Mode mode = epochs.get(epoch).controller().resume(phase.mode(), sinceTick);
                Network before = epochs.get(phase.epoch()).network();
                long position = epochs.get(epoch).network().positionFrom(before, conducting);
                yield renewed(epoch, Succession.to(mode), position, state, true);
            }
            case END -> succeed(phase, phase.law().atEnd(), state);
            case GUARD -> {
                int guard = cause.index();
                if (guard >= phase.rectifierGuards()) {
                    Rule rule = phase.law().rules().get(guard - phase.rectifierGuards());
                    yield succeed(phase, rule.then(), state);
                }
                Transition transition =
                        resolve(phase.epoch(), phase.mode(), conducting, phase.rectifierOf(guard), state);
                yield new Entry(
                        phase(phase.epoch(), phase.mode(), transition.regime()),
                        jumps.of(transition.jump(), null),
                        transition.repeatable());
            }
        };
    }

    private Entry succeed(CircuitPhase ended, Succession succession, double[] state) {
        long conducting = ended.regime().conducting();
        Transition transition = resolve(ended.epoch(), succession.mode(), conducting, NONE, state);
        return new Entry(
                phase(ended.epoch(), succession.mode(), transition.regime()),
                jumps.of(transition.jump(), succession.jumpAt(state)),
                succession.byState() == null && transition.repeatable());
    }

    /** Enters an epoch: its sources have their values from the first instant. */
    private Entry renewed(int epoch, Succession into, long conducting, double[] state, boolean repeatable) {
        Network network = epochs.get(epoch).network();
        double[] before = network.withSources(ofCircuit(state));
        Transition transition = resolve(epoch, into.mode(), conducting, NONE, before);
        return new Entry(
                phase(epoch, into.mode(), transition.regime()),
                jumps.withSources(transition.jump(), network, into.jumpAt(state)),
                transition.repeatable() && repeatable);
    }

    private Transition resolve(int epoch, Controller.Mode mode, long conducting, int fired, double[] state) {
        Network network = epochs.get(epoch).network();
        return network.resolve(closed(epoch, mode), conducting, fired, ofCircuit(state));
    }

    private double[] ofCircuit(double[] state) {
        return state.length == circuitStates ? state : Arrays.copyOf(state, circuitStates);
    }

    private long closed(int epoch, Controller.Mode mode) {
        Epoch present = epochs.get(epoch);
        long set = 0;
        for (String name : present.controller().closedSwitches(mode)) {
            set |= present.network().switchBit(name);
        }
        return set;
    }

    private CircuitPhase phase(int epoch, Controller.Mode mode, Regime regime) {
        Node at = new Node(epoch, mode, regime.conducting());
        CircuitPhase known = phases.get(at);
        return known != null ? known : phases.computeIfAbsent(at, node -> newPhase(epoch, mode, regime));
    }

    private CircuitPhase newPhase(int epoch, Controller.Mode mode, Regime regime) {
        Epoch present = epochs.get(epoch);
        Sensing sensing = new Sensing(regime.channels(), channelNames, circuitStates, scale.length);
        ControlLaw law = present.controller().in(mode, sensing);
        List<Integer> guarded = guardedRectifiers(regime);
        Controller.Mode shape = present.controller().shape(mode);
        Configuration configuration = configurations.computeIfAbsent(
                new Node(epoch, shape, regime.conducting()),
                node -> configuration(present.network(), regime, law, guarded));
        return new CircuitPhase(configuration, epoch, mode, present.circuit(), regime, law, guarded);
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

    private Configuration configuration(Network network, Regime regime, ControlLaw law, List<Integer> guarded) {
        List<AffineForm> rates = joined(extended(regime.rates()), law.rates());
        int n = scale.length;
        double[][] a = new double[n][n];
        double[] b = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                a[i][j] = rates.get(i).coefficient(j);
            }
            b[i] = rates.get(i).constant();
        }
        List<AffineForm> ofCircuit = regime.channels();
        List<AffineForm> ofControl = law.channels();
        return Configuration.builder(regime.name(), scale, clockPeriod)
                .dynamics(a, b)
                .guards(guards(network, regime, law, guarded))
                .channels(
                        ofCircuit.size() + ofControl.size(),
                        index -> index < ofCircuit.size()
                                ? ofCircuit.get(index).extendedTo(n)
                                : ofControl.get(index - ofCircuit.size()))
                .channelNames(channelNames)
                .constraints(extended(regime.constraints()))
                .build();
    }

    private List<Guard> guards(Network network, Regime regime, ControlLaw law, List<Integer> guarded) {
        List<Guard> guards = new ArrayList<>();
        List<String> rectifiers = network.rectifierNames();
        for (int d : guarded) {
            guards.add(new Guard(
                    network.conditionName(d, regime.conducting()),
                    regime.conditions().get(d).extendedTo(scale.length),
                    d >= rectifiers.size()));
        }
        law.rules().forEach(rule -> guards.add(new Guard(rule.name(), rule.form())));
        return guards;
    }

    private List<AffineForm> extended(List<AffineForm> forms) {
        if (forms.isEmpty() || forms.get(0).dimension() == scale.length) {
            return forms;
        }
        return forms.stream().map(form -> form.extendedTo(scale.length)).toList();
    }

    private static <T> List<T> joined(List<T> first, List<T> second) {
        if (second.isEmpty()) {
            return first;
        }
        List<T> all = new ArrayList<>(first);
        all.addAll(second);
        return List.copyOf(all);
    }

    /**
     * Puts the jump of the circuit's states and that of the controller's together. States stand in the order: those that the
     * circuit stores, those of its ramping sources, those of the controller.
     */
    private static final class StateJumps {
        private final int storedStates;
        private final int circuitStates;
        private final int dimension;

        StateJumps(int storedStates, int circuitStates, int dimension) {
            this.storedStates = storedStates;
            this.circuitStates = circuitStates;
            this.dimension = dimension;
        }

        /** Returns the jump of all states; null if nothing jumps. */
        @Nullable
        AffineMap of(@Nullable AffineMap ofCircuit, @Nullable List<AffineForm> ofController) {
            if (ofController == null && (ofCircuit == null || dimension == circuitStates)) {
                return ofCircuit;
            }
            double[][] matrix = new double[dimension][dimension];
            double[] offset = new double[dimension];
            for (int i = 0; i < circuitStates; i++) {
                offset[i] = ofCircuit == null ? 0 : ofCircuit.offset(i);
                for (int j = 0; j < circuitStates; j++) {
                    matrix[i][j] = factor(ofCircuit, i, j);
                }
            }
            for (int i = circuitStates; i < dimension; i++) {
                if (ofController == null) {
                    matrix[i][i] = 1;
                } else {
                    AffineForm after = ofController.get(i - circuitStates);
                    offset[i] = after.constant();
                    for (int j = 0; j < dimension; j++) {
                        matrix[i][j] = after.coefficient(j);
                    }
                }
            }
            return AffineMap.of(matrix, offset);
        }

        /** Puts the values of ramping sources before the jump; null if nothing jumps. */
        @Nullable
        AffineMap withSources(@Nullable AffineMap ofCircuit, Network network, @Nullable List<AffineForm> ofController) {
            if (circuitStates == storedStates) {
                return of(ofCircuit, ofController);
            }
            double[] sources = network.withSources(new double[circuitStates]);
            double[][] matrix = new double[circuitStates][circuitStates];
            double[] offset = new double[circuitStates];
            for (int i = 0; i < circuitStates; i++) {
                offset[i] = ofCircuit == null ? 0 : ofCircuit.offset(i);
                for (int j = 0; j < circuitStates; j++) {
                    double factor = factor(ofCircuit, i, j);
                    if (j < storedStates) {
                        matrix[i][j] = factor;
                    } else {
                        offset[i] += factor * sources[j];
                    }
                }
            }
            return of(AffineMap.of(matrix, offset), ofController);
        }

        private static double factor(@Nullable AffineMap jump, int row, int column) {
            if (jump != null) {
                return jump.entry(row, column);
            }
            return row == column ? 1 : 0;
        }
    }
}
