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
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.Figures;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.OperatingMap;

/** A map of 200 x 200 steady states of the lossy buck stage over line and load, with its boundary of conduction. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 0)
@Measurement(iterations = 5)
@Fork(3)
public class Maps {
    private static final int POINTS = 200;

    /** On how many threads. */
    @Param({"1", "2"})
    public int threads;

    private final Converter converter = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .transistor(milli(80))
            .rectifier(0.4, milli(20))
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    private final Axis loads = Axis.loadCurrent(milli(5), 2, POINTS);
    private final Axis lines = Axis.inputVoltage(9, 15, POINTS);

    /** At a fixed duty cycle; the first of the iterations is that of a program which has just started. */
    @Benchmark
    public OperatingMap fixedDuty() {
        return OperatingMap.of(converter, loads, lines, Figures.usual(), Execution.onThreads(threads));
    }

    /** With the output held at 5 V. */
    @Benchmark
    public OperatingMap heldOutput() {
        return OperatingMap.holding(converter, 5, loads, lines, Figures.usual(), Execution.onThreads(threads));
    }
}
