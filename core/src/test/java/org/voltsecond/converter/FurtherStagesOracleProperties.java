package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.function.IntPredicate;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/**
 * Random designs of the stages with two inductors, of the four-switch stage and of interleaved ones, whose steady states an
 * independent integrator (Runge-Kutta of order 8 with located events, equations written by hand) must bring back after a period.
 */
class FurtherStagesOracleProperties {
    /** Of what the integrator keeps over a period, whose own tolerance is 1e-12. */
    private static final double SAME = 1e-8;

    /** Values drawn: evenly in their logarithm where a range is wide. */
    record Drawn(
            Topology topology,
            int phases,
            double input,
            double ohm,
            double k,
            double second,
            double coupling,
            double duty,
            double other,
            double loss) {
        private static final double HERTZ = 100e3;

        double inductance() {
            return k * ohm / (2 * HERTZ);
        }

        Converter converter() {
            double l = inductance();
            PowerStage stage = PowerStage.of(topology)
                    .input(input)
                    .inductor(l, loss * ohm)
                    .outputCapacitor(20 / (HERTZ * ohm))
                    .transistor(2 * loss * ohm)
                    .rectifier(loss * input, loss * ohm)
                    .load(Load.resistor(ohm));
            if (!topology.needs().isEmpty()) {
                stage = stage.with(new SecondInductor(second * l, 0.5 * loss * ohm, coupling))
                        .with(new CouplingCapacitor(10 / (HERTZ * ohm), 0));
            }
            if (phases > 1) {
                stage = stage.with(new Phases(phases));
            }
            Drive first = Drive.fixedDuty(duty, HERTZ);
            return topology == Topology.FOUR_SWITCH_BUCK_BOOST
                    ? stage.drive(Map.of("Q1", first, "Q2", Drive.fixedDuty(other, HERTZ)))
                    : stage.drive(first);
        }
    }

    @Provide
    Arbitrary<Drawn> designs() {
        Arbitrary<Topology> topology = Arbitraries.of(
                Topology.SEPIC,
                Topology.CUK,
                Topology.ZETA,
                Topology.FOUR_SWITCH_BUCK_BOOST,
                Topology.BUCK,
                Topology.BOOST,
                Topology.INVERTING_BUCK_BOOST);
        Arbitrary<Double> coupling = Arbitraries.of(0.0, 0.0, 0.4, 0.98);
        Arbitrary<double[]> values = Combinators.combine(
                        RandomStages.log(3, 60),
                        RandomStages.log(0.5, 200),
                        RandomStages.log(0.02, 10),
                        RandomStages.log(0.3, 3),
                        RandomStages.duty(0.1, 0.8),
                        RandomStages.duty(0.05, 0.75),
                        RandomStages.log(1e-4, 1e-2))
                .as((a, b, c, d, e, f, g) -> new double[] {a, b, c, d, e, f, g});
        return Combinators.combine(topology, Arbitraries.integers().between(2, 5), coupling, values)
                .as((stage, count, k, v) -> new Drawn(
                        stage,
                        stage.options().contains(Phases.class) ? count : 1,
                        v[0],
                        v[1],
                        v[2],
                        k > 0.9 ? 1 : v[3], // unlike ones that tight ring so much that a transistor without body diode
                        // interrupts them
                        stage.needs().isEmpty() ? 0 : k,
                        v[4],
                        v[5],
                        v[6]));
    }

    @Property(tries = 100, seed = "20260107")
    void anIndependentIntegratorBringsTheSteadyStateBack(@ForAll("designs") Drawn drawn) {
        ConverterSteadyState steady = drawn.converter().steadyState();
        assertThat(steady.audit().residual()).isLessThanOrEqualTo(1e-10);
        Converter converter = steady.converter();
        List<String> names = converter.driven().stateNames();
        double[] engine = steady.periodic().state();
        Equations by = equations(drawn);
        double[] start = new double[by.states().size()];
        for (int i = 0; i < start.length; i++) {
            String name = drawn.coupling() > 0
                    ? by.states().get(i).replace("L", "T1.")
                    : by.states().get(i);
            start[i] = name.startsWith("C") // the states of coupled windings are no currents
                    ? engine[names.indexOf(name)]
                    : steady.of(converter.driven().current(name)).at(0);
        }
        double[] end = new Period(by, drawn).from(start);
        double currents = 1e-12;
        double voltages = drawn.input();
        for (int i = 0; i < start.length; i++) {
            boolean current = by.states().get(i).startsWith("L");
            currents = current ? Math.max(currents, Math.abs(start[i])) : currents;
        }
        currents += drawn.input() / drawn.ohm();
        for (int i = 0; i < start.length; i++) {
            double size = by.states().get(i).startsWith("L") ? currents : voltages;
            assertThat(end[i]).as(by.states().get(i)).isCloseTo(start[i], within(SAME * size));
        }
        balances(drawn, steady);
    }

