package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.SwitchingException;

/**
 * Finds which rectifiers conduct next. Each obeys a complementarity: what it carries while it conducts, or what it lacks of
 * its forward drop while it blocks, is not negative, and the other one of the two is zero. Signs are lexicographic: first
 * those of the impulse on entering, then of the value, its derivative, and so on. From the present position the first rectifier
 * changes whose sign is negative (where there are many, all such, as long as that leads somewhere), which ends for every circuit without controlled sources (K. G. Murty, Note on a Bard-type scheme for solving the complementarity problem, Opsearch 11:123-130,
 * 1974, from memory). What is found is certified by its own conditions, whichever way led there.
 */
final class Resolver {
    /** A jump below this fraction of the state's norm is round-off. */
    private static final double NO_JUMP = 0x1p-40;

    /** Where round-off has grown along a long run, the tolerance grows by these steps before a circuit is given up. */
    private static final double LENIENCY = 0x1p10;

    private static final double MOST_LENIENCY = 0x1p20;

    /** Changes of the segment of a part, which come to their end as Newton's method does. */
    private static final int MOST_STEPS = 64;

    /** No ratio of windings is taken to be larger. */
    private static final double WINDINGS = 1e3;

    /** Changes of all at once that may lead to a position where no fewer are wrong, before one is changed at a time. */
    private static final int MOST_IN_VAIN = 3;

    /** Changes of one at a time, for each rectifier. The scheme ends after far fewer in circuits that are no counterexamples. */
    private static final int MOST_PIVOTS = 8;

    /** So many rectifiers are gone through position by position where pivoting fails, as controlled sources may make it. */
    private static final int FEW = 8;

    private final Network network;
    private final Elements elements;
    private final double[] scale;
    private final long closed;
    private final int rectifiers;
    private final Bends bends;
    private Network.@Nullable Compiled last;
    private long lastPosition;

    Resolver(Network network, Elements elements, double[] scale, long closed) {
        this.network = network;
        this.elements = elements;
        this.scale = scale;
        this.closed = closed;
        rectifiers = elements.rectifiers().size();
        bends = elements.bends();
    }

    Transition resolve(long conducting, int fired, double[] state) {
        ZeroPoint present = zeroPoint(conducting);
        double[] start = fired < 0 || present == null ? state : present.ofFired(fired, state);
        Transition found = choose(conducting, fired, start);
        if (found == null && fired >= 0) {
            start = withinConstraints(conducting, start);
            found = choose(conducting, fired, start);
        }
        if (found == null) {
            throw new SwitchingException(reason(conducting, state));
        }
        found = withoutIdle(found, conducting, fired, start);
        AffineMap jump = found.jump();
        double[] after = jump == null ? start : jump.apply(start);
        ZeroPoint next = zeroPoint(found.regime().conducting());
        double[] settled = next == null ? after : next.ofAll(after);
        return start == state && settled == after ? found : found.movedTo(settled, state);
    }

    /** A position is looked at several times in a row. */
    private Network.Compiled compiled(long conducting) {
        Network.Compiled known = last;
        if (known == null || lastPosition != conducting) {
            known = network.compiled(closed, conducting);
            last = known;
            lastPosition = conducting;
        }
        return known;
    }

    private @Nullable ZeroPoint zeroPoint(long conducting) {
        Network.Compiled compiled = compiled(conducting);
        Regime regime = compiled.regime();
        FirstInstant instant = compiled.instant();
        if (regime == null || instant == null || scale.length == 0) {
            return null;
        }
        return new ZeroPoint(regime, instant, scale, elements.stateCount());
    }

    /**
     * The state without what round-off has taken it off the constraints of the regime that has held until now: currents of
     * coils in series, which are the same, may differ by more than is nothing beside them when they have come from far more.
     */
    private double[] withinConstraints(long conducting, double[] state) {
        Regime regime = compiled(conducting).regime();
        AffineMap entry = regime == null ? null : regime.entry();
        return entry == null ? state : entry.apply(state);
    }

