package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;

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
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.control.Drive;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * Random lossy stages with a transformer against equations of their own, written down by hand for each interval and integrated by
 * Hipparchus (Dormand-Prince 8(5,3)), over 60 periods from rest; beside it what holds for every such run.
 */
class IsolatedOracleTest {
    private static final int PERIODS = 60;
    private static final int STAGES = 12;
    /** What the integrator itself is good for; see {@link IntegratorOracleTest}, where that is measured. */
    private static final double AGREES = 1e-9;

    static List<Topology> isolated() {
        return IsolatedStagesTest.isolated();
    }

    /** Values of a stage: of the inductance that is not there, not a number. */
    private record Spec(
            Topology topology,
            double input,
            double turns,
            double reset,
            double magnetizing,
            double inductance,
            double coil,
            double capacitance,
            double on,
            double drop,
            double slope,
            double load,
            double duty,
            double period) {
        static Spec draw(Random random, Topology topology) {
            double input = log(random, 5, 100);
            double turns = log(random, 0.2, 5); // of the primary for each of the secondary
            double period = log(random, 1e-6, 1e-4);
            double load = log(random, 0.5, 50);
            boolean flyback = topology == Topology.FLYBACK;
            double inductance = flyback ? Double.NaN : load * period * log(random, 0.05, 3);
            double magnetizing = turns * turns * load * period * log(random, flyback ? 0.05 : 3, flyback ? 3 : 30);
            double reset = turns * (1 + random.nextDouble());
            double longest = topology == Topology.FORWARD ? 1 / (1 + reset / turns) : 0.5;
            return new Spec(
                    topology,
                    input,
                    turns,
                    reset,
                    magnetizing,
                    inductance,
                    flyback ? 0 : load * log(random, 1e-3, 0.05),
                    period / load * log(random, 3, 30),
                    turns * turns * load * log(random, 1e-4, 0.03),
                    input / turns * log(random, 1e-3, 0.05),
                    load * log(random, 1e-4, 0.03),
                    load,
                    longest * (0.2 + 0.75 * random.nextDouble()),
                    period);
        }

        private static double log(Random random, double from, double to) {
            return from * Math.pow(to / from, random.nextDouble());
        }

        boolean alternates() {
            return topology == Topology.PUSH_PULL
                    || topology == Topology.HALF_BRIDGE
                    || topology == Topology.FULL_BRIDGE;
        }

        boolean isFlyback() {
            return topology == Topology.FLYBACK;
        }

        /** Voltage at the primary during a pulse, and the resistance of the transistors that it comes through. */
        double source() {
            return topology == Topology.HALF_BRIDGE ? input / 2 : input;
        }

        double series() {
            return topology == Topology.TWO_SWITCH_FORWARD || topology == Topology.FULL_BRIDGE ? 2 * on : on;
        }

        Converter converter() {
            PowerStage stage = PowerStage.of(topology)
                    .input(input)
                    .with(Transformer.of(turns, 1, magnetizing).withReset(reset))
                    .outputCapacitor(capacitance)
                    .transistor(on)
                    .rectifier(drop, slope)
                    .load(Load.resistor(load));
            return (isFlyback() ? stage : stage.inductor(inductance, coil)).drive(Drive.fixedDuty(duty, 1 / period));
        }
    }

    /** The same stage by hand. States: magnetizing current at the primary, inductor current, output voltage. */
    private static final class ByHand implements OrdinaryDifferentialEquation {
        private final Spec spec;
        /** 1 and -1 in a pulse of the one half and the other, 0 between. */
        private int pulse;

        private boolean flux;
        private boolean coil;
        private boolean series;
        /** Whether the run left what these equations describe: a bridge whose rectifiers no longer share, a pulse that finds no way. */
        private boolean beyond;

        ByHand(Spec spec) {
            this.spec = spec;
        }

        @Override
        public int getDimension() {
            return 3;
        }

        /** In units of the period. */
        @Override
        public double[] computeDerivatives(double time, double[] x) {
            double[] rate = spec.isFlyback() ? flyback(x) : behindRectifiers(x);
            for (int i = 0; i < rate.length; i++) {
                rate[i] *= spec.period;
            }
            return rate;
        }

