package org.voltsecond.benchmark;

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
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Simulation;

/**
 * The lossy buck stage in its variants ({@link PeerCircuit}): one operation is one switching period of a run, certified events
 * included, or one periodic steady state from a cold guess.
 */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(2)
public class PeerCases {
    private static final int PERIODS = 10_000;
    private static final int REGULATED_PERIODS = 4_500;
    private static final int FEW = 1_000;

    /** A circuit and the state that its run begins with, made when a benchmark wants them. */
    public abstract static class Peer {
        private final DrivenCircuit circuit;
        private final double[] start;

        Peer(PeerCircuit peer) {
            circuit = peer.driven();
            start = peer.start(circuit);
        }

        final double[] run(int periods) {
            return Simulation.of(circuit.law()).finalState(start, periods * circuit.clockPeriod());
        }

        final double[] steadyState() {
            return SteadyState.of(circuit).state();
        }
    }

    /** See {@link PeerCircuit#CONTINUOUS}. */
    @State(Scope.Benchmark)
    public static class Continuous extends Peer {
        /** Makes the circuit. */
        public Continuous() {
            super(PeerCircuit.CONTINUOUS);
        }
    }

    /** See {@link PeerCircuit#DISCONTINUOUS}. */
    @State(Scope.Benchmark)
    public static class Discontinuous extends Peer {
        /** Makes the circuit. */
        public Discontinuous() {
            super(PeerCircuit.DISCONTINUOUS);
        }
    }

    /** See {@link PeerCircuit#CLOSED_LOOP}. */
    @State(Scope.Benchmark)
    public static class ClosedLoop extends Peer {
        /** Makes the circuit. */
        public ClosedLoop() {
            super(PeerCircuit.CLOSED_LOOP);
        }
    }

    /** See {@link PeerCircuit#FAST_POLE}. */
    @State(Scope.Benchmark)
    public static class FastPole extends Peer {
        /** Makes the circuit. */
        public FastPole() {
            super(PeerCircuit.FAST_POLE);
        }
    }

    /** See {@link PeerCircuit#TYPE_3}. */
    @State(Scope.Benchmark)
    public static class Type3 extends Peer {
        /** Makes the circuit. */
        public Type3() {
            super(PeerCircuit.TYPE_3);
        }
    }

    /** See {@link PeerCircuit#PEAK_CURRENT}. */
    @State(Scope.Benchmark)
    public static class PeakCurrent extends Peer {
        /** Makes the circuit. */
        public PeakCurrent() {
            super(PeerCircuit.PEAK_CURRENT);
        }
    }

    /** See {@link PeerCircuit#TWELVE_PHASES}. */
    @State(Scope.Benchmark)
    public static class TwelvePhases extends Peer {
        /** Makes the circuit. */
        public TwelvePhases() {
            super(PeerCircuit.TWELVE_PHASES);
        }
    }

    /** See {@link PeerCircuit#AMPLIFIER}. */
    @State(Scope.Benchmark)
    public static class Amplifier extends Peer {
        /** Makes the circuit. */
        public Amplifier() {
            super(PeerCircuit.AMPLIFIER);
        }
    }

    /** See {@link PeerCircuit#SATURATING}. */
    @State(Scope.Benchmark)
    public static class Saturating extends Peer {
        /** Makes the circuit. */
        public Saturating() {
            super(PeerCircuit.SATURATING);
        }
    }

    /** See {@link PeerCircuit#RINGING}. */
    @State(Scope.Benchmark)
    public static class Ringing extends Peer {
        /** Makes the circuit. */
        public Ringing() {
            super(PeerCircuit.RINGING);
        }
    }

    /** One period of a run in continuous conduction. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] continuous(Continuous peer) {
        return peer.run(PERIODS);
    }

    /** One period of a run that starts continuous and turns discontinuous. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] discontinuous(Discontinuous peer) {
        return peer.run(PERIODS);
    }

    /** One period of the regulated stage from rest, with a load step down at 5 ms and up again at 10 ms. */
    @Benchmark
    @OperationsPerInvocation(REGULATED_PERIODS)
    public double[] closedLoop(ClosedLoop peer) {
        return peer.run(REGULATED_PERIODS);
    }

    /** One period of the settled stage with a pole of its compensator so fast that a period is longer than a base of the flow. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] fastPole(FastPole peer) {
        return peer.run(PERIODS);
    }

    /** One period of the settled stage with two zeros, two fast poles and limits of the control voltage. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] type3(Type3 peer) {
        return peer.run(PERIODS);
    }

    /** One period of the settled stage in peak current mode under a voltage loop. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] peakCurrent(PeakCurrent peer) {
        return peer.run(PERIODS);
    }

    /** One period of twelve interleaved phases, settled. */
    @Benchmark
    @OperationsPerInvocation(FEW)
    public double[] twelvePhases(TwelvePhases peer) {
        return peer.run(FEW);
    }

    /** One period of the settled stage with an error amplifier of parts. */
    @Benchmark
    @OperationsPerInvocation(FEW)
    public double[] amplifier(Amplifier peer) {
        return peer.run(FEW);
    }

    /** One period of a run in which the inductor saturates at the peak of its current. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] saturating(Saturating peer) {
        return peer.run(PERIODS);
    }

    /** One period of the settled stage with a ringing switch node. */
    @Benchmark
    @OperationsPerInvocation(PERIODS)
    public double[] ringing(Ringing peer) {
        return peer.run(PERIODS);
    }

    /** One steady state in continuous conduction. */
    @Benchmark
    public double[] steadyContinuous(Continuous peer) {
        return peer.steadyState();
    }

    /** One steady state in discontinuous conduction. */
    @Benchmark
    public double[] steadyDiscontinuous(Discontinuous peer) {
        return peer.steadyState();
    }
}