    /** The same with rectifiers blocking that carry nothing, if that fits too: in a row they then share the voltage alike. */
    private Transition withoutIdle(Transition found, long conducting, int fired, double[] state) {
        Regime regime = found.regime();
        long idle = 0;
        for (int d = 0; d < rectifiers; d++) {
            boolean conducts = (regime.conducting() >>> d & 1) != 0;
            idle |= conducts && regime.conditions().get(d).isZero() ? 1L << d : 0;
        }
        if (idle == 0) {
            return found;
        }
        Trial open = new Trial(new Search(conducting, fired, state, 1), compiled(regime.conducting() & ~idle));
        Transition without = open.movesCharges() ? null : open.transition();
        return without == null ? found : without;
    }

    private @Nullable Transition choose(long conducting, int fired, double[] state) {
        Transition found = choose(conducting, fired, state, 1);
        if (found == null && fired >= 0) {
            // a false alarm: the condition is positive by more than round-off
            found = choose(conducting, -1, state, 1);
        }
        for (double leniency = LENIENCY; found == null && leniency <= MOST_LENIENCY; leniency *= LENIENCY) {
            found = choose(conducting, fired, state, leniency);
        }
        return found;
    }

    private @Nullable Transition choose(long conducting, int fired, double[] state, double leniency) {
        Search search = new Search(conducting, fired, state, leniency);
        if (rectifiers > FEW) {
            Transition found = search.allAtOnce();
            return found == null ? search.oneAtATime() : found;
        }
        // among equals the first one conducts alone, and does not share with the others
        Transition found = search.oneAtATime();
        return found == null ? search.positionByPosition() : found;
    }

    /** The search from one position and state, with one tolerance. */
    private final class Search {
        private final long conducting;
        private final int fired;
        private final double[] state;
        private final double leniency;
        private final double norm;
        private final double noJump;

        Search(long conducting, int fired, double[] state, double leniency) {
            this.conducting = conducting;
            this.fired = fired;
            this.state = state;
            this.leniency = leniency;
            norm = norm(state);
            noJump = NO_JUMP * norm + roundOffOf(conducting, fired, state);
        }

        @Nullable
        Transition allAtOnce() {
            long position = conducting;
            int fewest = Integer.MAX_VALUE;
            int inVain = 0;
            while (inVain < MOST_IN_VAIN) {
                Trial trial = new Trial(this, compiled(position));
                if (trial.isDecided()) {
                    return trial.transition();
                }
                long wrong = trial.wrong();
                int count = Long.bitCount(wrong);
                inVain = count < fewest ? 0 : inVain + 1;
                fewest = Math.min(fewest, count);
                position = wrong == 0 ? trial.bent(false) : position ^ wrong;
            }
            return null;
        }

        @Nullable
        Transition oneAtATime() {
            long position = conducting;
            int most = MOST_PIVOTS * (rectifiers + 1) + MOST_STEPS * bends.count();
            for (int k = 0; k < most; k++) {
                Trial trial = new Trial(this, compiled(position));
                if (trial.isDecided()) {
                    return trial.transition();
                }
                long wrong = trial.wrong();
                position = wrong == 0 ? trial.bent(2 * k > most) : position ^ Long.lowestOneBit(wrong);
            }
            return null;
        }

        /** Fewest changes first; charges move only where no position is entered without. */
        @Nullable
        Transition positionByPosition() {
            Transition moving = null;
            for (long flips : flipsInOrder()) {
                Trial trial = bent(conducting ^ flips);
                Transition found = trial.transition();
                if (found != null && !trial.movesCharges()) {
                    return found;
                }
                moving = moving == null ? found : moving;
            }
            return moving;
        }

        /** With these rectifiers, and the segments that follow. */
        private Trial bent(long from) {
            Trial trial = new Trial(this, compiled(from));
            for (int k = 0; k < MOST_STEPS * bends.count() && !trial.isDecided() && trial.wrong() == 0; k++) {
                trial = new Trial(this, compiled(trial.bent(false)));
            }
            return trial;
        }
    }

    /** One position, held against a state. */
    private final class Trial {
        private final Search search;
        private @Nullable Regime regime;
        private @Nullable FirstInstant instant;
        private double[] after;
        private final boolean jumps;
        private Bends.@Nullable Landing landing;

