package org.voltsecond.control;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Leg.Gates.Stage;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Unit;

/**
 * A control voltage, a modulator and what protects them, put to a plant. Own states stand in the order: those of the
 * control voltage's path, those of each leg, then the codes of the legs.
 */
final class RegulatedController implements Controller {
    /** A state keeps the codes of so many legs that every sum of them is a whole number to the last digit. */
    private static final double MOST_CODES = 0x1p50;
    /** Makes such a state smaller than any other, so that it counts in no measure of the size of all states. */
    private static final double SCALE_OF_CODES = 0x1p-60;

    /**
     * The discrete part: of the control voltage's path, of each leg, of gates that the clock drives, and what the states hold as
     * codes of the legs.
     */
    record Node(ControlPath.State path, List<Leg.State> legs, int segment, List<Double> codes) implements Mode {
        Node with(int leg, Leg.State state) {
            List<Leg.State> changed = new ArrayList<>(legs);
            changed.set(leg, state);
            return new Node(path, List.copyOf(changed), segment, codes);
        }

        Node with(ControlPath.State other) {
            return new Node(other, legs, segment, codes);
        }

        Node with(List<Double> newCodes) {
            return new Node(path, legs, segment, newCodes);
        }

        /** All legs stop together. */
        Stage stage() {
            return legs.get(0).gates().stage();
        }
    }

    private final Plant plant;
    private final ControlPath path;
    private final Modulator modulator;
    private final Protection protection;
    /** How many periods of the modulator make one of the controller. */
    private final int turns;
    /** Gates that the clock alone drives; null for none. */
    private final @Nullable ClockedController beside;

    private final List<Leg> legs;
    private final Node started;
    private final List<OwnState> states;

    private RegulatedController(
            Plant plant,
            ControlPath path,
            Modulator modulator,
            Protection protection,
            int turns,
            @Nullable ClockedController beside) {
        this.plant = plant;
        this.path = path;
        this.modulator = modulator;
        this.protection = protection;
        this.turns = turns;
        this.beside = beside;
        List<OwnState> own = new ArrayList<>(path.states(modulator.clockPeriod()));
        legs = legs(own.size());
        started = node(legs.stream().map(Leg::started).toList());
        legs.forEach(leg -> own.addAll(leg.states()));
        List<Double> codes = started.codes();
        for (int i = 0; i < codes.size(); i++) {
            own.add(new OwnState(
                    "legs on the clock edge" + (i == 0 ? "" : " " + (i + 1)), SCALE_OF_CODES, codes.get(i)));
        }
        states = List.copyOf(own);
    }

    private List<Leg> legs(int firstState) {
        SwitchPattern pattern = plant.pattern();
        List<Leg> result = new ArrayList<>();
        int first = firstState;
        for (int i = 0; i < pattern.legs().size(); i++) {
            Leg leg = new Leg(
                    i,
                    pattern.legs().get(i),
                    plant.current(i),
                    modulator.ofLeg(pattern, i),
                    protection,
                    pattern.delay(i),
                    turns,
                    first);
            result.add(leg);
            first += leg.states().size();
        }
        return List.copyOf(result);
    }

    private Node node(List<Leg.State> ofLegs) {
        return new Node(path.start(), List.copyOf(ofLegs), 0, codes(legs, ofLegs));
    }

    static RegulatedController of(Plant plant, ControlPath path, Modulator modulator, Protection protection) {
        return new RegulatedController(plant, path, modulator, protection, 1, null);
    }

    RegulatedController with(ControlPath otherPath, Modulator otherModulator, Protection otherProtection) {
        return new RegulatedController(plant, otherPath, otherModulator, otherProtection, turns, beside);
    }

    private RegulatedController with(ControlPath other) {
        return with(other, modulator, protection);
    }

    private RegulatedController with(Protection other) {
        return with(path, modulator, other);
    }

    /** With gates beside it that the clock alone drives. */
    RegulatedController beside(int periods, ClockedController gates) {
        return new RegulatedController(plant, path, modulator, protection, periods, gates);
    }

