package org.voltsecond.analysis;

import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.OrbitLoop.Passage;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Guard;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.ComplexMatrix;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.waveform.Signal;

/**
 * The response of the linearised periodic system to one small sine exp(j omega t), seen from the frame that turns with it:
 * there the response repeats with the orbit. Unknown are the small change of the (scaled) states and the shift of the last
 * event; each passage maps them linearly, and the period must give them back. A named numeric kernel.
 */
final class ForcedLoop {
    private final OrbitLoop loop;
    private final Forcing forcing;
    private final double omega;
    private final int n;
    private final double[] scale;
    /** Of every passage; null where it takes no time. */
    private final @Nullable DemodulatedFlow[] flows;

    private final ComplexMatrix solution;

    ForcedLoop(OrbitLoop loop, Forcing forcing, double frequency) {
        this.loop = loop;
        this.forcing = forcing;
        omega = 2 * Math.PI * frequency;
        n = forcing.kept().length;
        double[] all = forcing.circuit().law().scale();
        scale = new double[n];
        for (int i = 0; i < n; i++) {
            scale[i] = all[forcing.kept()[i]];
        }
        flows = new DemodulatedFlow[loop.passages().size()];
        for (int k = 0; k < flows.length; k++) {
            Passage passage = loop.passages().get(k);
            flows[k] = passage.duration() > 0 ? flowOf(passage) : null;
        }
        solution = solve();
    }

    /** Rows: the states, the shift; columns: their values before the period, then the constant. */
    private ComplexMatrix solve() {
        ComplexMatrix map = new ComplexMatrix(n + 1, n + 2);
        map.addToDiagonal(1);
        for (int k = 0; k < loop.passages().size(); k++) {
            map = flow(k, enter(k, map, n + 1), n + 1);
        }
        ComplexMatrix left = new ComplexMatrix(n + 1, n + 1);
        ComplexMatrix right = new ComplexMatrix(n + 1, 1);
        for (int i = 0; i <= n; i++) {
            for (int j = 0; j <= n; j++) {
                left.add(i, j, (i == j ? 1 : 0) - map.real(i, j), -map.imaginary(i, j));
            }
            right.add(i, 0, map.real(i, n + 1), map.imaginary(i, n + 1));
        }
        left.solve(right);
        return right;
    }

    /** The component of a signal at the frequency of the perturbation, per unit of it. */
    Complex of(Signal signal) {
        ComplexMatrix present = solution;
        double re = 0;
        double im = 0;
        for (int k = 0; k < loop.passages().size(); k++) {
            Passage passage = loop.passages().get(k);
            present = enter(k, present, 0);
            double step = jumpOf(signal, k);
            re += step * present.real(n, 0);
            im += step * present.imaginary(n, 0);
            DemodulatedFlow flow = flows[k];
            if (flow != null) {
                ComplexMatrix integral = integral(passage, flow, present);
                AffineForm form = signal.in(passage.phase().configuration());
                double[] factors = forcing.ofKept(form);
                for (int i = 0; i < n; i++) {
                    re += factors[i] / scale[i] * integral.real(i, 0);
                    im += factors[i] / scale[i] * integral.imaginary(i, 0);
                }
                re += forcing.direct(form) * passage.duration();
                im += forcing.quadrature(form, omega) * passage.duration();
                present = flow(k, present, 0);
            }
        }
        return new Complex(re / loop.period(), im / loop.period());
    }

    /** By how much the signal is larger before the step into a passage than after it. */
    private double jumpOf(Signal signal, int index) {
        Passage from = loop.before(index);
        Passage to = loop.passages().get(index);
        double before = signal.in(from.phase().configuration()).valueAt(from.end(), from.endSinceTick());
        return before - signal.in(to.phase().configuration()).valueAt(to.start(), to.sinceTick());
    }

    /** From just before the step into a passage to just after it; the constant stands in a column of its own. */
    private ComplexMatrix enter(int index, ComplexMatrix present, int constant) {
        Passage from = loop.before(index);
        Passage to = loop.passages().get(index);
        ComplexMatrix shifted = shift(from, present, constant);
        ComplexMatrix after = new ComplexMatrix(n + 1, present.columns());
        after.addRow(n, 1, 0, shifted, n);
        double[] before = from.phase().configuration().rate(from.end());
        double[] rate = to.phase().configuration().rate(to.start());
        AffineMap jump = to.jump();
        int[] kept = forcing.kept();
        for (int i = 0; i < n; i++) {
            double rateBefore = 0;
            for (int j = 0; j < n; j++) {
                double factor = jump == null ? (i == j ? 1 : 0) : jump.entry(kept[i], kept[j]);
                if (factor != 0) {
                    rateBefore += factor * before[kept[j]];
                    after.addRow(i, scale[i] * factor / scale[j], 0, present, j);
                }
            }
            if (jump != null) {
                addDirect(after, i, constant, jump);
            }
            after.addRow(i, scale[i] * (rateBefore - rate[kept[i]]), 0, shifted, n);
        }
        return after;
    }

