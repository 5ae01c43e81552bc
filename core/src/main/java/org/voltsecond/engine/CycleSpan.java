package org.voltsecond.engine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.CycleClearance.Box;

/**
 * One phase of a {@link Cycle} from its start on: how long its guards are certainly clear of zero.
 *
 * <p>Below its chord over a time t a guard f sags by at most {@code sup |p(s)| |w|}, with w the rate of the state at the start of
 * that time, {@code P(s) = f A^-1 (e^(A s) - 1)} and {@code p(s) = P(s) - s / t P(t)}. Within a base of the flow that is at most
 * the largest second derivative times the squared time over 8; over twice a time, with the chord of the whole in place of those of
 * the halves, at most {@code max(p, p |e^(A t)|) + |P(t) - P(2 t) / 2|}. Of a mode that has died out nothing is left in w, so that
 * a stiff phase is certified in few steps. A named numeric kernel.
 */
final class CycleSpan {
    /** Chords of a smaller part of a base are not halved any more. */
    private static final double SHORTEST = 0x1p-5;
    /** A guard that begins at zero is followed by its derivatives up to such a part of a base. */
    private static final double BEGINNING = 0x1p-3;

    private static final int DEEPEST = 40;
    /** The last part of a phase in which the guard that ends it may begin to fall: this many times halved. Chosen. */
    private static final int LATEST_FALL = 6;
    /** Round-off of a value at the end of a chord beside that of {@link GuardRows#tolerance}: as much again. */
    private static final double ROUND_OFF = 2;

    private final Flow flow;
    private final int n;
    /** How long the phase lasts, and its parts. */
    private double length = -1;

    private Level[] levels = {};
    private int deepest;

    private final CycleClearance clearance;
    private final Box start;
    private double since;
    private double uncertain;

    /** The flow over a part of the length, and how far each guard sags in it, by the magnitude of the rate of each state. */
    private static final class Level {
        double duration = -1;
        final double[] change;
        final double[][] sag;
        final double[][] integral;
        /** The change up to the start of a chord of this length, and up to its end. */
        final double[] before;

        final double[] after;

        Level(int n, int guards) {
            change = new double[n * (n + 1)];
            before = new double[n * (n + 1)];
            after = new double[n * (n + 1)];
            sag = new double[guards][n];
            integral = new double[guards][n];
        }
    }

    /** The guards, and the rate at which the one falls that ends the phase. */
    private final GuardRows[] forms;

    private final @Nullable GuardRows falling;
    private final double[] reached;
    private final Box from;
    private final Box to;
    private final Box rate;
    /** The rate at the start, and the state at the end of the length; worked out when they are asked for. */
    private final Box startRate;

    private final Box whole;
    private boolean isRated;
    private boolean isWhole;
    private final double[] form;
    private final double[] next;
    private final double[] scratch;

    CycleSpan(CycleClearance clearance, Box start, Flow flow, int ending) {
        this.clearance = clearance;
        this.start = start;
        this.flow = flow;
        n = flow.n;
        forms = Arrays.copyOf(flow.guards, flow.guards.length + (ending == EventSearch.NONE ? 0 : 1));
        falling = ending == EventSearch.NONE ? null : flow.guards[ending].falling();
        if (falling != null) {
            forms[flow.guards.length] = falling;
        }
        reached = new double[n * (n + 1)];
        from = new Box(n);
        to = new Box(n);
        rate = new Box(n);
        startRate = new Box(n);
        whole = new Box(n);
        form = new double[n];
        next = new double[n];
        scratch = new double[n * (n + 1)];
    }

    /** Takes when the phase starts: the time since the clock edge, and by how much it may shift. */
    void begin(double since, double uncertain) {
        this.since = since;
        this.uncertain = uncertain;
        isRated = false;
        isWhole = false;
    }

    private void setLength(double duration) {
        if (duration != length) {
            length = duration;
            isWhole = false;
            int halvings = 1 + Math.getExponent(Math.max(1, duration / flow.base / SHORTEST));
            if (levels.length <= halvings) {
                levels = new Level[Math.min(DEEPEST, halvings) + 1];
            }
            for (Level level : levels) {
                if (level != null) {
                    level.duration = -1;
                }
            }
        }
        deepest = levels.length - 1;
    }

    private Level level(int k) {
        Level known = levels[k];
        if (known == null) {
            known = new Level(n, forms.length);
            levels[k] = known;
        }
        if (known.duration < 0) {
            known.duration = Math.scalb(length, -k);
            if (known.duration <= flow.base) {
                withinBase(known);
            } else {
                twice(level(k + 1), known);
            }
        }
        return known;
    }

    private void withinBase(Level level) {
        double u = level.duration / flow.base;
        for (int g = 0; g < forms.length; g++) {
            GuardRows guard = forms[g];
            for (int j = 0; j < n; j++) {
                level.sag[g][j] = guard.curvature[j] * (u * u / 8);
            }
        }
        flow.changeOver(u, level.change);
    }

