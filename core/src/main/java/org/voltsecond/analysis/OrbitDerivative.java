package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.OrbitLoop.Passage;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.ClockTime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingLaw;
import org.voltsecond.numeric.Elimination;
import org.voltsecond.numeric.RoundOff;

/**
 * The derivative of a periodic orbit by one parameter: a named numeric kernel. With x the state, p the parameter and
 * t_k the instants of switching,
 *
 * <ul>
 *   <li>within an interval x_p' = A x_p + A_p x + b_p, solved together with x by the engine's exact flow;
 *   <li>at an instant x_p+ = J x_p- + J_p x- + t_p (J f- - f+), with f the rates and J the map of entry, which a controller
 *       may make depend on p; of a guard g = 0 the instant moves by t_p = -(g_x x_p- + g_p) / (g_x f- + g_t), of a gate by
 *       its share of the period, if it moves (see {@link DrivenCircuit#withMovingEdges});
 *   <li>the orbit closes where x_p(0) = x_p(T-) + f- T_p, without a clock just after the entry into the next cycle: with M
 *       the derivative of the period map, (I - M) x_p(0) is what comes out after a period for x_p(0) = 0.
 * </ul>
 *
 * <p>(Saltation as in M. di Bernardo and others, Piecewise-smooth Dynamical Systems, Springer 2008, from memory.)
 */
final class OrbitDerivative {
    private final SteadyState steady;
    private final DrivenCircuit circuit;
    private final Parameter parameter;
    private final ParameterForms forms;
    private final int n;
    private final double[] scale;
    private final OrbitLoop.Once orbit;
    private final IdentityHashMap<Phase, PhaseDerivatives> derivatives = new IdentityHashMap<>();

    /**
     * Prepares a derivative.
     *
     * @param steady the steady state
     * @param parameter by what
     * @param rising whether it is that towards larger values, where edges that move and edges that stay coincide
     */
    OrbitDerivative(SteadyState steady, Parameter parameter, boolean rising) {
        this.steady = steady;
        this.parameter = parameter;
        circuit = parameter.kind() == Parameter.Kind.DUTY_CYCLE
                ? steady.circuit().withMovingEdges(parameter.part(), rising)
                : steady.circuit();
        forms = new ParameterForms(steady.circuit().circuit(), parameter);
        scale = steady.circuit().law().scale();
        n = scale.length;
        orbit = OrbitLoop.once(steady, circuit);
    }

    Sensitivity sensitivity() {
        double[] start = close(new Round(new double[n]).end());
        Round round = new Round(start);
        round.end();
        return new Sensitivity(steady, parameter, round.spans, round.flashes, round.moves);
    }

    /** Once around from a derivative of the state at the start. */
    private final class Round {
        private final List<Sensitivity.Span> spans = new ArrayList<>();
        private final List<Sensitivity.Flash> flashes = new ArrayList<>();
        /** The derivative of the state just before the end of the last passage, at a fixed time. */
        private double[] xp;
        /** How far that end moves for each unit of the parameter, s. */
        private double moves;

        private double[] rate = new double[n];
        private double elapsed;

        Round(double[] start) {
            xp = start;
        }

        /** The derivative of the state at the end of the period, which may move. */
        double[] end() {
            List<Passage> passages = orbit.passages();
            from = orbit.closing() == null ? passages.get(passages.size() - 1) : null;
            for (int k = 0; k < passages.size(); k++) {
                Passage passage = passages.get(k);
                xp = k == 0 ? jumped(passage, xp) : jumped(passage, moved(passages.get(k - 1), passage));
                double[] after = passage.phase().configuration().rate(passage.start());
                for (int i = 0; i < n; i++) {
                    xp[i] -= moves * after[i];
                }
                pass(passage, k + 1 == passages.size());
            }
            Passage closing = orbit.closing();
            Passage last = passages.get(passages.size() - 1);
            return closing == null ? moved(last, null) : jumped(closing, moved(last, closing));
        }