    /** Volt-seconds of every winding, charge of every capacitor, signs of every rectifier. */
    private static void balances(Drawn drawn, ConverterSteadyState steady) {
        Converter converter = steady.converter();
        List<String> windings = new ArrayList<>(converter.roles().inductors());
        if (!drawn.topology().needs().isEmpty()) {
            windings.add(drawn.coupling() > 0 ? "T1.2" : "L2");
        }
        for (String winding : windings) {
            Waveform across = steady.of(converter.driven().voltageAcross(winding));
            Waveform current = steady.of(converter.driven().current(winding));
            boolean second = winding.equals("T1.2") || (drawn.phases() == 1 && winding.equals("L2"));
            double drop = (second ? 0.5 : 1) * drawn.loss() * drawn.ohm() * current.mean();
            assertThat(across.mean() - drop).as(winding).isCloseTo(0, within(1e-9 * drawn.input()));
        }
        for (String capacitor : drawn.topology().needs().isEmpty() ? List.of("C1") : List.of("C1", "C2")) {
            Waveform into = steady.of(converter.driven().current(capacitor));
            assertThat(into.mean())
                    .as(capacitor)
                    .isCloseTo(0, within(1e-9 * (into.rms() + drawn.input() / drawn.ohm())));
        }
        for (String diode : converter.roles().rectifiers()) {
            Waveform current = steady.of(converter.driven().current(diode));
            assertThat(current.minimum()).as(diode).isGreaterThanOrEqualTo(-1e-9 * (1 + current.maximum()));
            double voltage = steady.of(converter.driven().voltageAcross(diode)).maximum();
            double most = drawn.loss() * (drawn.input() + drawn.ohm() * current.maximum());
            assertThat(voltage).as(diode).isLessThanOrEqualTo(most * (1 + 1e-9) + 1e-9 * drawn.input());
        }
        // ended, not interrupted: discontinuous where an idle time is left
        if (drawn.phases() == 1 && drawn.topology() != Topology.FOUR_SWITCH_BUCK_BOOST) {
            assertThat(steady.conduction() == Conduction.DISCONTINUOUS)
                    .isEqualTo(steady.idleTime() > 1e-9 * steady.period());
        }
    }

    // ---------------------------------------------------------------------------------------- equations by hand

    /** A stage by which of its legs are on and which of its currents rest. */
    interface Equations {
        List<String> states();

        int legs();

        /** When a leg is on, as begin and length in periods. */
        double[] pulse(int leg);

        /** What ends where it falls to zero while a leg is off. */
        int currents();

        double current(int index, double[] s);

        boolean byDiode(int index, boolean[] on);

        void rates(boolean[] on, boolean[] rests, double[] s, double[] rates);
    }

    private static Equations equations(Drawn drawn) {
        return !drawn.topology().needs().isEmpty()
                ? new TwoInductors(drawn)
                : drawn.phases() > 1 ? new SideBySide(drawn) : new TwoLegs(drawn);
    }

    /** Both windings are driven by one voltage u less what stands against each: v1 = a1 - u, v2 = a2 - u. */
    private record TwoInductors(Drawn drawn) implements Equations {
        @Override
        public List<String> states() {
            return List.of("L1", "L2", "C2", "C1");
        }

        @Override
        public int legs() {
            return 1;
        }

        @Override
        public double[] pulse(int leg) {
            return new double[] {0, drawn.duty()};
        }

        @Override
        public int currents() {
            return 1;
        }

        @Override
        public double current(int index, double[] s) {
            return s[0] + s[1];
        }

        @Override
        public boolean byDiode(int index, boolean[] on) {
            return !on[0];
        }

