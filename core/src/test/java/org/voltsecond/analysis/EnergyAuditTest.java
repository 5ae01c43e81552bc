package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Simulation;

/** What counts as a balance that does not come out. */
class EnergyAuditTest {
    private static EnergyAudit audit(double delivered, double dissipated, double storedChange, double stored) {
        return new EnergyAudit(
                Map.of("V1", delivered), Map.of("R1", dissipated), storedChange, 0, stored, stored * 0x1p-52, 1);
    }

    @Test
    void theResidualIsRelativeToWhatMoves() {
        assertThat(audit(2, 1, 0.5, 0.5).residual()).isEqualTo(0.25);
        assertThat(audit(2, 1.5, 0.5, 100).residual()).isZero();
        assertThat(audit(0, 0, 0, 0).residual()).isZero();
        // a store that is large does not hide a loss that is missing in the books
        assertThat(audit(1e-6, 0, 0, 1).residual()).isEqualTo(1);
        assertThat(audit(1e-14, 0, 0, 1).residual()).isEqualTo(1);
    }

    @Test
    void theRoundingOfTheStoreIsRelativeToTheStore() {
        double lastDigit = Math.ulp(1.0);
        assertThat(audit(0, 0, lastDigit, 1).residual()).isEqualTo(lastDigit);
        assertThat(audit(lastDigit / 3, 0, 0, 1).residual()).isCloseTo(lastDigit / 3, within(1e-20));
    }

    /** A charged capacitor that hardly leaks: a charge of 3 V on 1 mF loses E t / (R C / 2) in a short time. */
    @ParameterizedTest
    @ValueSource(doubles = {1e6, 1e12, 1e15, 1e18})
    void aCapacitorThatHardlyLeaksBalances(double ohm) {
        Circuit circuit = Circuit.builder()
                .capacitor("C1", "a", Circuit.GROUND, 1e-3, 0)
                .resistor("R1", "a", Circuit.GROUND, ohm)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1e-5).build();
        EnergyAudit audit = EnergyAudit.of(driven, Simulation.of(driven.law()).record(new double[] {3}, 1e-3));
        assertThat(audit.stored()).isCloseTo(4.5e-3, within(1e-17));
        assertThat(audit.totalDissipated()).isCloseTo(9 / ohm * 1e-3, within(1e-5 * 9 / ohm * 1e-3));
        assertThat(audit.residual()).isLessThan(1e-9);
    }

    /**
     * A charge pump without any resistance between its capacitors, which meet just as the clock period begins. Of two capacitors
     * that meet {@code C1 C2 / (C1 + C2) (v1 - v2)^2 / 2} is lost (kept charge, textbook electrostatics).
     */
    @Test
    void whatIsLostAtTheClockEdgeIsLostWithinThePeriod() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 5)
                .switchPart("Q1", "in", "a", 0.2)
                .capacitor("C1", "a", Circuit.GROUND, 1e-6)
                .switchPart("Q2", "a", "out", 0)
                .capacitor("C2", "out", Circuit.GROUND, 4.7e-6)
                .resistor("R1", "out", Circuit.GROUND, 50)
                .build();
        Drive first = Drive.fixedDuty(0.5, 1e5);
        SteadyState steady = SteadyState.of(DrivenCircuit.builder(circuit)
                .gate("Q2", first)
                .gate("Q1", first.complement())
                .build());

        double[] before = steady.trajectory().initialState();
        double difference = before[0] - before[1];
        EnergyAudit audit = steady.audit();

        assertThat(audit.redistributed())
                .isPositive()
                .isCloseTo(1e-6 * 4.7e-6 / 5.7e-6 * difference * difference / 2, within(1e-18));
        assertThat(audit.storedChange()).isCloseTo(0, within(1e-18));
        assertThat(audit.residual()).isLessThan(1e-12);
    }
}
