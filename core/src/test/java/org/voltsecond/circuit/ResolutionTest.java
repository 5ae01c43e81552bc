package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.circuit.Circuit.GROUND;

import org.junit.jupiter.api.Test;

/** Which rectifiers conduct: signs of values, then of derivatives, with as few changes as needed. */
class ResolutionTest {
    private static Circuit.Builder buckParts() {
        return Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0)
                .inductor("L1", "sw", "out", 22e-6)
                .capacitor("C1", "out", GROUND, 47e-6)
                .resistor("R1", "out", GROUND, 2.5);
    }

    private static final Network BUCK =
            Network.of(buckParts().rectifier("D1", GROUND, "sw").build());
    private static final Network BOOST = Network.of(Circuit.builder()
            .voltageSource("V1", "in", GROUND, 12)
            .inductor("L1", "in", "sw", 22e-6)
            .switchPart("Q1", "sw", GROUND, 0)
            .rectifier("D1", "sw", "out")
            .capacitor("C1", "out", GROUND, 47e-6)
            .resistor("R1", "out", GROUND, 25)
            .build());

    private static long conducting(Network network, long closed, long before, int fired, double... state) {
        return network.resolve(closed, before, fired, state).regime().conducting();
    }

    @Test
    void openingTheSwitchOnALiveInductorTurnsTheRectifierOn() {
        assertThat(conducting(BUCK, 0, 0, -1, 1.0, 5)).isEqualTo(1);
    }

    @Test
    void closingTheSwitchTurnsTheRectifierOff() {
        assertThat(conducting(BUCK, 1, 1, -1, 1.0, 5)).isZero();
        assertThat(conducting(BUCK, 1, 1, -1, 0, 5)).isZero();
    }

    @Test
    void aCurrentThatHasFallenToZeroAndWouldGoOnFallingEnds() {
        assertThat(conducting(BUCK, 0, 1, 0, 0, 5)).isZero();
        assertThat(conducting(BUCK, 0, 1, 0, 3e-17, 5)).as("positive round-off").isZero();
        assertThat(conducting(BUCK, 0, 1, 0, -3e-17, 5))
                .as("negative round-off")
                .isZero();
        assertThat(conducting(BUCK, 0, 1, -1, 0, 5)).as("found at a clock edge").isZero();
    }

    @Test
    void theStateIsHeldExactlyAtZeroAfterwards() {
        Transition idle = BUCK.resolve(0, 1, 0, new double[] {3e-17, 5});
        assertThat(idle.jump()).isNotNull();
        assertThat(Forms.after(idle.jump(), 3e-17, 5)).containsExactly(0, 5);
    }

    @Test
    void zeroCurrentThatWillRiseConductsByItsDerivative() {
        // boost at rest, switch open: the input drives current through the rectifier at once
        assertThat(conducting(BOOST, 0, 0, -1, 0, 0)).isEqualTo(1);
        assertThat(conducting(BOOST, 0, 0, -1, 0, 11.9)).isEqualTo(1);
        assertThat(conducting(BOOST, 0, 1, -1, 0, 11.9)).isEqualTo(1);
        assertThat(conducting(BOOST, 0, 1, -1, 0, 12.1)).isZero();
    }

    @Test
    void zeroCurrentWithZeroDerivativeIsDecidedByTheSecond() {
        // output equal to the input: di/dt = 0, but the load pulls the output down, so that the current will rise
        assertThat(conducting(BOOST, 0, 0, -1, 0, 12)).isEqualTo(1);
        assertThat(conducting(BOOST, 0, 1, -1, 0, 12)).isEqualTo(1);
        // the same without a load: nothing moves, and the rectifier stays as it is
        Network unloaded = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .inductor("L1", "in", "sw", 22e-6)
                .rectifier("D1", "sw", "out")
                .capacitor("C1", "out", GROUND, 47e-6)
                .build());
        assertThat(conducting(unloaded, 0, 0, -1, 0, 12)).isZero();
        assertThat(conducting(unloaded, 0, 1, -1, 0, 12)).isEqualTo(1);
    }

    @Test
    void atRestNothingChanges() {
        assertThat(conducting(BUCK, 0, 0, -1, 0, 0)).isZero();
        assertThat(conducting(BUCK, 0, 1, -1, 0, 0)).isEqualTo(1);
        assertThat(conducting(BUCK, 1, 0, -1, 0, 0)).isZero();
    }

    @Test
    void aFiredConditionThatIsTrulyConsistentMayStay() {
        // the current touched zero while the output stood below ground: it rises again
        assertThat(conducting(BUCK, 0, 1, 0, 0, -1)).isEqualTo(1);
    }

    @Test
    void aRectifierBesideAClosedIdealSwitchStaysAsItIs() {
        Network synchronous = Network.of(buckParts()
                .switchPart("Q2", "sw", GROUND, 0)
                .rectifier("D1", GROUND, "sw", 0.4, 0.01)
                .build());
        assertThat(conducting(synchronous, 2, 1, -1, 1.0, 5)).isZero();
        // in the dead time the rectifier takes over, in either direction
        assertThat(conducting(synchronous, 0, 0, -1, 1.0, 5)).isEqualTo(1);
        assertThat(conducting(synchronous, 2, 0, -1, -1.0, 5)).isZero();
    }

    @Test
    void amongEqualNumbersOfChangesTheFirstRectifierWins() {
        Network parallel = Network.of(buckParts()
                .rectifier("D1", GROUND, "sw")
                .rectifier("D2", GROUND, "sw")
                .build());
        assertThat(conducting(parallel, 0, 0, -1, 1.0, 5)).isEqualTo(1);
        assertThat(conducting(parallel, 0, 2, -1, 1.0, 5)).isEqualTo(2);
    }

    @Test
    void aSmallCurrentBesideALargeEnergyIsNotTakenForZero() {
        double tiny = 1e-9;
        assertThat(conducting(BUCK, 0, 1, -1, tiny, 5)).isEqualTo(1);
        assertThat(conducting(BUCK, 0, 0, -1, tiny, 5)).isEqualTo(1);
    }

    @Test
    void differentThreadsGetTheSameRegimesAndBits() throws Exception {
        var pool = java.util.concurrent.Executors.newFixedThreadPool(4);
        try {
            var tasks = new java.util.ArrayList<java.util.concurrent.Callable<Regime>>();
            for (int i = 0; i < 64; i++) {
                tasks.add(() -> BUCK.resolve(0, 0, -1, new double[] {1.0, 5}).regime());
            }
            Regime expected = BUCK.regime(0, 1);
            for (var result : pool.invokeAll(tasks)) {
                assertThat(result.get()).isSameAs(expected);
            }
        } finally {
            pool.shutdown();
        }
    }
}
