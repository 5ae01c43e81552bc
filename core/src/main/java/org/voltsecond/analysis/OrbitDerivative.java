package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.DecompositionSolver;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.RealMatrix;
import org.voltsecond.control.CircuitPhase;
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

/**
 * The derivative of a periodic orbit by one parameter: a named numeric kernel. With x the state, p the parameter and
 * t_k the instants of switching,
 *
 * <ul>
 *   <li>within an interval x_p' = A x_p + A_p x + b_p, solved together with x by the engine's exact flow;
 *   <li>at an instant x_p+ = J x_p- + t_p (J f- - f+), with f the rates and J the map of entry; of a guard g = 0 the
 *       instant moves by t_p = -(g_x x_p- + g_p) / (g_x f-), of a gate by its share of the period;
 *   <li>the orbit closes where x_p(0) = x_p(T-) + f- T_p: with M the derivative of the period map,
 *       (I - M) x_p(0) is what comes out after a period for x_p(0) = 0.
 * </ul>
 *
 * <p>(Saltation as in M. di Bernardo and others, Piecewise-smooth Dynamical Systems, Springer 2008, from memory.)
 */
final class OrbitDerivative {
    /** Relative size of a pivot below which a direction counts as one that never comes back. */
    private static final double FREE = 1e-13;

    private final SteadyState steady;
    private final Parameter parameter;
    private final ParameterForms forms;
    private final int n;
    private final double[] scale;
    private final List<Interval> intervals;
    private final IdentityHashMap<Phase, ParameterForms.Derivatives> derivatives = new IdentityHashMap<>();

    OrbitDerivative(SteadyState steady, Parameter parameter) {
        this.steady = steady;
        this.parameter = parameter;
        forms = new ParameterForms(steady.circuit().circuit(), parameter);
        scale = steady.circuit().law().scale();
        n = scale.length;
        intervals = steady.trajectory().intervals();
    }

    Sensitivity sensitivity() {
        double[] grown = new double[n];
        walk(grown, new ArrayList<>());
        double[] closed = close(grown);
        List<Sensitivity.Span> spans = new ArrayList<>();
        walk(closed, spans);
        return new Sensitivity(steady, parameter, spans);
    }

    /** Once around; the derivative at the start is replaced by that at the end of the period, which moves too. */
    private void walk(double[] xp, List<Sensitivity.Span> spans) {
        double[] state = concat(intervals.get(0).startState(), enter(intervals.get(0), xp, 0, new double[n]));
        double startMoves = 0;
        for (int k = 0; k < intervals.size(); k++) {
            Interval interval = intervals.get(k);
            Interval both = both(interval, state);
            double[] end = both.endState();
            double[] endDerivative = Arrays.copyOfRange(end, n, 2 * n);
            double endMoves = endMoves(interval, end, k + 1 == intervals.size());
            spans.add(new Sensitivity.Span(interval, both, startMoves, endMoves));
            double[] rate = interval.configuration().rate(Arrays.copyOf(end, n));
            if (k + 1 < intervals.size()) {
                Interval next = intervals.get(k + 1);
                state = concat(next.startState(), enter(next, endDerivative, endMoves, rate));
            } else {
                for (int i = 0; i < n; i++) {
                    xp[i] = endDerivative[i] + rate[i] * endMoves;
                }
            }
            startMoves = endMoves;
        }
    }

