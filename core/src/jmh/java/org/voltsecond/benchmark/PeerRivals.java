package org.voltsecond.benchmark;

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
import org.voltsecond.control.DrivenCircuit;

/**
 * The circuits of {@link PeerCases} by a general-purpose integrator to ten digits: one operation is one switching
 * period. The closed loop from rest is not among them: it begins where a comparator just touches its ramp, which event detection passes over.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class PeerRivals {
    private static final int PERIODS = 10;

    /** Which of them, by its name in {@link PeerCircuit}. */
    @Param({
        "CONTINUOUS",
        "DISCONTINUOUS",
        "FAST_POLE",
        "TYPE_3",
        "PEAK_CURRENT",
        "TWELVE_PHASES",
        "AMPLIFIER",
        "SATURATING",
        "RINGING"
    })
    public String circuit;

    private Integrated integrated;
    private double[] start;

    /** Builds the circuit and lets it settle where its run begins so. */
    @Setup
    public void build() {
        PeerCircuit peer = PeerCircuit.valueOf(circuit);
        DrivenCircuit driven = peer.driven();
        integrated = Integrated.precise(driven);
        start = peer.start(driven);
    }

    /** One period. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] integrated() {
        return integrated.finalState(start, PERIODS);
    }
}