        Trial(Search search, Network.Compiled candidate) {
            this.search = search;
            regime = candidate.regime();
            instant = candidate.instant();
            AffineMap entry = regime == null ? null : regime.entry();
            after = entry == null ? search.state : entry.apply(search.state);
            double drift = instant == null ? 0 : NO_JUMP * instant.drift();
            jumps = entry != null && !(jump(search.state, after, false) <= search.noJump + drift);
            if (regime != null && jumps && bends.count() > 0) {
                Bends.Landing landed =
                        Bends.Landing.of(bends, network, closed, regime.conducting(), search.state, rectifiers);
                landing = landed;
                regime = landed.regime;
                after = landed.after;
                instant = regime == null ? null : compiled(regime.conducting()).instant();
            }
        }

        /** Whether there is nothing to change: the position is right, or impossible. */
        boolean isDecided() {
            return regime == null || (wrong() == 0 && bent(true) == regime.conducting());
        }

        /**
         * The position with the segments changed that the state does not lie on: to the one on which it would lie if the present
         * one went on for ever, or only to the neighbour.
         */
        long bent(boolean toNeighbour) {
            Regime present = Objects.requireNonNull(regime);
            long position = present.conducting();
            for (int k = 0; k < bends.count(); k++) {
                int end = rectifiers + 2 * k;
                int step = isNegative(end) ? 1 : isNegative(end + 1) ? -1 : 0;
                if (step != 0) {
                    int segment = bends.segment(k, present.conducting());
                    int next = segment + step;
                    if (!toNeighbour && zeroOf(step > 0 ? end : end + 1) < 0) {
                        double beyond = Math.abs(present.conditions()
                                .get(step > 0 ? end : end + 1)
                                .valueAt(after, 0));
                        Bends.Segmented part = bends.part(k);
                        int far = part.at(part.knee(step > 0 ? segment : segment - 1) + step * beyond);
                        next = step > 0 ? Math.max(next, far) : Math.min(next, far);
                    }
                    position = bends.with(k, next, position);
                }
            }
            return position;
        }

        private boolean isNegative(int condition) {
            return instant != null
                    && instant.isNegative(condition, after, search.norm, zeroOf(condition), search.leniency);
        }

        /** The condition if it is that of the end which has just been reached, as it is seen from this segment. */
        private int zeroOf(int condition) {
            int bend = (search.fired - rectifiers) / 2;
            if (search.fired < rectifiers || (condition - rectifiers) / 2 != bend || regime == null) {
                return -1;
            }
            boolean upper = (search.fired - rectifiers) % 2 == 0;
            int moved = bends.segment(bend, regime.conducting()) - bends.segment(bend, search.conducting);
            boolean same = moved == 0 && condition == search.fired;
            boolean opposite = moved == (upper ? 1 : -1) && condition == search.fired + (upper ? 1 : -1);
            return same || opposite ? condition : -1;
        }

        /** Whether entering lets capacitances meet. */
        boolean movesCharges() {
            return jumps;
        }

        /** The rectifiers whose sign is negative. */
        long wrong() {
            long wrong = 0;
            for (int d = 0; d < rectifiers; d++) {
                wrong |= isWrong(d) ? 1L << d : 0;
            }
            return wrong;
        }

        private boolean isWrong(int rectifier) {
            if (regime == null || instant == null) {
                return false;
            }
            if (jumps) {
                AffineForm impulse = regime.impulses().get(rectifier);
                double value = landing == null ? impulse.valueAt(search.state, 0) : landing.impulses[rectifier];
                if (Math.abs(value) > NO_JUMP * (size(impulse) * search.norm + Math.abs(impulse.constant()))) {
                    return value < 0;
                }
            }
            boolean stays = search.fired >= 0
                    && search.fired < rectifiers
                    && ((regime.conducting() ^ search.conducting) >>> search.fired & 1) == 0;
            return instant.isNegative(rectifier, after, search.norm, stays ? search.fired : -1, search.leniency);
        }

        /** The step into this position; null if it is not to be taken. */
        @Nullable
        Transition transition() {
            if (regime == null || instant == null || !isDecided()) {
                return null;
            }
            if (!jumps) {
                return new Transition(regime, regime.entry());
            }
            return jump(search.state, after, true) <= NO_JUMP * search.norm ? afterCharges(regime) : null;
        }

