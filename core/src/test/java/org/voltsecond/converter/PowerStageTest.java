package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** Putting stages together, and refusing those that cannot be. */
class PowerStageTest {
    private static final Drive HALF = Drive.fixedDuty(0.5, 100e3);

    @Test
    void everythingThatIsWrongIsToldAtOnce() {
        PowerStage stage = PowerStage.boost()
                .input(-12)
                .inductor(0, -1)
                .outputCapacitor(Double.NaN, Double.POSITIVE_INFINITY)
                .transistor(Double.NaN)
                .bodyDiode(0, -1)
                .rectifier(-0.4, -0.02);
        InvalidStageException e =
                catchThrowableOfType(InvalidStageException.class, () -> stage.drive(Drive.fixedDuty(1.5, 0)));
        assertThat(e.faults())
                .containsExactly(
                        "input: voltage must be more than 0 V and finite but was -12.0 V",
                        "inductor: inductance must be more than 0 H and finite but was 0.0 H",
                        "inductor: series resistance must be 0 Ω or more and finite but was -1.0 Ω",
                        "output capacitor: capacitance is missing or not a number; it must be more than 0 F",
                        "output capacitor: series resistance must be 0 Ω or more and finite but was Infinity Ω",
                        "transistor: on-resistance must be 0 Ω or more and finite but was NaN Ω",
                        "body diode: forward drop must be more than 0 V and finite but was 0.0 V",
                        "body diode: resistance must be >= 0 Ω and finite but was -1.0 Ω",
                        "rectifier: forward drop must be >= 0 V and finite but was -0.4 V",
                        "rectifier: resistance must be >= 0 Ω and finite but was -0.02 Ω",
                        "load is missing; give Load.resistor(...) or Load.current(...)",
                        "drive: the duty cycle must be from 0 to 1 but was 1.5",
                        "drive: the switching frequency must be > 0 Hz and finite but was 0.0 Hz");
        assertThat(e).hasMessageStartingWith("boost stage: input: voltage");
    }

    @Test
    void onlyInputInductorCapacitorAndLoadMustBeGiven() {
        InvalidStageException e = catchThrowableOfType(
                InvalidStageException.class, () -> PowerStage.buck().drive(HALF));
        assertThat(e.faults()).hasSize(4);
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .load(Load.resistor(5))
                .drive(HALF);
        assertThat(converter.circuit().part("Q1")).isEqualTo(new Part.Switch("Q1", "in", "sw", 0));
        assertThat(converter.circuit().part("D1")).isEqualTo(new Part.Rectifier("D1", "ground", "sw", 0, 0));
    }

    @Test
    void copiesAreChangedAndCheckedTheOriginalIsNot() {
        Converter original = Stages.lossy(Topology.BUCK);
        assertThat(original.withInput(15).inputVoltage()).isEqualTo(15);
        assertThat(original.withLoad(Load.current(1)).load()).isEqualTo(Load.current(1));
        assertThat(original.withDutyCycle(0.3).drive()).isEqualTo(Drive.fixedDuty(0.3, 300e3));
        assertThat(original.withTransistor(0.1).circuit().part("Q1")).isEqualTo(new Part.Switch("Q1", "in", "sw", 0.1));
        assertThat(original.withSynchronousRectifier(0.1).rectifierName()).isEqualTo("Q2");
        assertThat(original.withRectifier(0.7, 0).circuit().part("D1"))
                .isEqualTo(new Part.Rectifier("D1", "ground", "sw", 0.7, 0));
        assertThat(original.withInductor(1e-6, 0.5).circuit().part("L1"))
                .isEqualTo(new Part.Inductor("L1", "sw", "out", 1e-6, 0.5, 0));
        assertThat(original.withOutputCapacitor(1e-6, 0.5).circuit().part("C1"))
                .isEqualTo(new Part.Capacitor("C1", "out", "ground", 1e-6, 0.5, 0));
        assertThat(original.circuit()).isEqualTo(Stages.lossy(Topology.BUCK).circuit());
        assertThatIllegalArgumentException().isThrownBy(() -> original.withInput(0));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> original.withDutyCycle(Double.NaN))
                .withMessageContaining("duty cycle must be from 0 to 1 but was NaN");
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY})
    void loadResistanceMustBePositive(double ohm) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Load.resistor(ohm))
                .withMessageContaining("more than 0 Ω and finite but was " + ohm + " Ω");
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1, Double.NaN, Double.POSITIVE_INFINITY})
    void loadCurrentMustNotBeNegative(double ampere) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Load.current(ampere))
                .withMessageContaining("0 A or more and finite but was " + ampere + " A");
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1e-9, Double.NaN, Double.POSITIVE_INFINITY})
    void changesHappenAfterTheStart(double time) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Change.at(time))
                .withMessageContaining("0 s or more and finite but was " + time + " s");
    }

    @Test
    void changesAreChecked() {
        assertThatIllegalArgumentException().isThrownBy(() -> Change.at(0).input(0));
        assertThatIllegalArgumentException().isThrownBy(() -> Change.at(0).dutyCycle(2));
        assertThat(Change.at(1e-3).load(Load.resistor(5)).input(9).dutyCycle(0.5))
                .hasToString("at 1 ms: load 5 Ω, input 9 V, duty cycle 0.5");
    }
}