        private void pass(Passage passage, boolean last) {
            double startMoves = moves;
            double[] end = OrbitDerivative.concat(passage.end(), xp);
            Interval both = null;
            if (passage.duration() > 0) {
                both = both(passage, OrbitDerivative.concat(passage.start(), xp));
                end = both.endState();
            }
            elapsed += passage.duration();
            moves = endMoves(passage, end, startMoves, last ? 1 : elapsed / steady.period());
            if (both != null) {
                spans.add(new Sensitivity.Span(passage.phase(), both, startMoves, moves));
            } else if (moves != startMoves) {
                flashes.add(new Sensitivity.Flash(
                        passage.phase(), passage.start(), passage.sinceTick(), moves - startMoves));
            }
            rate = passage.phase().configuration().rate(Arrays.copyOf(end, n));
            xp = Arrays.copyOfRange(end, n, 2 * n);
        }

        /** The derivative at an end that moves; what the jump after it adds of itself is left to {@link #jumped}. */
        private double[] moved(Passage last, @Nullable Passage to) {
            double[] total = new double[n];
            for (int i = 0; i < n; i++) {
                total[i] = xp[i] + moves * rate[i];
            }
            own = to == null ? null : jumpOf(last);
            from = last;
            return total;
        }

        private @Nullable List<AffineForm> own;
        private @Nullable Passage from;

        private double[] jumped(Passage to, double[] total) {
            AffineMap jump = to.jump();
            double[] result = jump == null ? total.clone() : linear(jump, total);
            Passage last = from;
            if (last == null) {
                return result;
            }
            double[] more = forms.jump((CircuitPhase) last.phase(), last.end(), (CircuitPhase) to.phase(), to.start());
            for (int i = 0; i < more.length; i++) {
                result[i] += more[i];
            }
            List<AffineForm> change = own;
            for (int i = 0; change != null && i < change.size(); i++) {
                result[n - change.size() + i] += change.get(i).valueAt(last.end(), 0);
            }
            own = null;
            return result;
        }
    }

    private @Nullable List<AffineForm> jumpOf(Passage from) {
        Cause cause = from.cause();
        return cause == null ? null : in(from).control().jump(cause, from.end());
    }

