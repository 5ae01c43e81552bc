package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Circuit;
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
}
