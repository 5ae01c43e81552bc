package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ControlLaw.ByState;
import org.voltsecond.control.ControlLaw.Rule;
import org.voltsecond.control.ControlLaw.Succession;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.control.Leg.Gates.Stage;
import org.voltsecond.control.RegulatedController.Node;
import org.voltsecond.engine.AffineForm;

/** What holds in a mode of a regulated controller: the rules of its path and of all legs together, and the steps that follow. */
abstract class RegulatedLaw {
    /** How close after a clock edge is still on it, in periods; what two legs do within it they do at once. */
    static final double ON_THE_EDGE = 0x1p-40;

    private static final double FALLS_AT_ONCE = -1;
    /** So long before the clock edge the codes of legs are written that have changed since the last edge, in periods. */
    private static final double BEFORE_THE_EDGE = 0x1p-38;

    private final RegulatedController controller;
    private final Node node;
    private final Sensing sensing;
    private final List<Leg> legs;
    private final List<OwnState> states;
    private final double clockPeriod;
    final List<Rule> rules = new ArrayList<>();

    private RegulatedLaw(RegulatedController controller, Node node, Sensing sensing) {
        this.controller = controller;
        this.node = node;
        this.sensing = sensing;
        legs = controller.legs();
        states = controller.states();
        clockPeriod = controller.clockPeriod();
    }

    static ControlLaw of(RegulatedController controller, Node node, Sensing sensing) {
        return (node.stage().stopped()
                        ? new Stopped(controller, node, sensing)
                        : new Running(controller, node, sensing))
                .law();
    }

    abstract ControlLaw law();

    // ----------------------------------------------------------------------------------------------------- steps

    /** The step into another node; {@code ofPath} and {@code ofLegs} say what jumps of the states, null where nothing does. */
    private Succession step(Node to, @Nullable List<AffineForm> ofPath, List<Modulator.@Nullable Next> ofLegs) {
        return step(to, ofPath, ofLegs, false);
    }

    /** The same; {@code writes} tells whether the codes of legs are written, which makes them forget what they were. */
    private Succession step(
            Node to, @Nullable List<AffineForm> ofPath, List<Modulator.@Nullable Next> ofLegs, boolean writes) {
        if (to.stage().stopped() && !node.stage().stopped()) {
            List<AffineForm> initial = new ArrayList<>();
            states.forEach(state -> initial.add(sensing.constant(state.initial())));
            return new Succession(to, initial, null);
        }
        boolean byState = ofLegs.stream().anyMatch(next -> next != null && next.byState() != null);
        if (byState) {
            return new Succession(to, null, state -> after(to, ofPath, ofLegs, state, writes));
        }
        boolean stays = ofPath == null
                && ofLegs.stream().allMatch(next -> next == null || next.ownStatesAfter() == null)
                && legs.stream().noneMatch(leg -> restartsTimer(leg, to))
                && !writes;
        return stays ? Succession.to(to) : new Succession(to, after(to, ofPath, ofLegs, new double[0], writes), null);
    }

    /** Whether the states hold no longer what the legs do. */
    private boolean codesAreOld() {
        return !RegulatedController.codes(legs, node.legs()).equals(node.codes());
    }

    private boolean restartsTimer(Leg leg, Node to) {
        Stage before = node.legs().get(leg.number()).gates().stage();
        Stage after = to.legs().get(leg.number()).gates().stage();
        return after.restartsTimer(before) && leg.logic().needsTimer();
    }

    /** All own states after a jump of some of them. */
    private List<AffineForm> after(
            Node to,
            @Nullable List<AffineForm> ofPath,
            List<Modulator.@Nullable Next> ofLegs,
            double[] state,
            boolean writes) {
        AffineForm[] values = new AffineForm[states.size()];
        Arrays.setAll(values, sensing::own);
        put(values, 0, ofPath);
        for (Leg leg : legs) {
            if (restartsTimer(leg, to)) {
                values[leg.timer()] = sensing.constant(0);
            }
            Modulator.Next next = ofLegs.isEmpty() ? null : ofLegs.get(leg.number());
            if (next != null) {
                ByState byState = next.byState();
                put(values, leg.firstState(), byState == null ? next.ownStatesAfter() : byState.ownStatesAfter(state));
            }
        }
        List<Double> codes = to.codes();
        for (int i = 0; writes && i < codes.size(); i++) {
            values[values.length - codes.size() + i] = sensing.constant(codes.get(i));
        }
        return List.of(values);
    }

