package org.voltsecond.benchmark;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Controller;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Plant;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Simulation;
import org.voltsecond.stage.Load;

/**
 * The lossy buck stage in continuous and in discontinuous conduction: one operation is one switching period of a run of
 * 10,000 from rest, certified events included, or one periodic steady state from a cold guess.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class PeerCases {
    private static final int PERIODS = 10_000;
    private static final int REGULATED_PERIODS = 4_500;

    private final DrivenCircuit continuous = buck(2.5, 0.45);
    private final DrivenCircuit discontinuous = buck(100, 0.25);

    private final DrivenCircuit regulated = regulatedBuck();

    private final DrivenCircuit fastPole = loop(Compensator.type2(1500, 4557, kilo(140)));
    private final double[] fastPoleSettled = SteadyState.of(fastPole).state();
    private final DrivenCircuit type3 = loop(Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150)));
    private final double[] type3Settled = SteadyState.of(type3).state();

    private final DrivenCircuit saturating = saturatingBuck();
    private final DrivenCircuit ringing = ringingBuck();
    private final double[] ringingSettled = SteadyState.of(ringing).state();

    private static DrivenCircuit saturatingBuck() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(1.75, micro(12)))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)))
                .driven();
    }

    /** The capacitance of the transistor rings at 50 MHz with the inductance of its loop. */
    private static DrivenCircuit ringingBuck() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .inductor("L2", "in", "drain", nano(40), milli(20))
                .switchPart("Q1", "drain", "sw", milli(80))
                .capacitor("C2", "drain", "sw", pico(250), milli(0.5))
                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                .inductor("L1", "sw", "out", micro(22), milli(30))
                .capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                .resistor("R1", "out", Circuit.GROUND, 2.5)
                .build();
        return DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.45, kilo(300)))
                .build();
    }

    private static DrivenCircuit regulatedBuck() {
        Circuit circuit = buck(2.5, 0.45).circuit();
        // v_c = y + 0.05 x with y' = 1500 e and x' = (e - x) 2 pi 100 kHz, which is a zero near 4557 Hz
        double zero = 1 / (2 * Math.PI * 0.05 / 1500 + 1 / kilo(100));
        return DrivenCircuit.builder(circuit)
                .controlledBy(controller(Compensator.type2(1500, zero, kilo(100))))
                .change(milli(5), circuit.withResistance("R1", 25))
                .change(milli(10), circuit)
                .build();
    }

    private static DrivenCircuit loop(Compensator compensator) {
        return DrivenCircuit.builder(buck(2.5, 0.45).circuit())
                .controlledBy(controller(compensator))
                .build();
    }

    private static Controller controller(Compensator compensator) {
        DrivenCircuit open = buck(2.5, 0.45);
        Plant plant = new Plant("Q1", null, open.nodeVoltage("out"), open.current("L1"), open.nodeVoltage("in"));
        return VoltageMode.of(kilo(300), 1, 0.2, compensator)
                .withMaximumDutyCycle(0.95)
                .on(plant);
    }

    private static DrivenCircuit buck(double load, double dutyCycle) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)))
                .driven();
    }

    /** One period of a run in continuous conduction. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] continuous() {
        return run(continuous);
    }

    /** One period of a run that starts continuous and turns discontinuous. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] discontinuous() {
        return run(discontinuous);
    }

    /** One period of the regulated stage from rest, with a load step down at 5 ms and up again at 10 ms. */
    @Benchmark
    @OperationsPerInvocation(REGULATED_PERIODS)
    public double[] closedLoop() {
        return Simulation.of(regulated.law())
                .finalState(regulated.restState(), REGULATED_PERIODS * regulated.clockPeriod());
    }

    /** One period of the settled stage with a pole of its compensator so fast that a period is longer than a base of the flow. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] fastPole() {
        return Simulation.of(fastPole.law()).finalState(fastPoleSettled, PERIODS * fastPole.clockPeriod());
    }

    /** One period of the settled stage with two zeros and two fast poles. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] type3() {
        return Simulation.of(type3.law()).finalState(type3Settled, PERIODS * type3.clockPeriod());
    }

    /** One period of a run in which the inductor saturates at the peak of its current. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] saturating() {
        return run(saturating);
    }

    /** One period of the settled stage with a ringing switch node. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] ringing() {
        return Simulation.of(ringing.law()).finalState(ringingSettled, PERIODS * ringing.clockPeriod());
    }

    /** One steady state in continuous conduction. */
    @Benchmark
    public double[] steadyContinuous() {
        return SteadyState.of(continuous).state();
    }

    /** One steady state in discontinuous conduction. */
    @Benchmark
    public double[] steadyDiscontinuous() {
        return SteadyState.of(discontinuous).state();
    }

    private static double[] run(DrivenCircuit circuit) {
        return Simulation.of(circuit.law()).finalState(circuit.restState(), PERIODS * circuit.clockPeriod());
    }
}
