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
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.Emissions;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Spectrum;

/** A thousand harmonics of a steady state at an artificial network, with edges of finite slope. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(3)
public class Harmonics {
    /** From the switch node to earth, pF: none, and one that rings and makes the intervals stiff. */
    @Param({"0", "20"})
    public double picofarad;

    private Emissions seen;

    /** Finds the steady state. */
    @Setup
    public void find() {
        seen = EmissionEstimate.of(PowerStage.buck()
                        .input(12)
                        .with(new InputCapacitor(micro(10), milli(5)))
                        .inductor(micro(22), milli(30))
                        .outputCapacitor(micro(47), milli(5))
                        .transistor(milli(80))
                        .rectifier(0.4, milli(20))
                        .load(Load.resistor(2.5))
                        .drive(Drive.fixedDuty(0.45, kilo(300))))
                .earthCapacitance(pico(picofarad))
                .measure();
    }

    /** A thousand harmonics. */
    @Benchmark
    public Spectrum thousand() {
        return Spectrum.of(seen.steady().periodic().trajectory(), seen.plusLine(), 1000, (before, after) -> nano(20));
    }
}
