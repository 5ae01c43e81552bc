package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.ManyLegsRun.Control;
import org.voltsecond.control.ManyLegsRun.Loop;
import org.voltsecond.control.ManyLegsRun.Method;
import org.voltsecond.control.ManyLegsRun.Stage;
import org.voltsecond.control.SwitchPattern.Timing;
import org.voltsecond.engine.Simulation;
import org.voltsecond.waveform.Signal;

/** Random stages of several legs under one regulator against an integrator with located events and textbook equations. */
class ManyLegsOracleProperties {
    private static final int PERIODS = 8;
    private static final double CLOSE = 1e-9;
    /** A change of the start that no calculation in doubles can be asked to tell apart. */
    private static final double ROUND_OFF = 0x1p-46;

    private static final double INPUT = 12;
    private static final double PERIOD = 5e-6;
    private static final double ON = 0.02;
    private static final double LOAD = 1;
    private static final double CAPACITANCE = 100e-6;
    private static final double ESR = 5e-3;
    private static final double DROP = 0.4;
    /** No limit of the control voltage, which the textbook loop does not know, V. */
    private static final double WIDE = 1e3;

    /** Buck phases side by side, with unlike inductors; diodes, or transistors in their place, carry the rest. */
    private record Phases(double[] inductances, double[] resistances, boolean synchronous) implements Stage {
        @Override
        public int inductors() {
            return inductances.length;
        }

        private double sum(double[] s) {
            double sum = 0;
            for (int k = 0; k < inductors(); k++) {
                sum += s[k];
            }
            return sum;
        }

        @Override
        public double output(boolean[] on, double[] s) {
            return (s[inductors()] + ESR * sum(s)) / (1 + ESR / LOAD);
        }

        @Override
        public void rates(boolean[] on, double[] s, double[] rates) {
            double output = output(on, s);
            for (int k = 0; k < inductors(); k++) {
                double node = (on[k] ? INPUT : synchronous ? 0 : -DROP) - ON * s[k];
                rates[k] = (node - resistances[k] * s[k] - output) / inductances[k];
            }
            rates[inductors()] = (sum(s) - output / LOAD) / CAPACITANCE;
        }

        @Override
        public double current(int leg, double[] s) {
            return s[leg];
        }

        @Override
        public boolean byDiode(int inductor, boolean[] on) {
            return !synchronous && !on[inductor];
        }

        Circuit circuit() {
            Circuit.Builder builder = Circuit.builder().voltageSource("V1", "in", "ground", INPUT);
            for (int k = 1; k <= inductors(); k++) {
                builder.switchPart("Q" + k, "in", "sw" + k, ON);
                if (synchronous) {
                    builder.switchPart("S" + k, "ground", "sw" + k, ON);
                } else {
                    builder.rectifier("D" + k, "ground", "sw" + k, DROP, ON);
                }
                builder.inductor("L" + k, "sw" + k, "out", inductances[k - 1], resistances[k - 1]);
            }
            return withOutput(builder);
        }
    }

    /** One inductor between two legs of two transistors each. */
    private record FourSwitch(double inductance) implements Stage {
        @Override
        public int inductors() {
            return 1;
        }

        /** While the output leg grounds the inductor the capacitor feeds the load alone. */
        @Override
        public double output(boolean[] on, double[] s) {
            return (s[1] + ESR * fed(on, s)) / (1 + ESR / LOAD);
        }

        private static double fed(boolean[] on, double[] s) {
            return on[1] ? 0 : s[0];
        }

        @Override
        public void rates(boolean[] on, double[] s, double[] rates) {
            double output = output(on, s);
            double left = (on[0] ? INPUT : 0) - ON * s[0];
            double right = (on[1] ? 0 : output) + ON * s[0];
            rates[0] = (left - right) / inductance;
            rates[1] = (fed(on, s) - output / LOAD) / CAPACITANCE;
        }

        @Override
        public double current(int leg, double[] s) {
            return s[0];
        }

        @Override
        public boolean byDiode(int inductor, boolean[] on) {
            return false;
        }

        Circuit circuit() {
            return withOutput(Circuit.builder()
                    .voltageSource("V1", "in", "ground", INPUT)
                    .switchPart("Q1", "in", "a", ON)
                    .switchPart("S1", "ground", "a", ON)
                    .inductor("L1", "a", "b", inductance)
                    .switchPart("Q2", "b", "ground", ON)
                    .switchPart("S2", "b", "out", ON));
        }
    }