    private double[] linear(AffineMap jump, double[] x) {
        double[] result = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                result[i] += jump.entry(i, j) * x[j];
            }
        }
        return result;
    }

    /** By how much the end of a passage moves for each unit of the parameter, s; {@code share} of the period is over. */
    private double endMoves(Passage passage, double[] end, double startMoves, double share) {
        Cause cause = passage.cause();
        if (cause != null && cause.kind() == Cause.Kind.GUARD) {
            return guardMoves(passage, cause.index(), end, startMoves);
        }
        if (parameter.kind() == Parameter.Kind.FREQUENCY) {
            return -share * steady.period() * steady.circuit().clockPeriod();
        }
        if (((CircuitPhase) passage.phase()).endMoves()) {
            return circuit.clockPeriod();
        }
        return cause != null && !passage.endsByClock() ? startMoves : 0;
    }

    private double guardMoves(Passage passage, int guard, double[] end, double startMoves) {
        AffineForm condition =
                passage.phase().configuration().guards().get(guard).form();
        if (passage.duration() == 0 && isBelowZero(condition, passage)) {
            return startMoves;
        }
        double[] x = Arrays.copyOf(end, n);
        double[] rate = passage.phase().configuration().rate(x);
        double shift = in(passage).guard(guard).valueAt(x, 0);
        double speed = condition.slope();
        for (int j = 0; j < n; j++) {
            shift += condition.coefficient(j) * end[n + j];
            speed += condition.coefficient(j) * rate[j];
        }
        return speed == 0 ? 0 : -shift / speed;
    }

    private boolean isBelowZero(AffineForm form, Passage passage) {
        double size = Math.abs(form.constant()) + Math.abs(form.slope() * passage.sinceTick());
        for (int j = 0; j < n; j++) {
            size += Math.abs(form.coefficient(j) * passage.start()[j]);
        }
        return form.valueAt(passage.start(), passage.sinceTick()) < -RoundOff.OF_A_CONDITION * size;
    }

    private PhaseDerivatives in(Passage passage) {
        return derivatives.computeIfAbsent(
                passage.phase(), key -> PhaseDerivatives.of(circuit, (CircuitPhase) key, forms));
    }

    private double[] close(double[] grown) {
        double[][] map = steady.derivative();
        double[] matrix = new double[n * n];
        double[] right = new double[n];
        for (int i = 0; i < n; i++) {
            right[i] = scale[i] * grown[i];
            for (int j = 0; j < n; j++) {
                matrix[i * n + j] = (i == j ? 1 : 0) - scale[i] * map[i][j] / scale[j];
            }
        }
        Elimination elimination = new Elimination(n, RoundOff.OF_A_PIVOT);
        if (!elimination.solve(matrix, right)) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.NOT_ISOLATED,
                    "the steady state has no derivative by the " + parameter
                            + ": some state does not come back of itself once it is disturbed; add the load or the resistance "
                            + "that brings it back");
        }
        double[] result = elimination.solution();
        for (int i = 0; i < n; i++) {
            result[i] /= scale[i];
        }
        return result;
    }

    // ------------------------------------------------------------------------- state and its derivative, together

    private Interval both(Passage passage, double[] start) {
        Alone law = new Alone(passage, in(passage));
        return Simulation.of(law).record(start, passage.duration()).interval(0);
    }

    private static double[] concat(double[] x, double[] xp) {
        double[] both = Arrays.copyOf(x, x.length + xp.length);
        System.arraycopy(xp, 0, both, x.length, xp.length);
        return both;
    }

    /** The system of one interval for the state and its derivative, which nothing ends before its time. */
    private final class Alone implements SwitchingLaw {
        private final double duration;
        private final double[] scales;
        private final Phase phase;

        Alone(Passage passage, PhaseDerivatives own) {
            duration = passage.duration();
            Configuration configuration = passage.phase().configuration();
            double[][] a = new double[2 * n][2 * n];
            double[] b = new double[2 * n];
            double size = 0;
            for (int i = 0; i < n; i++) {
                b[i] = configuration.b(i);
                b[n + i] = own.rates().get(i).constant();
                for (int j = 0; j < n; j++) {
                    a[i][j] = configuration.a(i, j);
                    a[n + i][n + j] = a[i][j];
                    a[n + i][j] = own.rates().get(i).coefficient(j);
                    size += Math.abs(scale[i] * a[n + i][j] / scale[j]);
                }
            }
            scales = Arrays.copyOf(scale, 2 * n);
            // makes the coupling as slow as the interval is long
            double unit = size > 0 ? 1 / (size * duration) : 1;
            for (int i = 0; i < n; i++) {
                scales[n + i] = unit * scale[i];
            }
            phase = new Phase(
                    Configuration.builder(configuration.name(), scales, duration)
                            .dynamics(a, b)
                            .channels(channels(configuration, own, passage.sinceTick()))
                            .build(),
                    Double.POSITIVE_INFINITY,
                    Double.POSITIVE_INFINITY);
        }

        /** First all channels, counted from the start of the passage, then the derivative of each. */
        private List<AffineForm> channels(Configuration configuration, PhaseDerivatives own, double sinceTick) {
            List<AffineForm> channels = new ArrayList<>();
            for (int c = 0; c < configuration.channelCount(); c++) {
                AffineForm value = configuration.channel(c).extendedTo(2 * n);
                channels.add(value.plus(value.slope() * sinceTick));
            }
            for (int c = 0; c < configuration.channelCount(); c++) {
                AffineForm value = configuration.channel(c);
                AffineForm byValue = own.channels().get(c);
                double[] factors = new double[2 * n];
                for (int j = 0; j < n; j++) {
                    factors[j] = byValue.coefficient(j);
                    factors[n + j] = value.coefficient(j);
                }
                channels.add(AffineForm.of(factors, byValue.constant()));
            }
            return channels;
        }

        @Override
        public double[] scale() {
            return scales.clone();
        }

        @Override
        public double clockPeriod() {
            return duration;
        }

        @Override
        public List<ClockTime> changes() {
            return List.of();
        }

        @Override
        public Entry first(double[] state) {
            return Entry.of(phase);
        }

        @Override
        public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
            return Entry.of(phase);
        }
    }
}
