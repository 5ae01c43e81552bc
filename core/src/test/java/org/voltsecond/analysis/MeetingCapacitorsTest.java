package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;

/** Two capacitors at different voltages that an ideal switch lets meet: charge is kept, energy is not. */
class MeetingCapacitorsTest {

    /**
     * C1 C2 / (C1 + C2) U² / 2 is lost whatever the resistance of the switch: R. A. Powell, Two-capacitor problem: a more
     * realistic view, Am. J. Phys. 47(5):460, 1979, from memory.
     */
    @Test
    void theLostEnergyIsCountedOnceAndPositive() {
        double first = 1e-6;
        double second = 3e-6;
        Circuit circuit = Circuit.builder()
                .capacitor("C1", "a", Circuit.GROUND, first)
                .switchPart("Q1", "a", "b", 0)
                .capacitor("C2", "b", Circuit.GROUND, second)
                .resistor("R1", "b", Circuit.GROUND, 1e6)
                .initialVoltage("C1", 10)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.on(1e3, new Drive.OnWindow(0.25, 0.75)))
                .build();
        EnergyAudit audit =
                Transient.of(driven, driven.restState(), 0.5e-3).audit();
        double expected = 0.5 * first * second / (first + second) * 10 * 10;
        assertThat(audit.redistributed()).isCloseTo(expected, within(1e-14 * expected));
        assertThat(audit.dissipated().get("Q1")).isZero();
        assertThat(audit.residual()).isLessThan(1e-14);
    }
}