        @Override
        public void rates(boolean[] on, boolean[] rests, double[] s, double[] rates) {
            double both = s[0] + s[1];
            double coil1 = drawn.loss() * drawn.ohm() * s[0];
            double coil2 = 0.5 * drawn.loss() * drawn.ohm() * s[1];
            double drop = drawn.loss() * drawn.input() + drawn.loss() * drawn.ohm() * both;
            double channel = 2 * drawn.loss() * drawn.ohm() * both;
            double coupling = s[2];
            double output = s[3];
            boolean zeta = drawn.topology() == Topology.ZETA;
            boolean sepic = drawn.topology() == Topology.SEPIC;
            double a1 = zeta ? -coupling - coil1 : drawn.input() - coupling - coil1;
            double a2 = (sepic ? 0 : zeta ? -output : output) - coil2;
            double l1 = drawn.inductance();
            double l2 = drawn.second() * l1;
            double m = drawn.coupling() * Math.sqrt(l1 * l2);
            double u;
            if (on[0]) {
                u = zeta ? channel - drawn.input() - coupling : channel - coupling;
            } else if (rests[0]) {
                u = ((l2 - m) * a1 + (l1 - m) * a2) / (l1 + l2 - 2 * m); // the sum of both currents rests
            } else {
                u = sepic ? output + drop : drop;
            }
            double det = l1 * l2 - m * m;
            rates[0] = (l2 * (a1 - u) - m * (a2 - u)) / det;
            rates[1] = (l1 * (a2 - u) - m * (a1 - u)) / det;
            double c2 = 10 / (Drawn.HERTZ * drawn.ohm());
            double c1 = 20 / (Drawn.HERTZ * drawn.ohm());
            rates[2] = (on[0] ? -s[1] : s[0]) / c2;
            double fed = sepic ? (on[0] || rests[0] ? 0 : both) : zeta ? s[1] : -s[1];
            rates[3] = (fed - output / drawn.ohm()) / c1;
        }
    }

    /** Phases of the plain stages. */
    private record SideBySide(Drawn drawn) implements Equations {
        @Override
        public List<String> states() {
            List<String> names = new ArrayList<>();
            for (int k = 1; k <= drawn.phases(); k++) {
                names.add("L" + k);
            }
            names.add("C1");
            return names;
        }

        @Override
        public int legs() {
            return drawn.phases();
        }

        @Override
        public double[] pulse(int leg) {
            return new double[] {(double) leg / drawn.phases(), drawn.duty()};
        }

        @Override
        public int currents() {
            return drawn.phases();
        }

        @Override
        public double current(int index, double[] s) {
            return s[index];
        }

        @Override
        public boolean byDiode(int index, boolean[] on) {
            return !on[index];
        }

        @Override
        public void rates(boolean[] on, boolean[] rests, double[] s, double[] rates) {
            int n = drawn.phases();
            boolean inverts = drawn.topology() == Topology.INVERTING_BUCK_BOOST;
            boolean buck = drawn.topology() == Topology.BUCK;
            double magnitude = inverts ? -s[n] : s[n];
            double fed = 0;
            for (int k = 0; k < n; k++) {
                double source = on[k] || drawn.topology() == Topology.BOOST ? drawn.input() : 0;
                double against = buck || !on[k] ? magnitude : 0;
                double device = on[k]
                        ? 2 * drawn.loss() * drawn.ohm() * s[k]
                        : drawn.loss() * drawn.input() + drawn.loss() * drawn.ohm() * s[k];
                double coil = drawn.loss() * drawn.ohm() * s[k];
                rates[k] = rests[k] ? 0 : (source - against - device - coil) / drawn.inductance();
                fed += buck || !on[k] ? s[k] : 0;
            }
            double net = (fed - magnitude / drawn.ohm()) * Drawn.HERTZ * drawn.ohm() / 20;
            rates[n] = inverts ? -net : net;
        }
    }

    /** The four-switch stage. */
    private record TwoLegs(Drawn drawn) implements Equations {
        @Override
        public List<String> states() {
            return List.of("L1", "C1");
        }

        @Override
        public int legs() {
            return 2;
        }

        @Override
        public double[] pulse(int leg) {
            return new double[] {0, leg == 0 ? drawn.duty() : drawn.other()};
        }

        @Override
        public int currents() {
            return 1;
        }

        @Override
        public double current(int index, double[] s) {
            return s[0];
        }

        @Override
        public boolean byDiode(int index, boolean[] on) {
            return !on[0] || !on[1];
        }

