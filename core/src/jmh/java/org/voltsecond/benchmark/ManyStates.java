package org.voltsecond.benchmark;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.concurrent.TimeUnit;
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
        return Integrated.precise(driven).finalState(settled, INTEGRATED_PERIODS);
    }
}
