package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Plant;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.stage.Load;

/**
 * Periods that are alike are gone in one step ({@link Cycle}). A run is held against one that begins anew in each period, in which
 * nothing is known to repeat and every event is searched for.
 */
class RepeatedPeriodsTest {
    private static final double FREQUENCY = kilo(300);

    private static Circuit.Builder output(Circuit.Builder circuit, double load) {
        return circuit.capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                .resistor("R1", "out", Circuit.GROUND, load);
    }

    private static Circuit buck(double load, Bend... bends) {
        return output(
                        Circuit.builder()
                                .voltageSource("V1", "in", Circuit.GROUND, 12)
                                .switchPart("Q1", "in", "sw", milli(80))
                                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                                .part(new Part.Inductor("L1", "sw", "out", micro(22), milli(30), 0, List.of(bends))),
                        load)
                .build();
    }

    /** The transistor's capacitance rings at 50 MHz with the inductance of its loop, and is discharged within 20 ps. */
    private static Circuit ringing(double load) {
        return output(
                        Circuit.builder()
                                .voltageSource("V1", "in", Circuit.GROUND, 12)
                                .inductor("L2", "in", "drain", nano(40), milli(20))
                                .switchPart("Q1", "drain", "sw", milli(80))
                                .capacitor("C2", "drain", "sw", pico(250), milli(0.5))
                                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                                .inductor("L1", "sw", "out", micro(22), milli(30)),
                        load)
                .build();
    }

