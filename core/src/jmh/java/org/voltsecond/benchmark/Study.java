package org.voltsecond.benchmark;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
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
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MonteCarlo;
import org.voltsecond.study.MonteCarloResult;
import org.voltsecond.study.Tolerance;

/**
 * Designs a second of a Monte Carlo run over the lossy buck stage: every one of its values within 10 %, steady state and the
 * usual figures of each design.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class Study {
    private static final int DESIGNS = 100_000;

    /** On how many threads. */
    @Param({"1", "2"})
    public int threads;

    /** Load of the stage, Ω: continuous and discontinuous conduction. */
    @Param({"2.5", "100"})
    public double load;

    private MonteCarlo plan() {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load))
                .drive(Drive.fixedDuty(load > 10 ? 0.25 : 0.45, kilo(300)));
        List<Tolerance> tolerances = new ArrayList<>();
        for (StageValue value : StageValue.of(converter)) {
            tolerances.add(Tolerance.relative(converter, value, 0.1));
        }
        return MonteCarlo.of(converter, tolerances, Figures.usual(), 1);
    }

    /** One design. */
    @Benchmark
    @OperationsPerInvocation(DESIGNS)
    public MonteCarloResult tolerance() {
        return plan().run(DESIGNS, Execution.onThreads(threads));
    }
}
