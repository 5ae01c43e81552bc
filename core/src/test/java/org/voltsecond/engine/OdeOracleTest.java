package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketedUnivariateSolver;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Random lossy systems that switch on a level, with hysteresis, and on the clock, against a Runge-Kutta integrator of
 * order 8 with its own event detection (E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I,
 * the method DOP853).
 */
class OdeOracleTest {
    private static final double PERIOD = 1 / 300e3;
    private static final int PERIODS = 12;
    private static final double HALF_BAND = 0.15;

    /** Two configurations: up until the first state leaves the band above, down until it leaves it below. */
    private static final class Switched {
        final int n;
        final double[][][] a = new double[2][][];
        final double[][] b = new double[2][];
        final double[] scale;

        Switched(long seed, int n) {
            Random random = new Random(seed);
            this.n = n;
            scale = new double[n];
            for (int i = 0; i < n; i++) {
                scale[i] = Math.exp(random.nextGaussian());
            }
            for (int k = 0; k < 2; k++) {
                a[k] = lossy(random);
                b[k] = new double[n];
                b[k][0] = (k == 0 ? 1 : -1) * (0.8 + random.nextDouble()) / PERIOD;
                for (int i = 1; i < n; i++) {
                    b[k][i] = 0.3 * random.nextGaussian() / PERIOD;
                }
            }
        }

        /** A skew-symmetric coupling less a positive diagonal. */
        private double[][] lossy(Random random) {
            double[][] matrix = new double[n][n];
            for (int i = 0; i < n; i++) {
                matrix[i][i] = -random.nextDouble() / PERIOD;
                for (int j = 0; j < i; j++) {
                    matrix[i][j] = random.nextGaussian() / PERIOD;
                    matrix[j][i] = -matrix[i][j];
                }
            }
            return matrix;
        }

        /** The guard of a configuration, with a ramp in it. */
        AffineForm guard(int k) {
            double[] factors = new double[n];
            double sign = k == 0 ? -1 : 1;
            factors[0] = sign;
            return AffineForm.of(factors, HALF_BAND - sign * 0.02, sign * 0.04 / PERIOD);
        }

        SwitchingLaw law() {
            Phase[] phases = new Phase[2];
            for (int k = 0; k < 2; k++) {
                Configuration configuration = Configuration.builder(k == 0 ? "up" : "down", scale, PERIOD)
                        .dynamics(a[k], b[k])
                        .guards(List.of(new Guard("band", guard(k))))
                        .build();
                phases[k] = new Phase(configuration, PERIOD, Double.POSITIVE_INFINITY);
            }
            return new TestLaw(
                    scale,
                    PERIOD,
                    List.of(),
                    state -> Entry.of(phases[0]),
                    (ended, cause, state, t) -> cause.kind() == Cause.Kind.GUARD && ended == phases[0]
                            ? Entry.of(phases[1])
                            : Entry.of(phases[0]));
        }
    }

    /** Stops where a form falls through zero. */
    private record Detector(AffineForm form, double tick) implements ODEEventDetector {
        @Override
        public AdaptableInterval getMaxCheckInterval() {
            return AdaptableInterval.of(PERIOD / 500);
        }

        @Override
        public int getMaxIterationCount() {
            return 200;
        }

        @Override
        public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
            return new BracketingNthOrderBrentSolver(0, 1e-14 * PERIOD, 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return form.valueAt(state.getPrimaryState(), state.getTime() - tick);
        }
    }

    /** The instants at which the configuration changes, in periods, and the final state. */
    private record Result(List<Double> instants, double[] end) {}

    private static Result oracle(Switched system, double[] start) {
        double[] x = start.clone();
        List<Double> instants = new ArrayList<>();
        for (int period = 0; period < PERIODS; period++) {
            int k = 0;
            double tick = period * PERIOD;
            double t = tick;
            while (t < tick + PERIOD) {
                if (system.guard(k).valueAt(x, t - tick) > 0) {
                    ODEStateAndDerivative reached = integrate(system, k, x, t, tick);
                    x = reached.getPrimaryState();
                    t = reached.getTime();
                    if (t >= tick + PERIOD * (1 - 1e-13)) {
                        break;
                    }
                }
                instants.add(t / PERIOD);
                k = 1 - k;
            }
        }
        return new Result(instants, x);
    }

    private static ODEStateAndDerivative integrate(Switched system, int k, double[] x, double t, double tick) {
        DormandPrince853Integrator integrator =
                new DormandPrince853Integrator(1e-9 * PERIOD, PERIOD / 20, 1e-14, 1e-14);
        integrator.addEventDetector(new Detector(system.guard(k), tick));
        OrdinaryDifferentialEquation equation = new OrdinaryDifferentialEquation() {
            @Override
            public int getDimension() {
                return system.n;
            }

            @Override
            public double[] computeDerivatives(double time, double[] state) {
                double[] rate = system.b[k].clone();
                for (int i = 0; i < system.n; i++) {
                    for (int j = 0; j < system.n; j++) {
                        rate[i] += system.a[k][i][j] * state[j];
                    }
                }
                return rate;
            }
        };
        return integrator.integrate(equation, new ODEState(t, x), tick + PERIOD);
    }

    @ParameterizedTest
    @CsvSource({"1, 2", "2, 2", "3, 2", "4, 3", "5, 3", "6, 3", "7, 4", "8, 4", "9, 5", "10, 1", "11, 8", "12, 6"})
    void eventsAndFinalStateAgree(long seed, int n) {
        Switched system = new Switched(seed, n);
        double[] start = new double[n];
        Result expected = oracle(system, start);
        Trajectory run = Simulation.of(system.law()).record(start, PERIODS * PERIOD);

        List<Double> instants = new ArrayList<>();
        for (Interval interval : run.intervals()) {
            Cause cause = interval.cause();
            if (cause != null && cause.kind() == Cause.Kind.GUARD) {
                instants.add(interval.end() / PERIOD);
            }
        }
        assertThat(instants).hasSizeGreaterThan(5);
        assertThat(instants).hasSameSizeAs(expected.instants());
        for (int i = 0; i < instants.size(); i++) {
            assertThat(instants.get(i)).isCloseTo(expected.instants().get(i), within(1e-10));
        }
        assertThat(run.finalState()).containsExactly(expected.end(), within(1e-10));
    }
}