        private double[] flyback(double[] x) {
            if (pulse != 0) {
                return new double[] {
                    (spec.input - spec.on * x[0]) / spec.magnetizing, 0, -x[2] / spec.load / spec.capacitance
                };
            }
            double secondary = flux ? spec.turns * x[0] : 0;
            double reflected = spec.turns * (x[2] + spec.drop + spec.slope * secondary);
            return new double[] {
                flux ? -reflected / spec.magnetizing : 0, 0, (secondary - x[2] / spec.load) / spec.capacitance
            };
        }

        private double[] behindRectifiers(double[] x) {
            double across;
            double feed;
            if (pulse != 0) {
                double current = x[1] / spec.turns + pulse * x[0];
                double primary = spec.source() - spec.series() * current;
                across = pulse * primary;
                feed = primary / spec.turns - spec.drop - spec.slope * x[1];
            } else if (spec.alternates()) {
                // both rectifiers share the inductor current, apart by the magnetizing current
                across = -spec.slope * spec.turns * spec.turns * x[0] / 2;
                feed = -spec.drop - spec.slope * x[1] / 2;
            } else if (flux) {
                double ratio = spec.topology == Topology.FORWARD ? spec.turns / spec.reset : 1;
                across = -spec.input * ratio;
                feed = -spec.drop - spec.slope * x[1];
            } else if (coil && series) {
                // the first rectifier alone carries the inductor current, which is the magnetizing current
                double both = spec.inductance + spec.magnetizing / (spec.turns * spec.turns);
                double fall = (-spec.drop - (spec.slope + spec.coil) * x[1] - x[2]) / both;
                return new double[] {-fall / spec.turns, fall, (x[1] - x[2] / spec.load) / spec.capacitance};
            } else {
                // once the core is reset the first rectifier takes over from the second as far as the flux lets it
                double first = coil ? -spec.turns * x[0] : 0;
                across = coil ? spec.turns * spec.slope * (2 * first - x[1]) : 0;
                feed = -spec.drop - spec.slope * (x[1] - first);
            }
            double coilRate = coil ? (feed - spec.coil * x[1] - x[2]) / spec.inductance : 0;
            return new double[] {across / spec.magnetizing, coilRate, (x[1] - x[2] / spec.load) / spec.capacitance};
        }

        List<double[]> run() {
            List<double[]> ends = new ArrayList<>();
            double[] x = {0, 0, 0};
            for (int k = 0; k < PERIODS; k++) {
                x = pulse(1, 0, x);
                x = spec.alternates() ? rest(spec.duty, 0.5, x) : rest(spec.duty, 1, x);
                if (spec.alternates()) {
                    x = pulse(-1, 0.5, x);
                    x = rest(0.5 + spec.duty, 1, x);
                }
                ends.add(x);
            }
            return ends;
        }

        private double[] pulse(int half, double from, double[] x) {
            pulse = half;
            flux = true;
            coil = true;
            double[] end = until(from, from + spec.duty, x, false);
            beyond |= !spec.isFlyback() && computeDerivatives(0, x)[1] < 0 && x[1] == 0;
            beyond |= spec.alternates() && end[1] < spec.turns * Math.abs(end[0]);
            beyond |= end[1] < 0;
            return end;
        }

        private double[] rest(double from, double to, double[] x) {
            pulse = 0;
            flux = x[0] > 0 || spec.alternates();
            coil = x[1] > 0;
            series = false;
            return until(from, to, x, true);
        }

        /** With what ends on the way. */
        private double[] until(double from, double to, double[] start, boolean mayEnd) {
            double time = from;
            double[] x = start;
            while (time < to) {
                Falling falling = new Falling(to - from);
                DormandPrince853Integrator integrator = new DormandPrince853Integrator(
                        1e-13, 1, new double[] {1e-15, 1e-15, 1e-15}, new double[] {1e-13, 1e-13, 1e-13});
                if (mayEnd) {
                    integrator.addEventDetector(falling);
                }
                ODEStateAndDerivative reached = integrator.integrate(this, new ODEState(time, x), to);
                time = falling.which < 0 ? to : reached.getTime();
                x = reached.getPrimaryState();
                beyond |= falling.which >= 0 && spec.alternates();
                if (falling.which == 0) {
                    x[0] = 0;
                    flux = false;
                } else if (falling.which == 1) {
                    x[0] = flux ? x[0] : 0;
                    x[1] = 0;
                    coil = false;
                } else if (falling.which == 2) {
                    series = true;
                }
                if (beyond) {
                    return x;
                }
            }
            return x;
        }

        private final class Falling implements ODEEventDetector {
            private final double interval;
            private int which = -1;