    Plant plant() {
        return plant;
    }

    ControlPath path() {
        return path;
    }

    Modulator modulator() {
        return modulator;
    }

    Protection protection() {
        return protection;
    }

    @Nullable
    ClockedController beside() {
        return beside;
    }

    List<Leg> legs() {
        return legs;
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof RegulatedController same
                && same.plant.equals(plant)
                && same.path.equals(path)
                && same.modulator.equals(modulator)
                && same.protection.equals(protection)
                && same.turns == turns
                && Objects.equals(same.beside, beside);
    }

    @Override
    public int hashCode() {
        return Objects.hash(plant, path, modulator, protection, turns);
    }

    @Override
    public double clockPeriod() {
        return turns * modulator.clockPeriod();
    }

    @Override
    public double shortestPeriod() {
        double own = modulator.clockPeriod();
        return beside == null ? own : Math.min(own, beside.shortestPeriod());
    }

    @Override
    public Set<String> switches() {
        Set<String> names = new TreeSet<>(plant.pattern().switches());
        if (beside != null) {
            names.addAll(beside.switches());
        }
        return names;
    }

    // ------------------------------------------------------------------------------------------------ own states

    @Override
    public List<OwnState> states() {
        return states;
    }

    @Override
    public List<Double> statesAfterStart() {
        List<Double> values = new ArrayList<>(path.statesAfterStart(modulator.clockPeriod()));
        states.stream().skip(values.size()).forEach(state -> values.add(state.initial()));
        return values;
    }

    /** What legs whose clocks lag do, in as few numbers as hold it. */
    static List<Double> codes(List<Leg> legs, List<Leg.State> states) {
        List<Double> codes = new ArrayList<>();
        double place = MOST_CODES;
        for (int i = 0; i < legs.size(); i++) {
            Leg leg = legs.get(i);
            if (leg.spansEdge()) {
                if (place * leg.codes() > MOST_CODES) {
                    codes.add(0.0);
                    place = 1;
                }
                int last = codes.size() - 1;
                codes.set(last, codes.get(last) + place * leg.code(states.get(i)));
                place *= leg.codes();
            }
        }
        return List.copyOf(codes);
    }

    @Override
    public boolean startsByStates() {
        return !started.codes().isEmpty();
    }

    /** The codes of the legs are written anew, so that a period depends on no more of them than which legs they name. */
    @Override
    public ControlLaw.Succession start(double[] ownStates, Sensing sensing) {
        if (protection.locksOut() || !startsByStates()) {
            return ControlLaw.Succession.to(start());
        }
        Node node = startedFrom(ownStates);
        List<AffineForm> after = new ArrayList<>();
        int kept = ownStates.length - node.codes().size();
        for (int i = 0; i < ownStates.length; i++) {
            after.add(i < kept ? sensing.own(i) : sensing.constant(node.codes().get(i - kept)));
        }
        return new ControlLaw.Succession(node, after, null);
    }

    private Node startedFrom(double[] ownStates) {
        List<Leg.State> ofLegs = new ArrayList<>();
        int at = ownStates.length - started.codes().size() - 1;
        double place = MOST_CODES;
        long left = 0;
        for (Leg leg : legs) {
            if (!leg.spansEdge()) {
                ofLegs.add(leg.started());
                continue;
            }
            if (place * leg.codes() > MOST_CODES) {
                left = Math.max(0, (long) Math.rint(ownStates[++at]));
                place = 1;
            }
            ofLegs.add(leg.ofCode((int) (left % leg.codes())));
            left /= leg.codes();
            place *= leg.codes();
        }
        List<Leg.State> after = new ArrayList<>();
        for (int i = 0; i < legs.size(); i++) {
            after.add(legs.get(i).spansEdge() ? legs.get(i).onEdge(ofLegs.get(i)) : ofLegs.get(i));
        }
        return new Node(path.start(), List.copyOf(after), 0, codes(legs, ofLegs));
    }

