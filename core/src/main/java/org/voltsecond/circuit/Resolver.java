package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.SwitchingException;

/** Finds which rectifiers conduct next: goes through their positions from the present one, fewest changes first. */
final class Resolver {
    /** A jump below this fraction of the state's norm is round-off. */
    private static final double NO_JUMP = 0x1p-40;

    /** Where round-off has grown along a long run, the tolerance grows by these steps before a circuit is given up. */
    private static final double LENIENCY = 0x1p10;

    private static final double MOST_LENIENCY = 0x1p20;

    /** No ratio of windings is taken to be larger. */
    private static final double WINDINGS = 1e3;

    private static final long MOST_CANDIDATES = 1L << 20;

    private final Network network;
    private final Elements elements;
    private final double[] scale;
    private final long closed;
    private final int rectifiers;

    Resolver(Network network, Elements elements, double[] scale, long closed) {
        this.network = network;
        this.elements = elements;
        this.scale = scale;
        this.closed = closed;
        rectifiers = elements.rectifiers().size();
    }

    /** Whether a candidate is to be taken, and how the state jumps into it. */
    @FunctionalInterface
    private interface Trial {
        @Nullable
        Transition of(Network.Compiled candidate, Regime regime);
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
        AffineMap jump = found.jump();
        double[] after = jump == null ? start : jump.apply(start);
        ZeroPoint next = zeroPoint(found.regime().conducting());
        double[] settled = next == null ? after : next.ofAll(after);
        return start == state && settled == after ? found : found.movedTo(settled, state);
    }

    private @Nullable ZeroPoint zeroPoint(long conducting) {
        Network.Compiled compiled = network.compiled(closed, conducting);
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
        Regime regime = network.compiled(closed, conducting).regime();
        AffineMap entry = regime == null ? null : regime.entry();
        return entry == null ? state : entry.apply(state);
    }

    private @Nullable Transition choose(long conducting, int fired, double[] state) {
        Transition found = withoutImpulse(conducting, fired, state, 1);
        if (found == null && fired >= 0) {
            // a false alarm: the condition is positive by more than round-off
            found = withoutImpulse(conducting, -1, state, 1);
        }
        if (found == null) {
            found = withCharges(conducting, state, rectifiers + 1);
        }
        for (double leniency = LENIENCY; found == null && leniency <= MOST_LENIENCY; leniency *= LENIENCY) {
            found = withoutImpulse(conducting, fired, state, leniency);
        }
        return found;
    }

    private @Nullable Transition withoutImpulse(long conducting, int fired, double[] state, double leniency) {
        double norm = norm(state);
        double noJump = NO_JUMP * norm + roundOffOf(conducting, fired, state);
        return first(conducting, (candidate, regime) -> {
            AffineMap entry = regime.entry();
            FirstInstant instant = candidate.instant();
            double[] after = state;
            if (entry != null) {
                after = entry.apply(state);
                if (!(jump(state, after, false) <= noJump + (instant == null ? 0 : NO_JUMP * instant.drift()))) {
                    return null;
                }
            }
            boolean stays = fired >= 0 && ((regime.conducting() ^ conducting) >>> fired & 1) == 0;
            boolean holds = instant != null && instant.holds(after, norm, stays ? fired : -1, leniency);
            return holds ? new Transition(regime, entry) : null;
        });
    }

    /**
     * What the current of a rectifier that is known to have come down to zero leaves to the coils. It matters where
     * nothing else is stored whose size it could be compared with.
     */
    private double roundOffOf(long conducting, int fired, double[] state) {
        Regime present = network.compiled(closed, conducting).regime();
        if (fired < 0 || present == null || (conducting >>> fired & 1) == 0) {
            return 0;
        }
        double left = Math.abs(present.conditions().get(fired).valueAt(state, 0));
        double largest = 0;
        for (Elements.Coil coil : elements.coils()) {
            largest = Math.max(largest, scale[coil.state()]);
        }
        return WINDINGS * largest * left;
    }