    private static void put(AffineForm[] values, int first, @Nullable List<AffineForm> some) {
        for (int i = 0; some != null && i < some.size(); i++) {
            values[first + i] = some.get(i);
        }
    }

    void add(String name, AffineForm form, Node then) {
        rules.add(new Rule(name, form, step(then, null, List.of())));
    }

    void addLockout() {
        Protection protection = controller.protection();
        if (protection.locksOut()) {
            AffineForm above = sensing.of(controller.plant().inputVoltage())
                    .plus(-protection.lockout().stop());
            add("undervoltage lock-out", above, controller.stopped(Stage.LOCKED_OUT, node.segment()));
        }
    }

    /** When gates that the clock drives change next. */
    double endOfSegment() {
        ClockedController beside = controller.beside();
        return beside == null ? Double.POSITIVE_INFINITY : beside.end(node.segment());
    }

    /** Gates that the clock drives, once a time is reached. */
    int segmentAfter(double end) {
        ClockedController beside = controller.beside();
        return beside != null && isReached(endOfSegment(), end) ? beside.after(node.segment()) : node.segment();
    }

    boolean isReached(double time, double end) {
        return Math.abs(time - end) <= ON_THE_EDGE * clockPeriod;
    }

    /** What the clock ends: nothing beyond its next edge, and at once what is over already. */
    ControlLaw law(List<AffineForm> rates, List<AffineForm> channels, double end, Succession atEnd) {
        boolean over = end <= 0;
        return new ControlLaw(
                rates, rules, over ? clockPeriod : end, over ? 0 : Double.POSITIVE_INFINITY, atEnd, channels);
    }

    /** While the regulator runs. */
    private static final class Running extends RegulatedLaw {
        private final RegulatedController controller;
        private final Node node;
        private final Sensing sensing;
        private final ControlPath.Present control;
        private final List<Modulator.Present> pulses = new ArrayList<>();
        private final Protection protection;

        Running(RegulatedController controller, Node node, Sensing sensing) {
            super(controller, node, sensing);
            this.controller = controller;
            this.node = node;
            this.sensing = sensing;
            protection = controller.protection();
            control = controller.path().in(node.path(), sensing, controller.plant());
            for (Leg leg : super.legs) {
                pulses.add(leg.modulator()
                        .in(state(leg).pulse(), sensing.from(leg.firstState()), control.control(), leg.current()));
            }
        }

        private Leg.State state(Leg leg) {
            return node.legs().get(leg.number());
        }

        @Override
        ControlLaw law() {
            Leg deciding = super.legs.stream()
                    .filter(leg -> state(leg).gates().deciding())
                    .findFirst()
                    .orElse(null);
            if (deciding != null) {
                addPulseRules(deciding);
                addDecision(deciding);
            } else {
                addLockout();
                for (Leg leg : super.legs) {
                    addGateRules(leg);
                    addPulseRules(leg);
                }
                addPathRules();
            }
            double end = end();
            double lastWritten = super.clockPeriod * (1 - BEFORE_THE_EDGE);
            if (end > lastWritten && super.codesAreOld()) {
                Node written = node.with(RegulatedController.codes(super.legs, node.legs()));
                return law(rates(), channels(), lastWritten, super.step(written, null, List.of(), true));
            }
            return law(rates(), channels(), end, atEnd(end));
        }

        private List<AffineForm> rates() {
            List<AffineForm> rates = new ArrayList<>(control.rates());
            for (Leg leg : super.legs) {
                rates.addAll(pulses.get(leg.number()).rates());
                if (leg.logic().needsTimer()) {
                    // at rest the timer runs down, so that no multiplier of a steady state is 1
                    AffineForm rundown = sensing.own(leg.timer()).times(-1 / leg.period());
                    rates.add(state(leg).gates().stage().timed() ? sensing.constant(1) : rundown);
                }
            }
            while (rates.size() < super.states.size()) {
                rates.add(sensing.constant(0));
            }
            return rates;
        }

