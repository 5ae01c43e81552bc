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
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MonteCarlo;
import org.voltsecond.study.MonteCarloResult;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.Tolerance;

/** The buck stage in voltage mode with a type 3 compensator and limits: searches and studies of its regulated steady states. */
@State(Scope.Benchmark)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class Regulated {
    private static final int DESIGNS = 10_000;
    private static final int POINTS = 200;

    /** On how many threads. */
    @Param({"1", "2"})
    public int threads;

    private final DrivenCircuit light = converter(100).driven();
    private final Converter converter = converter(2.5);
    private final List<Tolerance> tolerances = tolerances(converter);
    private final Converter sepic = sepic();

    private static Converter converter(double load) {
        return PeerCircuit.stage(load)
                .drive(PeerCircuit.voltageModeOf(Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150))));
    }

    private static Converter sepic() {
        return PowerStage.sepic()
                .input(12)
                .inductor(micro(47))
                .with(new SecondInductor(micro(47), milli(30), 0))
                .with(new CouplingCapacitor(micro(10), milli(5)))
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(30))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(5))
                .drive(VoltageMode.of(kilo(200), 1, 0.2, Compensator.type2(100, 300, kilo(50)))
                        .withMaximumDutyCycle(0.9));
    }

    private static List<Tolerance> tolerances(Converter converter) {
        List<Tolerance> every = new ArrayList<>();
        for (StageValue value : StageValue.of(converter)) {
            every.add(Tolerance.relative(converter, value, 0.1));
        }
        return every;
    }

    /** A steady state at light load from a cold guess; the number of threads has no part in it. */
    @Benchmark
    @BenchmarkMode(Mode.AverageTime)
    @OutputTimeUnit(TimeUnit.MICROSECONDS)
    public double[] coldSearch() {
        return SteadyState.of(light).state();
    }

    /** Designs a second, every value within 10 %, with the usual figures. */
    @Benchmark
    @BenchmarkMode(Mode.Throughput)
    @OutputTimeUnit(TimeUnit.SECONDS)
    @OperationsPerInvocation(DESIGNS)
    public MonteCarloResult tolerance() {
        return MonteCarlo.of(converter, tolerances, Figures.usual(), 1).run(DESIGNS, Execution.onThreads(threads));
    }

    /** A map of 200 x 200 points over line and load. */
    @Benchmark
    @BenchmarkMode(Mode.SingleShotTime)
    @OutputTimeUnit(TimeUnit.MILLISECONDS)
    public OperatingMap map() {
        return OperatingMap.of(
                converter,
                Axis.loadCurrent(milli(5), 2, POINTS),
                Axis.inputVoltage(9, 15, POINTS),
                Figures.usual(),
                Execution.onThreads(threads));
    }

    /** The same of a SEPIC, whose equations are in no kernel. */
    @Benchmark
    @BenchmarkMode(Mode.Throughput)
    @OutputTimeUnit(TimeUnit.SECONDS)
    @OperationsPerInvocation(DESIGNS)
    public MonteCarloResult sepicTolerance() {
        return MonteCarlo.of(sepic, tolerances(sepic), Figures.usual(), 1).run(DESIGNS, Execution.onThreads(threads));
    }

    /** Its map of 200 x 200 points over line and load. */
    @Benchmark
    @BenchmarkMode(Mode.SingleShotTime)
    @OutputTimeUnit(TimeUnit.MILLISECONDS)
    public OperatingMap sepicMap() {
        return OperatingMap.of(
                sepic,
                Axis.loadCurrent(milli(50), 2, POINTS),
                Axis.inputVoltage(9, 15, POINTS),
                Figures.usual(),
                Execution.onThreads(threads));
    }
}
