package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;

/** What one run keeps of a phase: the leg that it takes again and again, and what followed it the last time. */
final class PhaseRun {
    final Phase phase;
    final Flow flow;
    final double endSinceTick;
    final double maximumDuration;
    /** Where each guard crossed the last time, in bases of the flow. */
    final double[] lastCrossing;

    final @Nullable Step[] afterGuard;

    @Nullable Step afterEnd;
    private @Nullable Leg leg;
    private @Nullable Walk walk;
    private double lastDuration = Double.NaN;

    PhaseRun(Phase phase) {
        this.phase = phase;
        flow = phase.configuration().flow();
        endSinceTick = phase.endSinceTick();
        maximumDuration = phase.maximumDuration();
        lastCrossing = new double[flow.guards.length];
        afterGuard = new Step[flow.guards.length];
    }

    /** The leg of this duration if the phase has lasted as long before, else null. */
    @Nullable Leg legOf(double duration) {
        Leg known = leg;
        if (known != null && known.duration == duration) {
            return known;
        }
        if (duration == lastDuration) {
            leg = Leg.of(flow, duration);
            return leg;
        }
        lastDuration = duration;
        return null;
    }

    Walk walk() {
        Walk known = walk;
        if (known == null) {
            known = new Walk(flow);
            walk = known;
        }
        return known;
    }

    /** Whether the phase is certainly right at this state: guards clear of zero, constraints met. */
    boolean admits(double[] z, double sinceTick) {
        for (GuardRows constraint : flow.constraints) {
            if (!(Math.abs(constraint.valueAt(z, sinceTick)) <= constraint.tolerance(z, sinceTick))) {
                return false;
            }
        }
        for (GuardRows guard : flow.guards) {
            if (!(guard.valueAt(z, sinceTick) > guard.tolerance(z, sinceTick))) {
                return false;
            }
        }
        return true;
    }

    /** The step into a phase, with its jump in scaled coordinates. */
    static final class Step {
        final PhaseRun next;
        final @Nullable AffineMap jump;
        private final double[] scaledJump;

        Step(PhaseRun next, @Nullable AffineMap jump) {
            this.next = next;
            this.jump = jump;
            scaledJump = jump == null ? new double[0] : scaled(jump, next.flow.scaling);
        }

        private static double[] scaled(AffineMap jump, Scaling scaling) {
            int n = jump.dimension();
            double[] rows = new double[n * (n + 1)];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    rows[i * (n + 1) + j] = scaling.factor(i) * jump.entry(i, j) / scaling.factor(j);
                }
                rows[i * (n + 1) + n] = scaling.factor(i) * jump.offset(i);
            }
            return rows;
        }

        void apply(double[] z, double[] scratch) {
            if (jump == null) {
                return;
            }
            int n = z.length;
            System.arraycopy(z, 0, scratch, 0, n);
            for (int i = 0; i < n; i++) {
                double sum = scaledJump[i * (n + 1) + n];
                for (int j = 0; j < n; j++) {
                    sum += scaledJump[i * (n + 1) + j] * scratch[j];
                }
                z[i] = sum;
            }
        }

        /** Writes the linear part applied to every column of a matrix. */
        double[] applyLinear(double[] matrix, int columns) {
            int n = next.flow.n;
            if (jump == null) {
                return matrix;
            }
            double[] result = new double[n * columns];
            for (int i = 0; i < n; i++) {
                for (int k = 0; k < n; k++) {
                    for (int c = 0; c < columns; c++) {
                        result[i * columns + c] += scaledJump[i * (n + 1) + k] * matrix[k * columns + c];
                    }
                }
            }
            return result;
        }
    }
}