        private List<AffineForm> channels() {
            List<AffineForm> channels = new ArrayList<>(List.of(control.control()));
            for (Leg leg : super.legs) {
                channels.add(leg.onClock(pulses.get(leg.number()).ramp(), state(leg)));
            }
            channels.addAll(control.others());
            return channels;
        }

        /** When the first of all legs and gates is at the end of a stretch; the clock edge if that comes before. */
        private double end() {
            double end = endOfSegment();
            boolean spans = false;
            for (Leg leg : super.legs) {
                end = Math.min(end, leg.end(pulses.get(leg.number()), state(leg)));
                spans |= leg.spansEdge();
            }
            boolean onEdge = isReached(end, super.clockPeriod);
            return onEdge || (spans && end > super.clockPeriod) ? super.clockPeriod : end;
        }

        /** All that have come to the end of their stretch go on at once; on the clock edge their periods count anew. */
        private Succession atEnd(double end) {
            List<Leg.State> states = new ArrayList<>();
            List<Modulator.@Nullable Next> nexts = new ArrayList<>();
            boolean onEdge = end == super.clockPeriod;
            for (Leg leg : super.legs) {
                Modulator.Present present = pulses.get(leg.number());
                double own = leg.end(present, state(leg));
                boolean reached = isReached(own, end) || Math.max(own, end) <= 0;
                Leg.State then = reached ? leg.after(present, state(leg)) : state(leg);
                nexts.add(reached ? present.atEnd() : null);
                states.add(then.later(onEdge ? -leg.turns() : 0));
            }
            Node then = new Node(node.path(), List.copyOf(states), segmentAfter(end), node.codes());
            return super.step(then, null, nexts, onEdge && !node.codes().isEmpty());
        }

        /** A rule of one leg, which its modulator follows. */
        private void add(Leg leg, String name, AffineForm form, Leg.State then, Modulator.Next next) {
            List<Modulator.@Nullable Next> nexts = new ArrayList<>();
            super.legs.forEach(each -> nexts.add(each.number() == leg.number() ? next : null));
            rules.add(new Rule(
                    name, leg.onClock(form, state(leg)), super.step(node.with(leg.number(), then), null, nexts)));
        }

        private void addPulseRules(Leg leg) {
            for (Modulator.PulseRule rule : pulses.get(leg.number()).rules()) {
                add(
                        leg,
                        rule.name(),
                        rule.form(),
                        leg.pulsed(state(leg), rule.then().pulse()),
                        rule.then());
            }
        }

        /** The comparator has had its say; now the pulse is left out or begins. */
        private void addDecision(Leg leg) {
            Leg.Gates.Setting gates = state(leg).gates();
            if (protection.skipsPulses()) {
                Leg.Gates.Setting stays = gates.to(gates.stage()).notLimited();
                addCut(leg, "pulse skipping", control.control().plus(-protection.skipLevel()), stays);
            }
            addGates(
                    leg,
                    "start of a pulse",
                    sensing.constant(FALLS_AT_ONCE),
                    leg.logic().proceed(gates));
        }

        private void addGates(Leg leg, String name, AffineForm form, Leg.Gates.Setting then) {
            add(name, form, node.with(leg.number(), state(leg).with(state(leg).pulse(), then)));
        }

        private void addCut(Leg leg, String name, AffineForm form, Leg.Gates.Setting then) {
            Modulator.Next cut = leg.modulator().cut(state(leg).pulse(), sensing.from(leg.firstState()));
            add(leg, name, form, state(leg).with(cut.pulse(), then), cut);
        }

        private void addPathRules() {
            for (ControlPath.PathRule rule : control.rules()) {
                rules.add(new Rule(
                        rule.name(), rule.form(), super.step(node.with(rule.then()), rule.statesAfter(), List.of())));
            }
        }