        @Override
        public void rates(boolean[] on, boolean[] rests, double[] s, double[] rates) {
            double drop = drawn.loss() * drawn.input() + drawn.loss() * drawn.ohm() * s[0];
            double channel = 2 * drawn.loss() * drawn.ohm() * s[0];
            double in = on[0] ? drawn.input() - channel : -drop;
            double out = on[1] ? channel : s[1] + drop;
            rates[0] = rests[0] ? 0 : (in - out - drawn.loss() * drawn.ohm() * s[0]) / drawn.inductance();
            double fed = on[1] ? 0 : s[0];
            rates[1] = (fed - s[1] / drawn.ohm()) * Drawn.HERTZ * drawn.ohm() / 20;
        }
    }

    // ------------------------------------------------------------------------------------------- the integrator

    /** One switching period, from one edge or end of a current to the next. */
    private static final class Period implements OrdinaryDifferentialEquation {
        private final Equations by;
        private final double length = 1 / Drawn.HERTZ;
        private final boolean[] on;
        private final boolean[] rests;
        private final double zero;
        /** A rise that is less than zero by no more has just come there, so that the diode conducts again. */
        private final double least;

        Period(Equations by, Drawn drawn) {
            this.by = by;
            on = new boolean[by.legs()];
            rests = new boolean[by.currents()];
            zero = 1e-12 * drawn.input() / drawn.ohm();
            least = 1e-9 * drawn.input() * length / drawn.inductance();
        }

        @Override
        public int getDimension() {
            return by.states().size();
        }

        @Override
        public double[] computeDerivatives(double t, double[] s) {
            double[] rates = new double[s.length];
            by.rates(on, rests, s, rates);
            return rates;
        }

        double[] from(double[] start) {
            TreeSet<Double> edges = new TreeSet<>(List.of(0.0, 1.0));
            for (int leg = 0; leg < by.legs(); leg++) {
                double[] pulse = by.pulse(leg);
                edges.add(pulse[0]);
                edges.add((pulse[0] + pulse[1]) % 1);
            }
            double[] state = start.clone();
            double from = 0;
            for (double to : edges) {
                if (to - from > 1e-12) {
                    double middle = (from + to) / 2;
                    IntPredicate isOn = leg -> (middle - by.pulse(leg)[0] + 1) % 1 < by.pulse(leg)[1];
                    for (int leg = 0; leg < by.legs(); leg++) {
                        on[leg] = isOn.test(leg);
                    }
                    state = stretch(from * length, to * length, state);
                }
                from = to;
            }
            return state;
        }

        private double[] stretch(double from, double to, double[] start) {
            double[] state = start;
            double time = from;
            settle(state);
            while (to - time > 1e-12 * length) {
                DormandPrince853Integrator integrator =
                        new DormandPrince853Integrator(1e-12 * length, 0.1 * length, 1e-12, 1e-12);
                integrator.setInitialStepSize(Math.min(1e-3 * length, 0.5 * (to - time)));
                for (int k = 0; k < by.currents(); k++) {
                    integrator.addEventDetector(new Ends(k));
                }
                ODEStateAndDerivative end = integrator.integrate(this, new ODEState(time, state), to);
                time = end.getTime();
                state = end.getPrimaryState();
                settle(state);
            }
            return state;
        }

        /** How fast a current would rise if its diode conducted, A for each period. */
        private double rise(int index, double[] state) {
            double[] rates = new double[state.length];
            boolean[] none = rests.clone();
            none[index] = false;
            by.rates(on, none, state, rates);
            return by.current(index, rates) * length;
        }

        /** A current that a diode alone carries rests where it has come to zero and would fall. */
        private void settle(double[] state) {
            for (int k = 0; k < rests.length; k++) {
                rests[k] = by.byDiode(k, on) && by.current(k, state) <= zero && rise(k, state) < -least;
            }
        }

        private final class Ends implements ODEEventDetector {
            private final int index;

            Ends(int index) {
                this.index = index;
            }

            @Override
            public double g(ODEStateAndDerivative state) {
                if (!by.byDiode(index, on)) {
                    return 1;
                }
                double[] now = state.getPrimaryState();
                return rests[index] ? -rise(index, now) : by.current(index, now);
            }

            @Override
            public AdaptableInterval getMaxCheckInterval() {
                return (state, forward) -> 0.01 * length;
            }

            @Override
            public int getMaxIterationCount() {
                return 200;
            }

            @Override
            public BracketingNthOrderBrentSolver getSolver() {
                return new BracketingNthOrderBrentSolver(0, 1e-15 * length, 0, 5);
            }

            @Override
            public ODEEventHandler getHandler() {
                return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
            }
        }
    }
}