    private double[] enter(Interval next, double[] before, double moves, double[] rateBefore) {
        double[] moved = new double[n];
        for (int i = 0; i < n; i++) {
            moved[i] = before[i] + moves * rateBefore[i];
        }
        AffineMap jump = next.jump();
        if (jump != null) {
            moved = linear(jump, moved);
        }
        double[] rate = next.configuration().rate(next.startState());
        for (int i = 0; i < n; i++) {
            moved[i] -= moves * rate[i];
        }
        return moved;
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

    /** By how much the end of an interval moves for each unit of the parameter, s. */
    private double endMoves(Interval interval, double[] end, boolean last) {
        Cause cause = interval.cause();
        if (!last && cause != null && cause.kind() == Cause.Kind.GUARD) {
            return guardMoves(interval, cause.index(), end);
        }
        double period = steady.period();
        if (parameter.kind() == Parameter.Kind.FREQUENCY) {
            double share = last ? 1 : interval.end() / period;
            return -share * period * steady.circuit().clockPeriod();
        }
        boolean onClock =
                last || interval.phase().endSinceTick() >= steady.circuit().clockPeriod();
        return parameter.kind() == Parameter.Kind.DUTY_CYCLE && !onClock
                ? steady.circuit().clockPeriod()
                : 0;
    }

    private double guardMoves(Interval interval, int guard, double[] end) {
        CircuitPhase phase = (CircuitPhase) interval.phase();
        AffineForm condition = interval.configuration().guards().get(guard).form();
        AffineForm own = in(phase).conditions().get(phase.rectifierOf(guard));
        double[] x = Arrays.copyOf(end, n);
        double[] rate = interval.configuration().rate(x);
        double shift = own.valueAt(x, 0);
        double speed = condition.slope();
        for (int j = 0; j < n; j++) {
            shift += condition.coefficient(j) * end[n + j];
            speed += condition.coefficient(j) * rate[j];
        }
        return -shift / speed;
    }

    private ParameterForms.Derivatives in(CircuitPhase phase) {
        return derivatives.computeIfAbsent(phase, key -> forms.in((CircuitPhase) key));
    }

    private double[] close(double[] grown) {
        double[][] map = steady.derivative();
        RealMatrix matrix = new Array2DRowRealMatrix(n, n);
        double[] right = new double[n];
        for (int i = 0; i < n; i++) {
            right[i] = scale[i] * grown[i];
            for (int j = 0; j < n; j++) {
                matrix.setEntry(i, j, (i == j ? 1 : 0) - scale[i] * map[i][j] / scale[j]);
            }
        }
        DecompositionSolver solver = new LUDecomposition(matrix, FREE).getSolver();
        if (!solver.isNonSingular()) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.NOT_ISOLATED,
                    "the steady state has no derivative by the " + parameter
                            + ": some state does not come back of itself once it is disturbed; add the load or the resistance "
                            + "that brings it back");
        }
        double[] result = solver.solve(new ArrayRealVector(right, false)).toArray();
        for (int i = 0; i < n; i++) {
            result[i] /= scale[i];
        }
        return result;
    }

    // ------------------------------------------------------------------------- state and its derivative, together

    private Interval both(Interval interval, double[] start) {
        Phase phase = interval.phase();
        Alone law = new Alone(interval, in((CircuitPhase) phase));
        return Simulation.of(law).record(start, interval.duration()).interval(0);
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

        Alone(Interval interval, ParameterForms.Derivatives own) {
            duration = interval.duration();
            Configuration configuration = interval.configuration();
            double[][] a = new double[2 * n][2 * n];
            double[] b = new double[2 * n];
            double size = 0;
            for (int i = 0; i < n; i++) {
                b[i] = configuration.b(i);
                b[n + i] = own.rates()[i].constant();
                for (int j = 0; j < n; j++) {
                    a[i][j] = configuration.a(i, j);
                    a[n + i][n + j] = a[i][j];
                    a[n + i][j] = own.rates()[i].coefficient(j);
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
                            .channels(channels(configuration, own))
                            .build(),
                    Double.POSITIVE_INFINITY,
                    Double.POSITIVE_INFINITY);
        }

        /** First all channels, then the derivative of each. */
        private List<AffineForm> channels(Configuration configuration, ParameterForms.Derivatives own) {
            List<AffineForm> channels = new ArrayList<>();
            for (int c = 0; c < configuration.channelCount(); c++) {
                channels.add(configuration.channel(c).extendedTo(2 * n));
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