        private void addGateRules(Leg leg) {
            Leg.Gates logic = leg.logic();
            Leg.Gates.Setting gates = state(leg).gates();
            if (gates.stage().timed()) {
                AffineForm left = sensing.own(leg.timer()).times(-1).plus(logic.timeOf(gates.stage()));
                addGates(
                        leg,
                        "timer of the gates",
                        left,
                        logic.timeOver(gates, state(leg).pulse().on()));
            }
            if (gates.stage() == Stage.ON && protection.limitsCurrent()) {
                addCurrentLimit(leg, gates);
            }
            if (gates.stage() == Stage.SYNCHRONOUS && emulatesDiode()) {
                addGates(leg, "zero current", sensing.of(leg.current()), gates.to(Stage.OFF));
            }
        }

        private void addCurrentLimit(Leg leg, Leg.Gates.Setting gates) {
            AffineForm left = sensing.of(leg.current())
                    .times(-1)
                    .plus(protection.currentLimit().current());
            Leg.Gates.Setting limited = leg.logic().limited(gates);
            if (limited.stage().stopped()) {
                add("current limit", left, controller.stopped(limited.stage(), node.segment()));
            } else {
                addCut(leg, "current limit", left, limited);
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

    /** While the regulator is stopped: its states rest at their initial values. */
    private static final class Stopped extends RegulatedLaw {
        private final RegulatedController controller;
        private final Node node;
        private final Sensing sensing;
        private boolean waits;

        Stopped(RegulatedController controller, Node node, Sensing sensing) {
            super(controller, node, sensing);
            this.controller = controller;
            this.node = node;
            this.sensing = sensing;
        }

        private int timer() {
            return super.legs.get(0).timer();
        }

        @Override
        ControlLaw law() {
            Protection protection = controller.protection();
            switch (node.stage()) {
                case LOCKED_OUT -> {
                    AffineForm below = sensing.of(controller.plant().inputVoltage())
                            .times(-1)
                            .plus(protection.lockout().start());
                    add("end of the undervoltage lock-out", below, stopped(Stage.READY));
                }
                case PAUSED -> {
                    addLockout();
                    AffineForm left = sensing.own(timer())
                            .times(-1)
                            .plus(protection.hiccup().pause());
                    add("end of the hiccup", left, stopped(Stage.READY));
                }
                default -> {
                    addLockout();
                    waitForEdge();
                }
            }
            double end = waits ? Math.min(super.clockPeriod, endOfSegment()) : endOfSegment();
            boolean starts = waits && end == super.clockPeriod;
            Node then =
                    starts ? controller.started() : new Node(node.path(), node.legs(), segmentAfter(end), node.codes());
            return law(rates(), channels(), end, super.step(then, null, List.of()));
        }

        private Node stopped(Stage stage) {
            return controller.stopped(stage, node.segment());
        }

        private List<AffineForm> rates() {
            List<AffineForm> rates = new ArrayList<>();
            for (int i = 0; i < super.states.size(); i++) {
                boolean runs = node.stage() == Stage.PAUSED && i == timer();
                // they are at rest; what would bring them back keeps the multipliers of a steady state below 1
                AffineForm back =
                        sensing.own(i).plus(-super.states.get(i).initial()).times(-1 / super.clockPeriod);
                rates.add(runs ? sensing.constant(1) : back);
            }
            return rates;
        }

        private List<AffineForm> channels() {
            List<AffineForm> channels = new ArrayList<>();
            for (int i = 0; i <= super.legs.size(); i++) {
                channels.add(sensing.constant(0));
            }
            channels.addAll(controller
                    .path()
                    .in(node.path(), sensing, controller.plant())
                    .others());
            return channels;
        }

        /** A modulator that no clock drives starts at once. */
        private void waitForEdge() {
            Leg first = super.legs.get(0);
            Modulator.Present present = first.modulator()
                    .in(
                            first.modulator().start(),
                            sensing.from(first.firstState()),
                            sensing.constant(0),
                            first.current());
            waits = present.endSinceTick() < Double.POSITIVE_INFINITY;
            AffineForm notOnEdge = waits
                    ? sensing.constant(-ON_THE_EDGE * super.clockPeriod).plusRamp(1)
                    : sensing.constant(FALLS_AT_ONCE);
            add("start", notOnEdge, controller.started());
        }
    }
}