    private void addDirect(ComplexMatrix after, int row, int constant, AffineMap jump) {
        int state = forcing.kept()[row];
        if (forcing.value() >= 0) {
            after.add(row, constant, scale[row] * jump.entry(state, forcing.value()), 0);
        }
        if (forcing.derivative() >= 0) {
            double factor = jump.entry(state, forcing.derivative()) * omega / forcing.angular();
            after.add(row, constant, 0, scale[row] * factor);
        }
    }

    /** The same with the shift of the instant in which one passage ends and the next begins. */
    private ComplexMatrix shift(Passage from, ComplexMatrix present, int constant) {
        ComplexMatrix shifted = new ComplexMatrix(n + 1, present.columns());
        Cause cause = from.cause();
        if (cause != null && cause.kind() == Cause.Kind.GUARD) {
            Guard guard = from.phase().configuration().guards().get(cause.index());
            if (fallsAtOnce(from, guard.form())) {
                shifted.addRow(n, 1, 0, present, n);
            } else {
                addCrossing(shifted, from, guard.form(), present, constant);
            }
        } else if (((CircuitPhase) from.phase()).endMoves()) {
            shifted.add(n, constant, forcing.circuit().clockPeriod(), 0);
        } else if (!from.endsByClock()) {
            shifted.addRow(n, 1, 0, present, n);
        }
        return shifted;
    }

    private static boolean fallsAtOnce(Passage from, AffineForm form) {
        if (from.duration() > 0) {
            return false;
        }
        double size = Math.abs(form.constant()) + Math.abs(form.slope() * from.sinceTick());
        for (int j = 0; j < form.dimension(); j++) {
            size += Math.abs(form.coefficient(j) * from.start()[j]);
        }
        return form.valueAt(from.start(), from.sinceTick()) < -RoundOff.OF_A_CONDITION * size;
    }

    private void addCrossing(
            ComplexMatrix shifted, Passage from, AffineForm form, ComplexMatrix present, int constant) {
        double[] factors = forcing.ofKept(form);
        double[] rate = from.phase().configuration().rate(from.end());
        double slope = form.slope();
        for (int i = 0; i < n; i++) {
            slope += factors[i] * rate[forcing.kept()[i]];
        }
        if (slope == 0) {
            return;
        }
        for (int i = 0; i < n; i++) {
            shifted.addRow(n, -factors[i] / scale[i] / slope, 0, present, i);
        }
        shifted.add(n, constant, -forcing.direct(form) / slope, -forcing.quadrature(form, omega) / slope);
    }

    /** From just after the start of a passage to just before its end. */
    private ComplexMatrix flow(int index, ComplexMatrix present, int constant) {
        DemodulatedFlow flow = flows[index];
        if (flow == null) {
            return present;
        }
        Passage passage = loop.passages().get(index);
        ComplexMatrix states = flow.exponential().times(statesOf(present));
        ComplexMatrix forced = flow.integral().times(input(passage.phase().configuration()));
        ComplexMatrix after = new ComplexMatrix(n + 1, present.columns());
        for (int i = 0; i < n; i++) {
            after.addRow(i, 1, 0, states, i);
            after.add(i, constant, forced.real(i, 0), forced.imaginary(i, 0));
        }
        double turn = omega * passage.duration();
        after.addRow(n, Math.cos(turn), -Math.sin(turn), present, n);
        return after;
    }

    private ComplexMatrix integral(Passage passage, DemodulatedFlow flow, ComplexMatrix present) {
        return flow.integral()
                .times(statesOf(present))
                .plus(flow.secondIntegral().times(input(passage.phase().configuration())));
    }

    private DemodulatedFlow flowOf(Passage passage) {
        Configuration configuration = passage.phase().configuration();
        double[][] a = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                a[i][j] = scale[i] * configuration.a(forcing.kept()[i], forcing.kept()[j]) / scale[j];
            }
        }
        return DemodulatedFlow.of(a, omega, passage.duration());
    }

    private ComplexMatrix statesOf(ComplexMatrix present) {
        ComplexMatrix states = new ComplexMatrix(n, present.columns());
        for (int i = 0; i < n; i++) {
            states.addRow(i, 1, 0, present, i);
        }
        return states;
    }

    /** How the perturbation drives the states. */
    private ComplexMatrix input(Configuration configuration) {
        ComplexMatrix input = new ComplexMatrix(n, 1);
        for (int i = 0; i < n; i++) {
            int state = forcing.kept()[i];
            double re = forcing.value() < 0 ? 0 : configuration.a(state, forcing.value());
            double im = forcing.derivative() < 0
                    ? 0
                    : configuration.a(state, forcing.derivative()) * omega / forcing.angular();
            input.add(i, 0, scale[i] * re, scale[i] * im);
        }
        return input;
    }
}