    /** Lets capacitances meet, then looks for the regime that follows. */
    private @Nullable Transition withCharges(long conducting, double[] state, int attempts) {
        double norm = norm(state);
        return first(conducting, (candidate, regime) -> {
            AffineMap entry = regime.entry();
            if (entry == null) {
                return null;
            }
            double[] after = entry.apply(state);
            boolean redistributes = jump(state, after, true) <= NO_JUMP * norm
                    && jump(state, after, false) > NO_JUMP * norm
                    && flowsForward(regime, state, norm);
            if (!redistributes) {
                return null;
            }
            Transition next = withoutImpulse(regime.conducting(), -1, after, 1);
            if (next == null && attempts > 0) {
                next = withCharges(regime.conducting(), after, attempts - 1);
            }
            return next == null ? null : new Transition(next.regime(), compose(next.jump(), entry));
        });
    }

    private boolean flowsForward(Regime regime, double[] state, double norm) {
        for (int d = 0; d < rectifiers; d++) {
            if ((regime.conducting() >>> d & 1) != 0) {
                int port = elements.portIndex(elements.rectifiers().get(d).name());
                AffineForm charge = regime.charges().get(port);
                if (charge.valueAt(state, 0) < -NO_JUMP * (size(charge) * norm + Math.abs(charge.constant()))) {
                    return false;
                }
            }
        }
        return true;
    }

    private double size(AffineForm form) {
        double sum = 0;
        for (int j = 0; j < scale.length; j++) {
            double scaled = form.coefficient(j) / scale[j];
            sum += scaled * scaled;
        }
        return Math.sqrt(sum);
    }

    private static AffineMap compose(@Nullable AffineMap second, AffineMap first) {
        if (second == null) {
            return first;
        }
        int n = first.dimension();
        double[][] matrix = new double[n][n];
        double[] offset = new double[n];
        for (int i = 0; i < n; i++) {
            offset[i] = second.offset(i);
            for (int k = 0; k < n; k++) {
                offset[i] += second.entry(i, k) * first.offset(k);
                for (int j = 0; j < n; j++) {
                    matrix[i][j] += second.entry(i, k) * first.entry(k, j);
                }
            }
        }
        return AffineMap.of(matrix, offset);
    }

    /** Goes through all sets of rectifiers in order of the number of changes; null if none is taken. */
    private @Nullable Transition first(long conducting, Trial trial) {
        long tried = 0;
        for (int changes = 0; changes <= rectifiers; changes++) {
            long flips = (1L << changes) - 1;
            while (flips >>> rectifiers == 0) {
                Network.Compiled candidate = network.compiled(closed, conducting ^ flips);
                Regime regime = candidate.regime();
                Transition found = regime == null ? null : trial.of(candidate, regime);
                if (found != null) {
                    return found;
                }
                if (++tried > MOST_CANDIDATES) {
                    return null;
                }
                if (flips == 0) {
                    break;
                }
                flips = nextOfSameSize(flips);
            }
        }
        return null;
    }

    /** The next larger number with as many bits set. */
    private static long nextOfSameSize(long bits) {
        long lowest = bits & -bits;
        long carried = bits + lowest;
        return carried | ((bits ^ carried) >>> 2) / lowest;
    }

    /** Size of a jump in scaled coordinates: of all states, or of the currents of coils alone. */
    private double jump(double[] before, double[] after, boolean coilsOnly) {
        double sum = 0;
        if (coilsOnly) {
            for (Elements.Coil coil : elements.coils()) {
                int j = coil.state();
                double change = scale[j] * (after[j] - before[j]);
                sum += change * change;
            }
        } else {
            for (int j = 0; j < scale.length; j++) {
                double change = scale[j] * (after[j] - before[j]);
                sum += change * change;
            }
        }
        return Math.sqrt(sum);
    }

    private double norm(double[] state) {
        return jump(state, new double[state.length], false);
    }

    private String reason(long conducting, double[] state) {
        List<String> interrupted = new ArrayList<>();
        List<String> refusals = new ArrayList<>();
        List<String> inconsistent = new ArrayList<>();
        first(conducting, (candidate, regime) -> {
            AffineMap entry = regime.entry();
            double[] after = entry == null ? state : entry.apply(state);
            if (jump(state, after, true) > NO_JUMP * norm(state)) {
                interrupted.add(interruption(regime, state, after));
            } else {
                inconsistent.add(regime.name());
            }
            return null;
        });
        if (!interrupted.isEmpty()) {
            return interrupted.get(0);
        }
        for (long set = 0; set < 1L << Math.min(rectifiers, 10); set++) {
            Network.Compiled candidate = network.compiled(closed, conducting ^ set);
            if (candidate.regime() == null) {
                refusals.add(candidate.refusal());
            }
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
