package org.voltsecond.benchmark;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.concurrent.TimeUnit;
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
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Guard;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Simulation;

/**
 * A buck stage with a filter of many sections behind it, from its steady state on: one operation is one switching period, by
 * the engine, and by a Runge-Kutta integrator of order 8 with event detection on the same configurations.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class ManyStates {
    private static final int PERIODS = 2_000;
    private static final int INTEGRATED_PERIODS = 20;
    private static final double FREQUENCY = kilo(300);

    /** Two for each section of the filter, the stage's own included. */
    @Param({"2", "4", "8", "16", "32"})
    public int states;

    /** Load of the filter, Ω: continuous and discontinuous conduction. */
    @Param({"2.5", "100"})
    public double load;

    private DrivenCircuit driven;
    private double[] settled;

    /** Builds the circuit and lets it settle. */
    @Setup
    public void settle() {
        Circuit.Builder circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .switchPart("Q1", "in", "sw", milli(80))
                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                .inductor("L1", "sw", "n1", micro(22), milli(30))
                .capacitor("C1", "n1", Circuit.GROUND, micro(47), milli(5));
        int last = states / 2;
        for (int k = 2; k <= last; k++) {
            circuit.inductor("L" + k, "n" + (k - 1), "n" + k, micro(1), milli(30))
                    .capacitor("C" + k, "n" + k, Circuit.GROUND, micro(10), milli(30));
        }
        circuit.resistor("R1", "n" + last, Circuit.GROUND, load);
        driven = DrivenCircuit.builder(circuit.build())
                .gate("Q1", Drive.fixedDuty(load > 10 ? 0.25 : 0.45, FREQUENCY))
                .build();
        settled = Simulation.of(driven.law()).finalState(driven.restState(), 100_000 / FREQUENCY);
    }

    /** One period by the engine. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] exact() {
        return Simulation.of(driven.law()).finalState(settled, PERIODS / FREQUENCY);
    }

    /** One period by the integrator, to ten digits. */
    @Benchmark
    @OperationsPerInvocation(INTEGRATED_PERIODS)
    public double[] integrated() {
        return new Integrated(driven).finalState(settled, INTEGRATED_PERIODS);
    }

    /** The same configurations, gone through by the integrator. */
    private static final class Integrated {
        private static final double PERIOD = 1 / FREQUENCY;
        private static final double DIGITS = 1e-10;
        private final DrivenCircuit driven;

        Integrated(DrivenCircuit driven) {
            this.driven = driven;
        }

        double[] finalState(double[] start, int periods) {
            double[] x = start.clone();
            Entry entry = driven.law().first(x);
            double t = 0;
            int tick = 0;
            while (true) {
                AffineMap jump = entry.jump();
                x = jump == null ? x : jump.apply(x);
                Phase phase = entry.phase();
                double until = tick * PERIOD + Math.min(PERIOD, phase.endSinceTick());
                ODEStateAndDerivative reached = integrate(phase.configuration(), x, t, until, tick * PERIOD);
                x = reached.getPrimaryState();
                Cause cause = Cause.END;
                if (reached.getTime() < until) {
                    cause = Cause.guard(lowest(phase.configuration(), x, reached.getTime() - tick * PERIOD));
                }
                t = reached.getTime();
                double since = t - tick * PERIOD;
                if (cause == Cause.END && phase.endSinceTick() >= PERIOD) {
                    tick++;
                    t = tick * PERIOD;
                    since = 0;
                    if (tick == periods) {
                        return x;
                    }
                }
                entry = driven.law().next(phase, cause, x, since);
            }
        }

        private static int lowest(Configuration configuration, double[] x, double sinceTick) {
            int lowest = 0;
            List<Guard> guards = configuration.guards();
            for (int g = 1; g < guards.size(); g++) {
                if (guards.get(g).form().valueAt(x, sinceTick)
                        < guards.get(lowest).form().valueAt(x, sinceTick)) {
                    lowest = g;
                }
            }
            return lowest;
        }

        private static ODEStateAndDerivative integrate(
                Configuration configuration, double[] x, double from, double until, double tick) {
            DormandPrince853Integrator integrator =
                    new DormandPrince853Integrator(1e-12 * PERIOD, PERIOD, DIGITS, DIGITS);
            for (Guard guard : configuration.guards()) {
                integrator.addEventDetector(new Detector(guard, tick));
            }
            return integrator.integrate(new Rates(configuration), new ODEState(from, x), until);
        }
    }

    private record Rates(Configuration configuration) implements OrdinaryDifferentialEquation {
        @Override
        public int getDimension() {
            return configuration.dimension();
        }

        @Override
        public double[] computeDerivatives(double t, double[] x) {
            return configuration.rate(x);
        }
    }

    /** Stops where a guard falls through zero. */
    private record Detector(Guard guard, double tick) implements ODEEventDetector {
        @Override
        public AdaptableInterval getMaxCheckInterval() {
            return AdaptableInterval.of(0.1 / FREQUENCY);
        }

        @Override
        public int getMaxIterationCount() {
            return 100;
        }

        @Override
        public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
            return new BracketingNthOrderBrentSolver(0, 1e-12 / FREQUENCY, 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return guard.form().valueAt(state.getPrimaryState(), state.getTime() - tick);
        }
    }
}
