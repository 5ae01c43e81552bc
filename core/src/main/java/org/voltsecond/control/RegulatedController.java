package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ControlLaw.ByState;
import org.voltsecond.control.ControlLaw.Rule;
import org.voltsecond.control.ControlLaw.Succession;
import org.voltsecond.control.GateLogic.Stage;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Unit;

/**
 * A control voltage, a modulator and what protects them, put to a plant. Own states stand in the order: those of the
 * control voltage's path, those of the modulator, then the timer of the gates.
 *
 * @param plant switches and signals
 * @param path where the control voltage comes from
 * @param modulator from the control voltage to pulses
 * @param protection what surrounds them
 */
record RegulatedController(Plant plant, ControlPath path, Modulator modulator, Protection protection)
        implements Controller {
    /** How close after a clock edge is still on it, in periods. */
    private static final double ON_THE_EDGE = 0x1p-40;

    private static final double FALLS_AT_ONCE = -1;

    /** The discrete part: of the control voltage's path, of the modulator, of the gates. */
    record Node(ControlPath.State path, Modulator.Pulse pulse, GateLogic.State gates) implements Mode {}

    private GateLogic logic() {
        return new GateLogic(protection, plant.synchronousTransistor() != null);
    }

    @Override
    public double clockPeriod() {
        return modulator.clockPeriod();
    }

    @Override
    public Set<String> switches() {
        Set<String> names = new TreeSet<>(Set.of(plant.transistor()));
        String synchronous = plant.synchronousTransistor();
        if (synchronous != null) {
            names.add(synchronous);
        }
        return names;
    }

    @Override
    public List<OwnState> states() {
        List<OwnState> states = new ArrayList<>(path.states(clockPeriod()));
        states.addAll(modulator.states());
        if (logic().needsTimer()) {
            states.add(new OwnState("timer of the gates", 0x1p-8 / clockPeriod(), 0));
        }
        return states;
    }

    @Override
    public List<Double> statesAfterStart() {
        List<Double> values = new ArrayList<>(path.statesAfterStart(clockPeriod()));
        states().stream().skip(values.size()).forEach(state -> values.add(state.initial()));
        return values;
    }

    private int statesOfPath() {
        return path.states(clockPeriod()).size();
    }

    private int timer() {
        return statesOfPath() + modulator.states().size();
    }

    @Override
    public List<Channel> channels() {
        List<Channel> channels = new ArrayList<>();
        channels.add(new Channel("control voltage", Unit.VOLT));
        channels.add(new Channel("ramp", Unit.VOLT));
        channels.addAll(path.channels());
        return channels;
    }

    @Override
    public Mode start() {
        return protection.locksOut() ? stopped(Stage.LOCKED_OUT) : started();
    }

    private Node stopped(Stage stage) {
        return new Node(path.start(), modulator.start(), GateLogic.State.of(stage));
    }

    private Node started() {
        Modulator.Pulse pulse = modulator.start();
        return new Node(path.start(), pulse, logic().follow(logic().start(), false, pulse.on()));
    }

    @Override
    public Mode resume(Mode mode, double sinceTick) {
        Node node = (Node) mode;
        return new Node(path.resume(node.path()), node.pulse(), node.gates());
    }

    @Override
    public Set<String> closedSwitches(Mode mode) {
        Stage stage = ((Node) mode).gates().stage();
        if (stage.on()) {
            return Set.of(plant.transistor());
        }
        String synchronous = plant.synchronousTransistor();
        return synchronous == null || stage != Stage.SYNCHRONOUS ? Set.of() : Set.of(synchronous);
    }

    @Override
    public ControlLaw in(Mode mode, Sensing sensing) {
        Node node = (Node) mode;
        return node.gates().stage().stopped() ? new Stopped(node, sensing).law() : new Running(node, sensing).law();
    }

    @Override
    public boolean isClocked() {
        return modulator.isClocked();
    }

    @Override
    public boolean opensCycle(Mode mode) {
        Node node = (Node) mode;
        return node.pulse().equals(modulator.start())
                && node.gates().equals(started().gates());
    }

    @Override
    public boolean pulses(Mode mode) {
        return ((Node) mode).gates().stage().on();
    }

    @Override
    public boolean pauses(Mode mode) {
        return ((Node) mode).gates().stage() == Stage.PAUSED;
    }

    @Override
    public ControlLimits controlLimits() {
        return path.limits(modulator.usableControl(plant, protection));
    }

    @Override
    public Controller running() {
        return new RegulatedController(plant, path.afterStart(), modulator, protection.afterStart());
    }

    /** What is left once start-up is over where the input never gets to the start voltage: nothing but the lock-out. */
    RegulatedController lockedOut() {
        Protection.Lockout lockout = protection.lockout();
        return new RegulatedController(
                plant,
                path.afterStart(),
                modulator,
                protection.afterStart().withUndervoltageLockout(lockout.stop(), lockout.start()));
    }

    /** This controller with its input voltage beyond doubt: it starts, and after a hiccup starts anew. */
    RegulatedController withoutLockout() {
        Protection.Lockout none = Protection.Lockout.NONE;
        return new RegulatedController(
                plant, path, modulator, protection.withUndervoltageLockout(none.stop(), none.start()));
    }

    /** Whether the input voltage of a state at which this controller begins is too low for it to start. */
    boolean isLockedOut(ControlLaw first, double[] state) {
        return protection.locksOut() && first.rules().get(0).form().valueAt(state, 0) >= 0;
    }

    @Override
    public Controller withInjection() {
        return new RegulatedController(plant, new ControlPath.Injected(path, false), modulator, protection);
    }

    @Override
    public Controller withReferenceInjection() {
        return path instanceof ControlLoop
                ? new RegulatedController(plant, new ControlPath.Injected(path, true), modulator, protection)
                : Controller.super.withReferenceInjection();
    }

    /** The step from one node to another: starts the timer, or sets all states back. */
    private Succession step(Node from, Node to, Sensing sensing, OwnJump jump) {
        Stage before = from.gates().stage();
        Stage after = to.gates().stage();
        if (after.stopped() && !before.stopped()) {
            List<AffineForm> initial = new ArrayList<>();
            states().forEach(state -> initial.add(sensing.constant(state.initial())));
            return new Succession(to, initial, null);
        }
        boolean timed = after.restartsTimer(before) && logic().needsTimer();
        ByState byState = jump.byState();
        if (byState != null) {
            return new Succession(
                    to, null, state -> after(sensing, timed, jump.ofPath(), byState.ownStatesAfter(state)));
        }
        if (!timed && jump.ofPath() == null && jump.ofModulator() == null) {
            return Succession.to(to);
        }
        return new Succession(to, after(sensing, timed, jump.ofPath(), jump.ofModulator()), null);
    }

    /** All own states after a jump of some of them. */
    private List<AffineForm> after(
            Sensing sensing, boolean timed, @Nullable List<AffineForm> ofPath, @Nullable List<AffineForm> ofModulator) {
        List<AffineForm> values = new ArrayList<>();
        for (int i = 0; i < states().size(); i++) {
            values.add(timed && i == timer() ? sensing.constant(0) : sensing.own(i));
        }
        for (int i = 0; ofPath != null && i < ofPath.size(); i++) {
            values.set(i, ofPath.get(i));
        }
        for (int i = 0; ofModulator != null && i < ofModulator.size(); i++) {
            values.set(statesOfPath() + i, ofModulator.get(i));
        }
        return values;
    }

    /** How the own states of the path and of the modulator jump; null where they stay. */
    private record OwnJump(
            @Nullable List<AffineForm> ofPath,
            @Nullable List<AffineForm> ofModulator,
            @Nullable ByState byState) {
        static final OwnJump NONE = new OwnJump(null, null, null);

        static OwnJump of(Modulator.Next next) {
            return next.ownStatesAfter() == null && next.byState() == null
                    ? NONE
                    : new OwnJump(null, next.ownStatesAfter(), next.byState());
        }

        static OwnJump of(ControlPath.PathRule rule) {
            return rule.statesAfter() == null ? NONE : new OwnJump(rule.statesAfter(), null, null);
        }
    }

    /** What holds while the regulator runs. */
    private final class Running {
        private final Node node;
        private final Sensing sensing;
        private final Sensing ofModulator;
        private final ControlPath.Present control;
        private final Modulator.Present pulses;
        private final List<Rule> rules = new ArrayList<>();

        Running(Node node, Sensing sensing) {
            this.node = node;
            this.sensing = sensing;
            control = path.in(node.path(), sensing, plant);
            ofModulator = sensing.from(statesOfPath());
            pulses = modulator.in(node.pulse(), ofModulator, control.control(), plant);
        }

        ControlLaw law() {
            if (node.gates().deciding()) {
                addPulseRules();
                addDecision();
            } else {
                addGateRules();
                addPulseRules();
                addPathRules();
            }
            List<AffineForm> rates = new ArrayList<>(control.rates());
            rates.addAll(pulses.rates());
            if (logic().needsTimer()) {
                // at rest the timer runs down, so that no multiplier of a steady state is 1
                AffineForm rundown = sensing.own(timer()).times(-1 / clockPeriod());
                rates.add(node.gates().stage().timed() ? sensing.constant(1) : rundown);
            }
            List<AffineForm> channels = new ArrayList<>(List.of(control.control(), pulses.ramp()));
            channels.addAll(control.others());
            return new ControlLaw(
                    rates, rules, pulses.endSinceTick(), Double.POSITIVE_INFINITY, pulsing(pulses.atEnd()), channels);
        }

        private Succession step(Node to, OwnJump jump) {
            return RegulatedController.this.step(node, to, sensing, jump);
        }

        private void add(String name, AffineForm form, Node then) {
            rules.add(new Rule(name, form, step(then, OwnJump.NONE)));
        }

        private Node with(Modulator.Pulse pulse, GateLogic.State gates) {
            return new Node(node.path(), pulse, gates);
        }

        private Succession pulsing(Modulator.Next next) {
            GateLogic.State gates =
                    logic().follow(node.gates(), node.pulse().on(), next.pulse().on());
            return step(with(next.pulse(), gates), OwnJump.of(next));
        }

        private void addPulseRules() {
            for (Modulator.PulseRule rule : pulses.rules()) {
                rules.add(new Rule(rule.name(), rule.form(), pulsing(rule.then())));
            }
        }

        /** The comparator has had its say; now the pulse is left out or begins. */
        private void addDecision() {
            GateLogic.State gates = node.gates();
            if (protection.skipsPulses()) {
                GateLogic.State stays = gates.to(gates.stage()).notLimited();
                addCut("pulse skipping", control.control().plus(-protection.skipLevel()), stays);
            }
            add("begin of a pulse", sensing.constant(FALLS_AT_ONCE), with(node.pulse(), logic().proceed(gates)));
        }

        private void addCut(String name, AffineForm form, GateLogic.State then) {
            Modulator.Next cut = modulator.cut(node.pulse(), ofModulator);
            rules.add(new Rule(name, form, step(with(cut.pulse(), then), OwnJump.of(cut))));
        }

        private void addPathRules() {
            for (ControlPath.PathRule rule : control.rules()) {
                Node then = new Node(rule.then(), node.pulse(), node.gates());
                rules.add(new Rule(rule.name(), rule.form(), step(then, OwnJump.of(rule))));
            }
        }

        private void addGateRules() {
            GateLogic.State gates = node.gates();
            addLockout(rules, node, sensing);
            if (gates.stage().timed()) {
                AffineForm left = sensing.own(timer()).times(-1).plus(logic().timeOf(gates.stage()));
                add(
                        "timer of the gates",
                        left,
                        with(node.pulse(), logic().timeOver(gates, node.pulse().on())));
            }
            if (gates.stage() == Stage.ON && protection.limitsCurrent()) {
                AffineForm left = sensing.of(plant.inductorCurrent())
                        .times(-1)
                        .plus(protection.currentLimit().current());
                GateLogic.State limited = logic().limited(gates);
                if (limited.stage().stopped()) {
                    add("current limit", left, stopped(limited.stage()));
                } else {
                    addCut("current limit", left, limited);
                }
            }
            if (gates.stage() == Stage.SYNCHRONOUS && emulatesDiode()) {
                add("zero current", sensing.of(plant.inductorCurrent()), with(node.pulse(), gates.to(Stage.OFF)));
            }
        }

        private boolean emulatesDiode() {
            return switch (protection.synchronous().rectification()) {
                case FORCED -> false;
                case DIODE_EMULATION -> true;
                case DIODE_EMULATION_AT_START -> node.path().rising();
            };
        }
    }

    private void addLockout(List<Rule> rules, Node node, Sensing sensing) {
        if (protection.locksOut()) {
            AffineForm above =
                    sensing.of(plant.inputVoltage()).plus(-protection.lockout().stop());
            Node stop = stopped(Stage.LOCKED_OUT);
            rules.add(new Rule("undervoltage lock-out", above, step(node, stop, sensing, OwnJump.NONE)));
        }
    }

    /** What holds while the regulator is stopped: its states rest at their initial values. */
    private final class Stopped {
        private final Node node;
        private final Sensing sensing;
        private final List<Rule> rules = new ArrayList<>();
        private double endSinceTick = Double.POSITIVE_INFINITY;

        Stopped(Node node, Sensing sensing) {
            this.node = node;
            this.sensing = sensing;
        }

        ControlLaw law() {
            switch (node.gates().stage()) {
                case LOCKED_OUT -> {
                    AffineForm below = sensing.of(plant.inputVoltage())
                            .times(-1)
                            .plus(protection.lockout().start());
                    add("end of the undervoltage lock-out", below, stopped(Stage.READY));
                }
                case PAUSED -> {
                    addLockout(rules, node, sensing);
                    AffineForm left = sensing.own(timer())
                            .times(-1)
                            .plus(protection.hiccup().pause());
                    add("end of the hiccup", left, stopped(Stage.READY));
                }
                default -> {
                    addLockout(rules, node, sensing);
                    waitForEdge();
                }
            }
            AffineForm nothing = sensing.constant(0);
            ControlPath.Present control = path.in(node.path(), sensing, plant);
            List<OwnState> own = states();
            List<AffineForm> rates = new ArrayList<>();
            for (int i = 0; i < own.size(); i++) {
                boolean runs = node.gates().stage() == Stage.PAUSED && i == timer();
                // they are at rest; what would bring them back keeps the multipliers of a steady state below 1
                AffineForm back = sensing.own(i).plus(-own.get(i).initial()).times(-1 / clockPeriod());
                rates.add(runs ? sensing.constant(1) : back);
            }
            List<AffineForm> channels = new ArrayList<>(List.of(nothing, nothing));
            channels.addAll(control.others());
            return new ControlLaw(
                    rates,
                    rules,
                    endSinceTick,
                    Double.POSITIVE_INFINITY,
                    step(node, started(), sensing, OwnJump.NONE),
                    channels);
        }

        /** A modulator that no clock drives starts at once. */
        private void waitForEdge() {
            Modulator.Present first =
                    modulator.in(modulator.start(), sensing.from(statesOfPath()), sensing.constant(0), plant);
            boolean clocked = first.endSinceTick() < Double.POSITIVE_INFINITY;
            AffineForm notOnEdge = clocked
                    ? sensing.constant(-ON_THE_EDGE * clockPeriod()).plusRamp(1)
                    : sensing.constant(FALLS_AT_ONCE);
            add("start", notOnEdge, started());
            endSinceTick = clocked ? clockPeriod() : Double.POSITIVE_INFINITY;
        }

        private void add(String name, AffineForm form, Node then) {
            rules.add(new Rule(name, form, step(node, then, sensing, OwnJump.NONE)));
        }
    }
}
