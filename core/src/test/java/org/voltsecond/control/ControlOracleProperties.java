package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.control.TextbookRun.Loop;
import org.voltsecond.control.TextbookStage.Kind;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.engine.Simulation;

/** Random stages under every control method against an integrator with located events and textbook equations. */
class ControlOracleProperties {
    private static final int PERIODS = 15;
    private static final double CLOSE = 1e-9;
    /** A change of the start that no calculation in doubles can be asked to tell apart. */
    private static final double ROUND_OFF = 0x1p-46;

    /** A control voltage of about half the ramp. */
    private static final double DUTY = 0.45;
    /** A control voltage for about the mean current. */
    private static final double CONTROL = 0.1;

    /** A random stage near its operating point, and the loop above it. */
    private record Case(Kind kind, Values values, double period, Loop loop, double output, double current) {
        static Case of(long seed) {
            Random random = new Random(seed);
            int stage = random.nextInt(3);
            Kind kind = stage == 0 ? Kind.BUCK : stage == 1 ? Kind.BOOST : Kind.INVERTING;
            double period = 1e-6 * Math.exp(3 * random.nextDouble());
            double input = 6 + 30 * random.nextDouble();
            double duty = 0.2 + 0.4 * random.nextDouble();
            double output = switch (kind) {
                case BUCK -> duty * input;
                case BOOST -> input / (1 - duty);
                case INVERTING -> input * duty / (1 - duty);
            };
            double load = 1 + 20 * random.nextDouble();
            double current = output / load / (kind == Kind.BUCK ? 1 : 1 - duty);
            double ripple = current * (0.2 + 2.5 * random.nextDouble());
            double swing = kind == Kind.BUCK ? output * (1 - duty) : input * duty;
            Values values = new Values(
                    input,
                    swing * period / ripple,
                    output / load * period / (output * (0.005 + 0.03 * random.nextDouble())),
                    load,
                    0.01 * load * random.nextDouble(),
                    0.02 * output * random.nextDouble(),
                    0.01 * load * random.nextDouble(),
                    0.01 * load * random.nextDouble(),
                    0.01 * load * random.nextDouble());
            double reference = output * (0.1 + 0.9 * random.nextDouble());
            Loop loop = new Loop(
                    reference,
                    reference / output,
                    0.2 / (reference * period),
                    2 * Math.PI * 0.03 / period,
                    2 * Math.PI * (0.1 + 0.3 * random.nextDouble()) / period);
            return new Case(kind, values, period, loop, output, current);
        }

        double frequency() {
            return 1 / period;
        }

        /** From an error to a control voltage that is about {@code size} in the end. */
        Compensator compensator(double size) {
            return Compensator.type2(size * loop.gain(), loop.zero() / (2 * Math.PI), loop.pole() / (2 * Math.PI));
        }

        void check(Regulator regulator, TextbookControl textbook) {
            check(regulator, textbook, 0);
        }

        /** The control voltage starts at a value; 0 for a method without compensator. */
        void check(Regulator regulator, TextbookControl textbook, double control) {
            Circuit circuit = switch (kind) {
                case BUCK -> Stages.buck(values);
                case BOOST -> Stages.boost(values);
                case INVERTING -> Stages.inverting(values);
            };
            Plant plant = kind == Kind.INVERTING ? Stages.plantOfInverting(circuit) : Stages.plant(circuit);
            DrivenCircuit driven = DrivenCircuit.builder(circuit)
                    .controlledBy(regulator.on(plant))
                    .build();
            double[] start = driven.restState();
            start[1] = (kind == Kind.INVERTING ? -1 : 1) * output;
            if (control > 0) {
                start[2] = control;
                start[3] = control;
            }
            Loop full = new Loop(loop.reference(), loop.divider(), control * loop.gain(), loop.zero(), loop.pole());
            double duration = PERIODS * period;
            double[] found = Simulation.of(driven.law()).finalState(start, duration);
            TextbookRun oracle = new TextbookRun(new TextbookStage(kind, values), textbook, full, period);
            double[] expected = oracle.finalState(new double[] {0, output, control, 0}, duration);
            // where a comparator is met at a glance the integrator multiplies its own round-off: its accuracy is
            // measured
            double[] nearby = oracle.finalState(new double[] {0, output * (1 + ROUND_OFF), control, 0}, duration);
            double sign = kind == Kind.INVERTING ? -1 : 1;
            assertThat(Math.abs(found[0] - expected[0]))
                    .as("current")
                    .isLessThan(CLOSE * (current + expected[0]) + 3 * Math.abs(expected[0] - nearby[0]));
            assertThat(Math.abs(sign * found[1] - expected[1]))
                    .as("voltage")
                    .isLessThan(CLOSE * output + 3 * Math.abs(expected[1] - nearby[1]));
        }
    }