    private static Circuit withOutput(Circuit.Builder builder) {
        return builder.capacitor("C1", "out", "ground", CAPACITANCE, ESR)
                .resistor("R1", "out", "ground", LOAD)
                .build();
    }

    private static Phases phases(Random random, boolean synchronous) {
        int count = 2 + random.nextInt(3);
        double[] inductances = new double[count];
        double[] resistances = new double[count];
        for (int k = 0; k < count; k++) {
            inductances[k] = 3e-6 * Math.exp(1.5 * random.nextDouble());
            resistances[k] = 0.03 * random.nextDouble();
        }
        return new Phases(inductances, resistances, synchronous);
    }

    private static List<String> names(String letter, int count) {
        List<String> names = new ArrayList<>();
        for (int k = 1; k <= count; k++) {
            names.add(letter + k);
        }
        return names;
    }

    private static final Loop OUTER = new Loop(4000, 2 * Math.PI * 3000, 2 * Math.PI * 60e3);
    private static final Loop INNER = new Loop(8000, 2 * Math.PI * 4000, 2 * Math.PI * 80e3);

    private static Compensator compensator(Loop loop) {
        return Compensator.type2(loop.gain(), loop.zero() / (2 * Math.PI), loop.pole() / (2 * Math.PI));
    }

    /** All legs alike but for their delays and ramps. */
    private static Control control(
            Method method, double duty, double current, Timing timing, int legs, double maximum) {
        double[] delays = new double[legs];
        double[] raises = new double[legs];
        double[] longest = new double[legs];
        for (int k = 0; k < legs; k++) {
            boolean turns = timing == Timing.FOUR_SWITCH;
            delays[k] = turns ? 0 : (double) k / legs;
            raises[k] = turns ? k : 0;
            longest[k] = turns && k == 0 ? 1 : timing == Timing.ALTERNATING ? Math.min(0.5, maximum) : maximum;
        }
        double sense = method == Method.VOLTAGE ? 0 : 0.3 / current;
        return new Control(
                method,
                PERIOD,
                1,
                1 / (duty * INPUT),
                OUTER,
                INNER,
                sense,
                0.4 * current / PERIOD,
                delays,
                raises,
                longest);
    }

    private static Regulator regulator(Control control, double maximum) {
        double frequency = 1 / PERIOD;
        Compensator outer = compensator(OUTER);
        return switch (control.method()) {
            case VOLTAGE ->
                VoltageMode.of(frequency, 1, control.divider(), outer)
                        .withControlLimits(-WIDE, WIDE)
                        .withMaximumDutyCycle(maximum);
            case PEAK ->
                CurrentMode.peak(frequency, 1, control.divider(), outer, control.sense())
                        .withSlopeCompensation(control.slope())
                        .withControlLimits(-WIDE, WIDE)
                        .withMaximumDutyCycle(maximum);
            case VALLEY ->
                CurrentMode.valley(frequency, 1, control.divider(), outer, control.sense())
                        .withSlopeCompensation(control.slope())
                        .withControlLimits(-WIDE, WIDE)
                        .withMaximumDutyCycle(maximum);
            case AVERAGE ->
                AverageCurrentMode.of(frequency, 1, control.divider(), outer, control.sense(), compensator(INNER))
                        .withControlLimits(-WIDE, WIDE)
                        .withMaximumDutyCycle(maximum);
        };
    }