        /** What follows once capacitances have met: currents are not what they were. */
        private @Nullable Transition afterCharges(Regime met) {
            AffineMap entry = landing == null ? met.entry() : landing.map(search.state);
            Transition next = choose(met.conducting(), -1, after, 1);
            if (next == null || entry == null) {
                return null;
            }
            AffineMap then = next.jump();
            return new Transition(next.regime(), then == null ? entry : then.after(entry), landing == null);
        }
    }

    /**
     * What the current of a rectifier that is known to have come down to zero leaves to the coils. It matters where
     * nothing else is stored whose size it could be compared with.
     */
    private double roundOffOf(long conducting, int fired, double[] state) {
        Regime present = compiled(conducting).regime();
        if (fired < 0 || fired >= rectifiers || present == null || (conducting >>> fired & 1) == 0) {
            return 0;
        }
        double left = Math.abs(present.conditions().get(fired).valueAt(state, 0));
        double largest = 0;
        for (Elements.Coil coil : elements.coils()) {
            largest = Math.max(largest, scale[coil.state()]);
        }
        return WINDINGS * largest * left;
    }

    private double size(AffineForm form) {
        double sum = 0;
        for (int j = 0; j < scale.length; j++) {
            double scaled = form.coefficient(j) / scale[j];
            sum += scaled * scaled;
        }
        return Math.sqrt(sum);
    }

    /** All sets of few rectifiers in order of their number, or of one and two out of many. */
    private List<Long> flipsInOrder() {
        List<Long> sets = new ArrayList<>(List.of(0L));
        int largest = rectifiers > FEW ? 2 : rectifiers;
        int from = 0;
        for (int changes = 1; changes <= largest; changes++) {
            int to = sets.size();
            for (int k = from; k < to; k++) {
                long smaller = sets.get(k);
                for (int d = Long.SIZE - Long.numberOfLeadingZeros(smaller); d < rectifiers; d++) {
                    sets.add(smaller | 1L << d);
                }
            }
            from = to;
        }
        return sets;
    }

    /** Size of a jump in scaled coordinates: of all states, or of the currents of coils alone. */
    private double jump(double[] before, double[] after, boolean coilsOnly) {
        double sum = 0;
        int count = coilsOnly ? elements.coils().size() : scale.length;
        for (int k = 0; k < count; k++) {
            int j = coilsOnly ? elements.coils().get(k).state() : k;
            double change = scale[j] * (after[j] - before[j]);
            sum += change * change;
        }
        return Math.sqrt(sum);
    }

    private double norm(double[] state) {
        double sum = 0;
        for (int j = 0; j < scale.length; j++) {
            double scaled = scale[j] * state[j];
            sum += scaled * scaled;
        }
        return Math.sqrt(sum);
    }

    private String reason(long conducting, double[] state) {
        List<String> refusals = new ArrayList<>();
        List<String> inconsistent = new ArrayList<>();
        for (long flips : flipsInOrder()) {
            Network.Compiled candidate = compiled(conducting ^ flips);
            Regime regime = candidate.regime();
            if (regime == null) {
                refusals.add(candidate.refusal());
                continue;
            }
            AffineMap entry = regime.entry();
            double[] after = entry == null ? state : entry.apply(state);
            if (jump(state, after, true) > NO_JUMP * norm(state)) {
                return interruption(regime, state, after);
            }
            inconsistent.add(regime.name());
        }
        if (!refusals.isEmpty()) {
            return refusals.get(0);
        }
        return "no position of the rectifiers fits the circuit: tried " + inconsistent
                + "; look for a source that drives a rectifier without anything that limits its current";
    }

    private String interruption(Regime regime, double[] before, double[] after) {
        List<String> coils = new ArrayList<>();
        double limit = NO_JUMP * norm(before);
        for (Elements.Coil coil : elements.coils()) {
            int j = coil.state();
            if (scale[j] * Math.abs(after[j] - before[j]) > limit) {
                coils.add(elements.stateNames().get(j) + " (" + before[j] + " A)");
            }
        }
        return "the current of " + String.join(" and of ", coils) + " is interrupted with " + regime.name()
                + ": it has no other path; give it one, such as a rectifier or a snubber";
    }
}