    /** The integral of each form over a part of a base; asked for only where a phase lasts longer than a base. */
    private void integrate(Level level) {
        double u = level.duration / flow.base;
        for (int g = 0; g < forms.length; g++) {
            for (int j = 0; j < n; j++) {
                double sum = 0;
                for (int k = flow.degree; k >= 0; k--) {
                    sum = sum * u + forms[g].rows[k * (n + 1) + j] / (k + 1);
                }
                level.integral[g][j] = sum * level.duration;
            }
        }
    }

    private void twice(Level half, Level whole) {
        if (half.duration <= flow.base) {
            integrate(half);
        }
        for (int g = 0; g < forms.length; g++) {
            for (int j = 0; j < n; j++) {
                double later = half.sag[g][j] * Math.abs(1 + half.change[j * (n + 1) + j]);
                double second = half.integral[g][j];
                for (int m = 0; m < n; m++) {
                    later += m == j ? 0 : half.sag[g][m] * Math.abs(half.change[m * (n + 1) + j]);
                    second += half.integral[g][m] * half.change[m * (n + 1) + j];
                }
                whole.integral[g][j] = half.integral[g][j] + second;
                whole.sag[g][j] = Math.max(half.sag[g][j], later) + 0.5 * Math.abs(half.integral[g][j] - second);
            }
        }
        Flow.after(half.change, half.change, n, whole.change);
    }

    /** Whether a guard is above zero throughout. */
    boolean isClear(int g, double duration) {
        if (!(duration > 0)) {
            return false;
        }
        setLength(duration);
        Arrays.fill(reached, 0);
        return isClearFrom(g, 0, 0);
    }

    /** The same from an instant on, for the part of the length that is a level's. */
    private boolean isClear(int g, int k, double elapsed) {
        Level level = level(k);
        if (isAboveChord(g, k, level, elapsed)) {
            return true;
        }
        if (k == deepest || !clearance.mayGoOn()) {
            return false;
        }
        Level half = level(k + 1);
        System.arraycopy(level.before, 0, half.before, 0, level.before.length);
        if (!isClear(g, k + 1, elapsed)) {
            return false;
        }
        System.arraycopy(level.before, 0, scratch, 0, level.before.length);
        Flow.after(half.change, scratch, n, half.before);
        return isClear(g, k + 1, elapsed + half.duration);
    }

    private boolean isAboveChord(int g, int k, Level level, double elapsed) {
        clearance.mayGoOn();
        if (k == 0) {
            rateAtStart();
            if (!isWhole) {
                follow(level.change, start, whole);
                isWhole = true;
            }
            return isAboveChord(g, level, elapsed, start, startRate, whole, k == deepest);
        }
        Flow.after(level.change, level.before, n, level.after);
        follow(level.before, start, from);
        follow(level.after, start, to);
        findRate(from, rate);
        return isAboveChord(g, level, elapsed, from, rate, to, k == deepest);
    }

    private boolean isAboveChord(int g, Level level, double elapsed, Box first, Box rateThere, Box end, boolean last) {
        GuardRows guard = forms[g];
        double[] sag = level.sag[g];
        double sagging = 0;
        double wide = 0;
        double late = uncertain * Math.abs(guard.slope);
        for (int j = 0; j < n; j++) {
            sagging += sag[j] * Math.abs(rateThere.z[j]);
            wide += sag[j] * rateThere.wide[j];
            late += sag[j] * rateThere.late[j];
        }
        return isAbove(guard, first, elapsed, sagging, wide, late, last)
                && isAbove(guard, end, elapsed + level.duration, sagging, wide, late, last);
    }

    private boolean isAbove(
            GuardRows guard, Box box, double elapsed, double sagging, double wide, double late, boolean last) {
        double margin =
                guard.valueAt(box.z, since + elapsed) - ROUND_OFF * guard.tolerance(box.z, since + elapsed + length);
        double wideThere = sum(guard.form, box.wide);
        double lateThere = sum(guard.form, box.late);
        // where the guard itself is near zero at this instant, no shorter chord helps; whether it falls is asked later
        // on again
        boolean isLeast = guard != falling && clearance.isNearZero(margin, wideThere, lateThere);
        return clearance.holds(margin - sagging, wide + wideThere, late + lateThere, last || isLeast);
    }