    @Property(tries = 60)
    void trailingEdgeVoltageMode(@ForAll long seed) {
        Case c = Case.of(seed);
        Regulator regulator = VoltageMode.of(
                        c.frequency(), c.loop().reference(), c.loop().divider(), c.compensator(DUTY))
                .withMaximumDutyCycle(0.8);
        c.check(regulator, new TextbookControl.Trailing(c.period(), 0.8), DUTY);
    }

    @Property(tries = 60)
    void leadingEdgeVoltageMode(@ForAll long seed) {
        Case c = Case.of(seed);
        Regulator regulator = VoltageMode.of(
                        c.frequency(), c.loop().reference(), c.loop().divider(), c.compensator(DUTY))
                .withModulation(Edge.LEADING, true)
                .withMaximumDutyCycle(0.8);
        c.check(regulator, new TextbookControl.Leading(c.period(), 0.8), DUTY);
    }

    @Property(tries = 60)
    void peakCurrentMode(@ForAll long seed) {
        Case c = Case.of(seed);
        double sense = CONTROL / c.current();
        double slope = 0.7 * c.output() / c.values().inductance();
        Regulator regulator = CurrentMode.peak(
                        c.frequency(), c.loop().reference(), c.loop().divider(), c.compensator(CONTROL), sense)
                .withSlopeCompensation(slope)
                .withBlankingTime(0.05 * c.period())
                .withMaximumDutyCycle(0.8);
        c.check(regulator, new TextbookControl.Peak(c.period(), sense, slope, 0.05 * c.period(), 0.8), CONTROL);
    }

    @Property(tries = 60)
    void valleyCurrentMode(@ForAll long seed) {
        Case c = Case.of(seed);
        double sense = CONTROL / c.current();
        double slope = 0.7 * c.values().input() / c.values().inductance();
        Regulator regulator = CurrentMode.valley(
                        c.frequency(), c.loop().reference(), c.loop().divider(), c.compensator(CONTROL), sense)
                .withSlopeCompensation(slope)
                .withMaximumDutyCycle(0.8);
        c.check(regulator, new TextbookControl.Valley(c.period(), sense, slope, 0.8), CONTROL);
    }

    @Property(tries = 60)
    void sampledControl(@ForAll long seed) {
        Case c = Case.of(seed);
        double gain = 0.2 / c.loop().reference();
        Regulator regulator = SampledControl.of(
                        c.frequency(), c.loop().reference(), c.loop().divider(), gain, -0.9 * gain)
                .withDenominator(-0.95)
                .withBias(0.3)
                .withSampling(0.35, 0.1 * c.period())
                .withMaximumDutyCycle(0.7);
        c.check(
                regulator,
                new TextbookControl.Sampled(c.period(), new double[] {gain, -0.9 * gain, -0.95}, 0.3, 0.35, 0.7));
    }

    @Property(tries = 60)
    void hystereticCurrent(@ForAll long seed) {
        Case c = Case.of(seed);
        double sense = CONTROL / c.current();
        Regulator regulator = Hysteretic.currentBand(
                c.frequency(),
                c.loop().reference(),
                c.loop().divider(),
                c.compensator(CONTROL),
                sense,
                0.5 * c.current());
        c.check(regulator, new TextbookControl.Hysteresis(0.5 * c.current(), sense), CONTROL);
    }

    @Property(tries = 60)
    void hystereticVoltageOfABuck(@ForAll long seed) {
        Case c = buck(seed);
        double band = 0.03 * c.loop().reference();
        Regulator regulator = Hysteretic.voltageBand(
                c.frequency(), c.loop().reference(), c.loop().divider(), band);
        c.check(regulator, new TextbookControl.Hysteresis(band, 0));
    }

    @Property(tries = 60)
    void constantOnTimeOfABuck(@ForAll long seed, @ForAll @IntRange(min = 1, max = 9) int share) {
        Case c = buck(seed);
        double onTime = 0.05 * share * c.period();
        Regulator regulator =
                ConstantOnTime.of(c.frequency(), c.loop().reference(), c.loop().divider(), onTime, 0.1 * c.period());
        c.check(regulator, new TextbookControl.OnTime(onTime, 0.1 * c.period()));
    }

    private static Case buck(long seed) {
        long next = seed;
        while (true) {
            Case found = Case.of(next++);
            if (found.kind() == Kind.BUCK) {
                return found;
            }
        }
    }
}