    /** Runs both from the same start. */
    private static void check(
            Stage stage, Circuit circuit, SwitchPattern pattern, Control control, Regulator regulator, double[] start) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        List<Signal> currents =
                names("L", stage.inductors()).stream().map(signals::current).toList();
        Plant plant = new Plant(pattern, signals.nodeVoltage("out"), currents, signals.nodeVoltage("in"));
        DrivenCircuit driven =
                DrivenCircuit.builder(circuit).controlledBy(regulator.on(plant)).build();
        double[] own = driven.restState();
        List<String> states = driven.stateNames();
        int n = stage.inductors();
        for (int i = 0; i < states.size(); i++) {
            String name = states.get(i);
            boolean ofLeg = name.contains("current compensator");
            if (i <= n) {
                own[i] = start[i];
            } else if (ofLeg) {
                own[i] = start[n + 3];
            } else if (name.contains("compensator")) {
                own[i] = start[n + 1];
            }
        }
        double duration = PERIODS * PERIOD;
        double[] found = Simulation.of(driven.law()).finalState(own, duration);
        ManyLegsRun run = new ManyLegsRun(stage, control);
        double[] expected = run.finalState(start, duration);
        Assume.that(control.method() != Method.AVERAGE || !run.leavesRamp());
        double[] shifted = start.clone();
        shifted[n] *= 1 + ROUND_OFF;
        double[] nearby = new ManyLegsRun(stage, control).finalState(shifted, duration);
        for (int i = 0; i <= n; i++) {
            assertThat(Math.abs(found[i] - expected[i]))
                    .as(states.get(i))
                    .isLessThan(CLOSE * (1 + Math.abs(expected[i])) + 3 * Math.abs(expected[i] - nearby[i]));
        }
    }

    private static double[] start(
            Control control, int inductors, double each, double output, double voltage, double duty) {
        double[] start = new double[inductors + 3 + 2 * control.legs()];
        for (int k = 0; k < inductors; k++) {
            start[k] = each * (1 - 0.1 * k);
        }
        start[inductors] = output;
        start[inductors + 1] = voltage;
        for (int k = 0; k < control.legs(); k++) {
            start[inductors + 3 + 2 * k] = duty;
        }
        return start;
    }

    private static void interleaved(long seed, Method method, Timing timing) {
        Random random = new Random(seed);
        Phases phases = phases(random, random.nextBoolean());
        if (timing == Timing.ALTERNATING) {
            phases = new Phases(
                    Arrays.copyOf(phases.inductances(), 2),
                    Arrays.copyOf(phases.resistances(), 2),
                    phases.synchronous());
        }
        int count = phases.inductors();
        double duty = 0.12 + (timing == Timing.ALTERNATING ? 0.3 : 0.65) * random.nextDouble();
        double current = duty * INPUT / LOAD / count;
        double maximum = random.nextBoolean() ? 1 : 0.9;
        Control control = control(method, duty, current, timing, count, maximum);
        double voltage = method == Method.VOLTAGE ? duty : 0.3;
        SwitchPattern pattern =
                SwitchPattern.of(timing, names("Q", count), phases.synchronous() ? names("S", count) : List.of());
        check(
                phases,
                phases.circuit(),
                pattern,
                control,
                regulator(control, maximum),
                start(control, count, current, 0.97 * duty * INPUT, voltage, duty));
    }

    @Property(tries = 8)
    void voltageMode(@ForAll long seed) {
        interleaved(seed, Method.VOLTAGE, Timing.INTERLEAVED);
    }

    @Property(tries = 8)
    void peakCurrentMode(@ForAll long seed) {
        interleaved(seed, Method.PEAK, Timing.INTERLEAVED);
    }

    @Property(tries = 8)
    void valleyCurrentMode(@ForAll long seed) {
        interleaved(seed, Method.VALLEY, Timing.INTERLEAVED);
    }

    @Property(tries = 8)
    void averageCurrentMode(@ForAll long seed) {
        interleaved(seed, Method.AVERAGE, Timing.INTERLEAVED);
    }

    @Property(tries = 8)
    void alternatingHalves(@ForAll long seed) {
        interleaved(seed, seed % 2 == 0 ? Method.VOLTAGE : Method.PEAK, Timing.ALTERNATING);
    }

    @Property(tries = 8)
    void fourSwitches(@ForAll long seed) {
        Random random = new Random(seed);
        FourSwitch stage = new FourSwitch(3e-6 * Math.exp(random.nextDouble()));
        double ratio = 0.5 + random.nextDouble();
        double both = ratio < 1 ? ratio : 2 - 1 / ratio;
        Control control = control(Method.VOLTAGE, ratio, 1, Timing.FOUR_SWITCH, 2, 0.9);
        SwitchPattern pattern = SwitchPattern.of(Timing.FOUR_SWITCH, names("Q", 2), names("S", 2));
        double output = ratio * INPUT;
        double current = output / LOAD * Math.max(1, ratio);
        check(
                stage,
                stage.circuit(),
                pattern,
                control,
                regulator(control, 0.9),
                start(control, 1, current, 0.97 * output, both, 0));
    }
}