    /** Whether a guard that is zero at the start, with its first derivative or without, is above zero from then on. */
    boolean rises(int g, int vanishing, double duration) {
        if (!(duration > 0)) {
            return false;
        }
        setLength(duration);
        rateAtStart();
        if (vanishing == 1 && duration <= flow.base && changesBy(g, 1, duration / flow.base, false)) {
            return true;
        }
        int k = 0;
        while (k < deepest && Math.scalb(duration, -k) > BEGINNING * flow.base) {
            k++;
        }
        if (!changesBy(g, vanishing, Math.scalb(duration, -k) / flow.base, true)) {
            return false;
        }
        for (; k > 0; k--) {
            Level level = level(k);
            System.arraycopy(level.change, 0, reached, 0, reached.length);
            if (!isClearFrom(g, k, level.duration)) {
                return false;
            }
        }
        return true;
    }

    /**
     * Whether the guard that ends the phase falls through zero once only: it is above zero up to an instant, and from there on its
     * derivative is below zero for as long as the phase may last. The instant is the start, or else after a half of it, or three
     * quarters, and so on.
     */
    boolean falls(int g, double most) {
        setLength(most);
        int last = forms.length - 1;
        double share = clearance.share;
        Arrays.fill(reached, 0);
        if (isAbove(forms[g], start, 0, 0, 0, uncertain * Math.abs(forms[g].slope), false) && isClearFrom(last, 0, 0)) {
            return true;
        }
        double elapsed = 0;
        for (int k = 1; k <= Math.min(deepest, LATEST_FALL); k++) {
            clearance.share = share;
            if (!isClearFrom(g, k, elapsed)) {
                return false;
            }
            share = clearance.share;
            System.arraycopy(reached, 0, scratch, 0, reached.length);
            Flow.after(level(k).change, scratch, n, reached);
            elapsed += level(k).duration;
            if (isClearFrom(last, k, elapsed)) {
                return true;
            }
        }
        return false;
    }

    private boolean isClearFrom(int g, int k, double elapsed) {
        System.arraycopy(reached, 0, level(k).before, 0, reached.length);
        return isClear(g, k, elapsed);
    }

    /**
     * Whether the first derivative of a guard (order 1), or the second (order 2), stays above zero over
     * a fraction of a base: it is above what the next derivative can take from it.
     */
    private boolean changesBy(int g, int order, double fraction, boolean last) {
        GuardRows guard = forms[g];
        Arrays.fill(next, 0);
        double[] rows = guard.rows;
        int power = order == 2 ? 1 : 0;
        double margin = order == 2 ? 0 : guard.slope * flow.base;
        double roundOff = Math.abs(margin);
        for (int j = 0; j < n; j++) {
            form[j] = rows[power * (n + 1) + j] * flow.base;
            // the first derivative is base times the sum of rows[k] w u^k, the second that of k rows[k] w u^(k - 1)
            for (int k = flow.degree; k > power; k--) {
                double row = (power == 0 ? 1 : k) * Math.abs(rows[k * (n + 1) + j]) * flow.base;
                next[j] = (next[j] + row) * fraction;
            }
            margin += form[j] * startRate.z[j] - next[j] * Math.abs(startRate.z[j]);
            roundOff += Math.abs(form[j] * startRate.z[j]);
        }
        margin -= 1024 * Flow.TOLERANCE * roundOff;
        double wide = sum(form, startRate.wide) + sum(next, startRate.wide);
        double late = sum(form, startRate.late) + sum(next, startRate.late);
        return clearance.holds(margin, wide, late, last);
    }

    private void rateAtStart() {
        if (!isRated) {
            findRate(start, startRate);
            isRated = true;
        }
    }

    private void findRate(Box of, Box into) {
        flow.rate(of.z, into.z);
        for (int i = 0; i < n; i++) {
            double wide = 0;
            double late = 0;
            for (int j = 0; j < n; j++) {
                double factor = Math.abs(flow.dynamics[i * (n + 1) + j]);
                wide += factor * of.wide[j];
                late += factor * of.late[j];
            }
            into.wide[i] = wide;
            into.late[i] = late;
        }
    }

    static double sum(double[] factors, double[] magnitudes) {
        double sum = 0;
        for (int j = 0; j < magnitudes.length; j++) {
            sum += Math.abs(factors[j]) * magnitudes[j];
        }
        return sum;
    }

    static void follow(double[] change, double[] z, double[] into, int n) {
        for (int i = 0; i < n; i++) {
            double sum = change[i * (n + 1) + n];
            for (int j = 0; j < n; j++) {
                sum += change[i * (n + 1) + j] * z[j];
            }
            into[i] = z[i] + sum;
        }
    }

    static void follow(double[] change, Box from, Box to) {
        int n = from.z.length;
        follow(change, from.z, to.z, n);
        for (int i = 0; i < n; i++) {
            double wide = 0;
            double late = 0;
            for (int j = 0; j < n; j++) {
                double factor = Math.abs(change[i * (n + 1) + j] + (i == j ? 1 : 0));
                wide += factor * from.wide[j];
                late += factor * from.late[j];
            }
            to.wide[i] = wide;
            to.late[i] = late;
        }
    }
}