    // ----------------------------------------------------------------------------------------------------- modes

    @Override
    public List<Channel> channels() {
        List<Channel> channels = new ArrayList<>();
        channels.add(new Channel("control voltage", Unit.VOLT));
        for (int i = 0; i < plant.pattern().legs().size(); i++) {
            channels.add(new Channel(i == 0 ? "ramp" : "ramp " + (i + 1), Unit.VOLT));
        }
        channels.addAll(path.channels());
        return channels;
    }

    @Override
    public Mode start() {
        return protection.locksOut() ? stopped(Stage.LOCKED_OUT, 0) : started;
    }

    Node stopped(Stage stage, int segment) {
        List<Leg.State> ofLegs = legs.stream().map(leg -> leg.stopped(stage)).toList();
        return new Node(path.start(), ofLegs, segment, started.codes());
    }

    /** The first clock edge of a run, or after a stop. */
    Node started() {
        return started;
    }

    @Override
    public Mode resume(Mode mode, double sinceTick) {
        Node node = (Node) mode;
        int segment = beside == null ? 0 : beside.segmentAt(sinceTick);
        return new Node(path.resume(node.path()), node.legs(), segment, node.codes());
    }

    @Override
    public Set<String> closedSwitches(Mode mode) {
        Node node = (Node) mode;
        Set<String> closed = new HashSet<>();
        for (int i = 0; i < legs.size(); i++) {
            closed.addAll(legs.get(i).closed(node.legs().get(i)));
        }
        if (beside != null) {
            closed.addAll(beside.closed(node.segment()));
        }
        return closed;
    }

    @Override
    public Mode shape(Mode mode) {
        return ((Node) mode).with(List.of());
    }

    @Override
    public ControlLaw in(Mode mode, Sensing sensing) {
        return RegulatedLaw.of(this, (Node) mode, sensing);
    }

    @Override
    public boolean isClocked() {
        return modulator.isClocked();
    }

    @Override
    public boolean opensCycle(Mode mode) {
        Leg.State first = ((Node) mode).legs().get(0);
        return first.pulse().equals(modulator.start())
                && first.gates().equals(started.legs().get(0).gates());
    }

    @Override
    public boolean pulses(Mode mode) {
        return ((Node) mode).legs().stream().anyMatch(leg -> leg.gates().stage().on());
    }

    @Override
    public boolean pauses(Mode mode) {
        return ((Node) mode).stage() == Stage.PAUSED;
    }

    @Override
    public ControlLimits controlLimits() {
        return path.limits(modulator.usableOfLegs(plant, protection));
    }

    // ------------------------------------------------------------------------------------------ other controllers

    @Override
    public Controller running() {
        return with(path.afterStart(), modulator, protection.afterStart());
    }

    /** What is left once start-up is over where the input never gets to the start voltage: nothing but the lock-out. */
    RegulatedController lockedOut() {
        Protection.Lockout lockout = protection.lockout();
        return with(
                path.afterStart(),
                modulator,
                protection.afterStart().withUndervoltageLockout(lockout.stop(), lockout.start()));
    }

    /** This controller with its input voltage beyond doubt: it starts, and after a hiccup starts anew. */
    RegulatedController withoutLockout() {
        Protection.Lockout none = Protection.Lockout.NONE;
        return with(protection.withUndervoltageLockout(none.stop(), none.start()));
    }

    /** Whether the input voltage of a state at which this controller begins is too low for it to start. */
    boolean isLockedOut(ControlLaw first, double[] state) {
        return protection.locksOut() && first.rules().get(0).form().valueAt(state, 0) >= 0;
    }

    @Override
    public Controller withInjection() {
        return with(new ControlPath.Injected(path, false));
    }

    @Override
    public Controller withReferenceInjection() {
        return path instanceof ControlLoop
                ? with(new ControlPath.Injected(path, true))
                : Controller.super.withReferenceInjection();
    }
}