    private static DrivenCircuit fixed(Circuit circuit, double dutyCycle) {
        return DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(dutyCycle, FREQUENCY))
                .build();
    }

    private static DrivenCircuit regulated(Circuit circuit, Compensator compensator) {
        DrivenCircuit open = fixed(circuit, 0.45);
        Plant plant = new Plant("Q1", null, open.nodeVoltage("out"), open.current("L1"), open.nodeVoltage("in"));
        return DrivenCircuit.builder(circuit)
                .controlledBy(VoltageMode.of(FREQUENCY, 1, 0.2, compensator).on(plant))
                .build();
    }

    static List<DrivenCircuit> circuits() {
        Bend knee = new Bend(1.75, micro(12));
        return List.of(
                fixed(buck(2.5), 0.45),
                fixed(buck(100), 0.25),
                fixed(buck(2.5, knee), 0.45),
                fixed(buck(2.5, knee, new Bend(1.9, micro(6))), 0.45),
                fixed(buck(100, new Bend(0.15, micro(12))), 0.25),
                regulated(buck(2.5), Compensator.type2(1500, 4557, kilo(140))),
                regulated(buck(2.5, knee), Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150))),
                regulated(buck(60), Compensator.type2(300, 4557, kilo(140))));
    }

    @ParameterizedTest
    @MethodSource("circuits")
    void aRunIsThatOfPeriodsOneByOne(DrivenCircuit circuit) {
        agrees(circuit, circuit.restState(), 1500, 1e-11);
    }

    @Test
    void aRingingNodeIsGoneInOneStepToo() {
        DrivenCircuit circuit = fixed(ringing(2.5), 0.45);
        double[] settled = periodByPeriod(circuit, circuit.restState(), 40);
        agrees(circuit, settled, 100, 1e-9);
    }

    /** From any state of a box a period is what it is when nothing is known of it. */
    @ParameterizedTest
    @MethodSource("circuits")
    void aPeriodFromAnywhereInABoxIsThatOfNoBox(DrivenCircuit circuit) {
        Random random = new Random(1);
        Run run = new Run(circuit.law(), null, false, false);
        run.start(circuit.restState());
        int drawn = 0;
        for (int periods = 40; periods <= 1200; periods += 40) {
            // just after the edge, in the phase with which the period begins
            run.until(new ClockTime(periods, 1e-3 * circuit.clockPeriod()));
            Cycle cycle = run.present().next.cycle;
            if (cycle == null || !(cycle.radius[0] >= 0)) {
                continue;
            }
            double[] centre = cycle.centre.clone();
            for (int k = 0; k < 40; k++) {
                // a state from which an instant is out of reach is one too many for the box
                if (!(cycle.radius[0] >= 0) && cycle.run(centre.clone(), 1) == 0) {
                    break;
                }
                double[] z = cycle.centre.clone();
                for (int j = 0; j < z.length; j++) {
                    double part = random.nextInt(3) == 0 ? random.nextInt(2) * 2 - 1 : random.nextDouble() * 2 - 1;
                    // neither the current, which the rectifier blocks, nor the voltage comes to be below zero
                    z[j] = Math.max(j < 2 ? 0 : Double.NEGATIVE_INFINITY, z[j] + part * cycle.radius[j]);
                }
                double[] state = new double[z.length];
                run.scaling().toState(z, state);
                if (cycle.run(z, 1) == 1) {
                    drawn++;
                    double[] expected = PeriodMap.of(circuit.law(), 1).apply(state);
                    run.scaling().toState(z, state);
                    double size = Matrices.size(z);
                    for (int j = 0; j < z.length; j++) {
                        double scale = run.scaling().factor(j);
                        assertThat(scale * state[j]).isCloseTo(scale * expected[j], within(1e-12 * size));
                    }
                }
            }
        }
        assertThat(drawn).isPositive();
    }

    /** How right a polynomial is counts beside the states at the centre, from which those of the box must not be far. */
    @Test
    void aBoxWithoutGuardsIsNoLargerThanItsCentre() {
        Configuration rising = TestLaw.configuration(
                "rising", 1, new double[][] {{-0.1, 0}, {0, -0.2}}, new double[] {1, 2}, List.of());
        Phase on = new Phase(rising, 0.5, Double.POSITIVE_INFINITY);
        Phase off = new Phase(rising, 1, Double.POSITIVE_INFINITY);
        Run run = new Run(TestLaw.ring(TestLaw.ones(2), 1, List.of(on, off)), null, false, false);
        run.start(new double[] {1e-3, 1e-3});
        int boxes = 0;
        for (int periods = 10; periods < 60; periods += 10) {
            run.until(new ClockTime(periods, 0.1));
            Cycle cycle = run.present().next.cycle;
            if (cycle != null && cycle.radius[0] >= 0) {
                boxes++;
                assertThat(Matrices.size(cycle.radius)).isLessThanOrEqualTo((1 + 1e-12) * Matrices.size(cycle.centre));
            }
        }
        assertThat(boxes).isPositive();
    }

    private static void agrees(DrivenCircuit circuit, double[] from, int periods, double digits) {
        double[] expected = periodByPeriod(circuit, from, periods);
        double duration = periods * circuit.clockPeriod();
        double[] end = Simulation.of(circuit.law()).finalState(from, duration);
        Trajectory recorded = Simulation.of(circuit.law()).record(from, duration);
        // who listens changes no bit
        assertThat(recorded.finalState()).containsExactly(end);
        double[] scale = circuit.law().scale();
        double size = 0;
        for (int i = 0; i < end.length; i++) {
            size = Math.max(size, scale[i] * Math.abs(expected[i]));
        }
        for (int i = 0; i < end.length; i++) {
            assertThat(scale[i] * end[i]).isCloseTo(scale[i] * expected[i], within(digits * size));
        }
        double time = 0;
        double[] before = from;
        for (Interval interval : recorded.intervals()) {
            assertThat(interval.start()).isCloseTo(time, within(1e-15 * periods * circuit.clockPeriod()));
            double[] start = interval.jump() == null ? before : interval.jump().apply(before);
            for (int i = 0; i < start.length; i++) {
                assertThat(scale[i] * interval.startState()[i]).isCloseTo(scale[i] * start[i], within(1e-12 * size));
            }
            time = interval.end();
            before = interval.endState();
        }
    }

    private static double[] periodByPeriod(DrivenCircuit circuit, double[] from, int periods) {
        PeriodMap map = PeriodMap.of(circuit.law(), 1);
        double[] state = from;
        for (int k = 0; k < periods; k++) {
            state = map.apply(state);
        }
        return state;
    }

    /**
     * A level sinks by a little in each period, to where a guard of the first or of the second half dips below zero: by how much it
     * dips is a part of the swing that no end of a phase tells of. The periods before have been alike for as long as one likes.
     */
    @ParameterizedTest
    @CsvSource({"true, 2.5", "false, 2.5", "true, 9", "false, 9", "true, 40", "false, 40"})
    void aGuardThatComesToCrossIsNotPassedOver(boolean first, double angular) {
        Guard dip = new Guard("dip", AffineForm.of(new double[] {1, 0, 1}, 0));
        Phase on = new Phase(swinging(angular, first ? List.of(dip) : List.of()), 0.5, Double.POSITIVE_INFINITY);
        Phase off = new Phase(swinging(angular, first ? List.of() : List.of(dip)), 1, Double.POSITIVE_INFINITY);
        Phase after = new Phase(swinging(angular, List.of()), 1, Double.POSITIVE_INFINITY);
        List<Double> crossings = new ArrayList<>();
        AffineMap again = AffineMap.of(new double[][] {{0, 0, 0}, {0, 0, 0}, {0, 0, 1}}, new double[] {1, 0, 0});
        TestLaw law =
                new TestLaw(new double[] {1, 1, 1}, 1, List.of(), state -> Entry.of(on), (ended, cause, state, t) -> {
                    if (cause.kind() == Cause.Kind.GUARD) {
                        crossings.add(t);
                        return Entry.of(after);
                    }
                    return ended == on ? new Entry(off, again) : new Entry(ended == after ? after : on, again);
                });
        double start = 0.3 - lowest(angular, 0);
        double[] end = Simulation.of(law).finalState(new double[] {1, 0, start}, 500);
        assertThat(end[2]).isCloseTo(start - 500 * SINKING, within(1e-12));
        int period = 0;
        double from = first ? 0 : 0.5;
        while (lowest(angular, start - SINKING * (period + from)) > 0) {
            period++;
        }
        assertThat(period).isBetween(100, 499);
        assertThat(crossings).hasSize(1);
        double expected = from + firstZero(angular, start - SINKING * (period + from));
        // a dip that has just come to be has a slope of the square root of its depth
        assertThat(crossings.get(0)).isCloseTo(expected, within(1e-9));
    }

    /** Of cos(a t) + level - SINKING t from 0 to 0.5: at its end, or where a sin(a t) is -SINKING past the half of a swing. */
    private static double lowest(double angular, double level) {
        double bottom = (Math.PI + Math.asin(SINKING / angular)) / angular;
        double lowest = value(angular, level, 0.5);
        for (double t = bottom; t < 0.5; t += 2 * Math.PI / angular) {
            lowest = Math.min(lowest, value(angular, level, t));
        }
        return lowest;
    }

    private static double firstZero(double angular, double level) {
        double below = 0;
        while (value(angular, level, below) > 0) {
            below += 1e-7;
        }
        double above = below - 1e-7;
        for (int i = 0; i < 60; i++) {
            double middle = 0.5 * (above + below);
            if (value(angular, level, middle) > 0) {
                above = middle;
            } else {
                below = middle;
            }
        }
        return below;
    }

    private static double value(double angular, double level, double t) {
        return Math.cos(angular * t) + level - SINKING * t;
    }

    private static final double SINKING = 1e-3;

    private static Configuration swinging(double angular, List<Guard> guards) {
        return Configuration.builder("swinging", new double[] {1, 1, 1}, 1)
                .dynamics(new double[][] {{0, -angular, 0}, {angular, 0, 0}, {0, 0, 0}}, new double[] {0, 0, -SINKING})
                .guards(guards)
                .build();
    }

    /** Where the current command is reached in one period and not in the next, the event is off the end of what repeats. */
    @Test
    void inChaosNoPhaseLastsBeyondItsEnd() {
        DrivenCircuit circuit = PowerStage.boost()
                .input(10)
                .inductor(micro(100), 0)
                .outputCapacitor(micro(22), milli(10))
                .transistor(milli(50))
                .rectifier(0.4, 0)
                .load(Load.resistor(20))
                .drive(CurrentMode.peak(kilo(100), 5))
                .driven();
        double period = circuit.clockPeriod();
        double[] latest = {0};

        Simulation.of(circuit.law()).stream(circuit.restState(), 2, interval -> {
            double end = interval.sinceTick() + interval.duration();
            double most = Math.min(interval.phase().endSinceTick(), period);
            latest[0] = Math.max(latest[0], end - most);
        });

        assertThat(latest[0]).isLessThan(1e-12 * period);
    }
}