            Falling(double length) {
                interval = length / 50;
            }

            @Override
            public AdaptableInterval getMaxCheckInterval() {
                return AdaptableInterval.of(interval);
            }

            @Override
            public int getMaxIterationCount() {
                return 200;
            }

            @Override
            public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
                return new BracketingNthOrderBrentSolver(0, 1e-15, 0, 5);
            }

            @Override
            public ODEEventHandler getHandler() {
                return (state, detector, increasing) -> {
                    double[] x = state.getPrimaryState();
                    boolean ofFlux = flux && !spec.alternates() && (!coil || Math.abs(fluxLeft(x)) < Math.abs(x[1]));
                    which = ofFlux ? 0 : flux || series ? 1 : 2;
                    return Action.STOP;
                };
            }

            private double fluxLeft(double[] x) {
                return spec.turns * x[0];
            }

            @Override
            public double g(ODEStateAndDerivative state) {
                double[] x = state.getPrimaryState();
                if (spec.alternates()) {
                    return x[1] - spec.turns * Math.abs(x[0]);
                }
                if (!flux && coil && !series) {
                    return x[1] + spec.turns * x[0];
                }
                double ofFlux = flux ? fluxLeft(x) : Double.MAX_VALUE;
                return Math.min(ofFlux, coil && !spec.isFlyback() ? x[1] : Double.MAX_VALUE);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void agreesWithEquationsOfItsOwn(Topology topology) {
        Random random = new Random(20261127 + isolated().indexOf(topology));
        int compared = 0;
        for (int k = 0; k < 10 * STAGES && compared < STAGES; k++) {
            Spec spec = Spec.draw(random, topology);
            ByHand byHand = new ByHand(spec);
            List<double[]> expected = byHand.run();
            if (byHand.beyond) {
                continue;
            }
            compared++;
            Converter converter = spec.converter();
            ConverterTransient run = converter.startUp(PERIODS * spec.period);
            assertAgrees(spec, converter, run, expected);
            assertRectifies(spec, converter, run.run().trajectory());
            assertThat(run.audit().residual()).as(spec.toString()).isLessThan(1e-10);
        }
        assertThat(compared).as(topology + " within the equations").isEqualTo(STAGES);
    }

    private static void assertAgrees(Spec spec, Converter converter, ConverterTransient run, List<double[]> expected) {
        List<Waveform> ours = new ArrayList<>();
        ours.add(run.of(converter.driven().current("LM")));
        ours.add(run.of(converter.inductorCurrent()));
        ours.add(run.of(converter.driven().voltageAcross("C1")));
        for (int i = 0; i < 3; i++) {
            if (i == 1 && spec.isFlyback()) {
                continue;
            }
            double largest = 0;
            double apart = 0;
            for (int k = 0; k < PERIODS; k++) {
                double value = ours.get(i).at((k + 1) * spec.period, Side.BEFORE);
                largest = Math.max(largest, Math.abs(expected.get(k)[i]));
                apart = Math.max(apart, Math.abs(value - expected.get(k)[i]));
            }
            assertThat(apart).as("state " + i + " of " + spec).isLessThanOrEqualTo(AGREES * largest);
        }
    }

    /** Blocking: no current, and at most the drop. Conducting: none backwards. */
    private static void assertRectifies(Spec spec, Converter converter, Trajectory trajectory) {
        double scale = Waveform.of(trajectory, converter.inductorCurrent()).maximum() * Math.max(1, spec.turns);
        for (String name : converter.roles().rectifiers()) {
            for (Interval interval : trajectory.intervals()) {
                Waveform current = within(interval, converter, name, false);
                if (converter.driven().conducts(interval.phase(), name)) {
                    assertThat(current.minimum()).as(name).isGreaterThanOrEqualTo(-1e-11 * scale);
                } else {
                    assertThat(current.maximum()).as(name).isZero();
                    assertThat(within(interval, converter, name, true).maximum())
                            .as(name)
                            .isLessThanOrEqualTo(spec.drop + 1e-11 * spec.input * Math.max(1, 1 / spec.turns));
                }
            }
        }
    }

    private static Waveform within(Interval interval, Converter converter, String name, boolean voltage) {
        Signal signal = voltage
                ? converter.driven().voltageAcross(name)
                : converter.driven().current(name);
        return Waveform.of(name, signal.unit(), interval.pieces(signal.in(interval.configuration())));
    }
}
