package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Bad circuits: every fault at once, with the part, the value and what is valid. */
class CircuitFaultsTest {
    private static List<String> faultsOf(Circuit.Builder builder) {
        return catchThrowableOfType(InvalidCircuitException.class, builder::build)
                .faults();
    }

    private static Circuit.Builder sound() {
        return Circuit.builder().voltageSource("V1", "a", GROUND, 5).resistor("R1", "a", GROUND, 1);
    }

    @Test
    void allFaultsAreReportedAtOnce() {
        List<String> faults = faultsOf(Circuit.builder()
                .resistor("R1", "a", GROUND, -1)
                .inductor("L1", "a", "b", 0)
                .capacitor("C1", "b", GROUND, Double.NaN, -2)
                .switchPart("Q1", "a", "b", Double.POSITIVE_INFINITY)
                .rectifier("D1", "a", "b", -0.1, Double.NaN)
                .voltageSource("V1", "a", GROUND, Double.NaN)
                .currentSource("I1", "b", GROUND, Double.NEGATIVE_INFINITY));
        assertThat(faults).hasSize(9);
        assertThat(faults.get(0)).isEqualTo("R1: resistance must be >= 0 Ω and finite but was -1.0 Ω");
        assertThat(faults.get(1)).isEqualTo("L1: inductance must be > 0 H and finite but was 0.0 H");
        assertThat(faults.get(2)).startsWith("C1: capacitance must be > 0 F").contains("NaN F");
        assertThat(faults.get(3)).startsWith("C1: series resistance");
        assertThat(faults.get(4)).startsWith("Q1: on-resistance").contains("Infinity");
        assertThat(faults.get(5)).startsWith("D1: forward drop").contains("-0.1 V");
        assertThat(faults.get(6)).startsWith("D1: resistance").contains("NaN");
        assertThat(faults.get(7)).startsWith("V1: voltage").contains("NaN V");
        assertThat(faults.get(8)).startsWith("I1: current").contains("-Infinity A");
    }

    @Test
    void namesMustBeUnique() {
        assertThat(faultsOf(sound().resistor("R1", "a", GROUND, 1)))
                .containsExactly("R1: two parts have this name; give each its own");
    }

    @Test
    void aPartNeedsTwoNodes() {
        assertThat(faultsOf(sound().resistor("R2", "a", "a", 1)))
                .singleElement()
                .asString()
                .startsWith("R2: both terminals");
    }

    @Test
    void islandsAreNamed() {
        assertThat(faultsOf(sound().resistor("R2", "x", "y", 1).capacitor("C1", "y", "z", 1e-6)))
                .singleElement()
                .asString()
                .startsWith("nodes x, y, z: no path to ground");
    }

    @Test
    void anIsolatedSecondarySideNeedsAReference() {
        assertThat(faultsOf(sound().idealTransformer(
                                "T1", List.of(Part.Winding.of("p", "a", GROUND), Part.Winding.of("s", "x", "y")), 1, 2)
                        .resistor("R2", "x", "y", 1)))
                .singleElement()
                .asString()
                .startsWith("nodes x, y: no path to ground");
    }

    @Test
    void groundMustBeThere() {
        assertThat(faultsOf(Circuit.builder().resistor("R1", "a", "b", 1)))
                .anyMatch(fault -> fault.contains("\"ground\""));
    }

    @Test
    void loopsOfSourcesAreNamed() {
        assertThat(faultsOf(sound().voltageSource("V2", "a", "b", 1).voltageSource("V3", "b", GROUND, 4)))
                .singleElement()
                .asString()
                .startsWith("V3: closes a loop of voltage sources (among V1, V2, V3)");
    }

    @Test
    void nodesFedByCurrentSourcesAloneAreNamed() {
        assertThat(faultsOf(sound().currentSource("I1", "a", "x", 1).currentSource("I2", "x", GROUND, 1)))
                .singleElement()
                .asString()
                .contains("nodes x", "I1, I2");
    }

    @Test
    void controlsMustExist() {
        assertThat(faultsOf(sound().part(new ControlledSource.VoltageByVoltage("E1", "b", GROUND, "nowhere", GROUND, 2))
                        .part(new ControlledSource.CurrentByCurrent("F1", "b", GROUND, "R9", 2))))
                .hasSize(2)
                .anyMatch(fault -> fault.contains("nowhere"))
                .anyMatch(fault -> fault.contains("R9"));
    }

    @Test
    void profilesMustRunForward() {
        Profile backwards = Profile.constant(1).stepTo(2, 3).rampTo(1, 1, Double.NaN);
        assertThat(faultsOf(sound().currentSource("I1", "a", GROUND, backwards)))
                .anyMatch(fault -> fault.contains("at or after 2.0 s") && fault.contains("1.0 s"))
                .anyMatch(fault -> fault.contains("a ramp must end after it starts"))
                .anyMatch(fault -> fault.contains("NaN"));
    }

    @Test
    void copiesAreCheckedToo() {
        Circuit circuit = sound().build();
        assertThatThrownBy(() -> circuit.withResistance("R1", -3)).hasMessageContaining("-3.0 Ω");
        assertThatThrownBy(() -> circuit.withResistance("V1", 3)).hasMessageContaining("V1 has no resistance");
        assertThatThrownBy(() -> circuit.withVoltage("R1", 3)).hasMessageContaining("R1 is not a voltage source");
        assertThatThrownBy(() -> circuit.withCurrent("X9", 3)).hasMessageContaining("parts are V1, R1");
    }

    @Test
    void copiesKeepTheStructure() {
        Circuit circuit = sound().build();
        Circuit other = circuit.withResistance("R1", 4).withVoltage("V1", 9);
        assertThat(other.hasStructureOf(circuit)).isTrue();
        assertThat(((Part.Resistor) other.part("R1")).resistance()).isEqualTo(4);
        assertThat(sound().resistor("R2", "a", GROUND, 1).build().hasStructureOf(circuit))
                .isFalse();
    }

    @Test
    void initialValuesAndStoredEnergy() {
        Circuit circuit = Circuit.builder()
                .inductor("L1", "a", GROUND, 2e-3)
                .capacitor("C1", "a", GROUND, 4e-6)
                .initialCurrent("L1", 3)
                .initialVoltage("C1", 100)
                .build();
        assertThat(circuit.stateNames()).containsExactly("L1", "C1");
        assertThat(circuit.initialState()).containsExactly(3, 100);
        assertThat(circuit.storedEnergy(circuit.initialState()))
                .isCloseTo(0.029, org.assertj.core.data.Offset.offset(1e-16));
        assertThatThrownBy(() -> Circuit.builder().initialCurrent("L1", 3)).hasMessageContaining("no inductor L1");
    }
}
