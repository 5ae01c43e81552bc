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
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;

/**
 * One new design of a custom circuit with two states, each with another inductance: what it takes to build, and to its
 * first steady state.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(3)
public class NewDesigns {
    /** Load, Ω: continuous and discontinuous conduction. */
    @Param({"2.5", "100"})
    public double load;

    private Converter first;
    private int number;

    /** Builds the first design. */
    @Setup
    public void build() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .switchPart("Q1", "in", "sw", milli(80))
                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                .inductor("L1", "sw", "out", micro(22), milli(30))
                .capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                .resistor("R1", "out", Circuit.GROUND, load)
                .build();
        first = Converter.of(circuit)
                .input("V1")
                .output("out", Circuit.GROUND)
                .drive(Drive.fixedDuty(load > 10 ? 0.25 : 0.45, kilo(300)));
    }

    private Converter next() {
        number = (number + 1) % 2000;
        return first.with("L1.inductance", micro(22) * (1 + 1e-5 * number));
    }

    /** One design, built. */
    @Benchmark
    public Converter built() {
        return next();
    }

    /** One design and its steady state. */
    @Benchmark
    public double[] steady() {
        return next().steadyState().periodic().state();
    }
}
