package org.voltsecond.sizing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/** A filter is proposed where emissions exceed their limits, and it is enough: levels and stability are those of a simulation with it. */
class FilterProposalTest {
    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .with(new InputCapacitor(micro(10), milli(5)));
    }

    private static Converter fixed() {
        return stage().drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    private static Result<FilterProposal> proposal(Converter converter, double earthCapacitance) {
        return FilterProposal.of(EmissionEstimate.of(converter)
                .limits(EmissionLimits.CLASS_B)
                .earthCapacitance(earthCapacitance)
                .measure());
    }

    @Test
    void limitsAreMetWithIt() {
        FilterProposal found = proposal(fixed(), 0).get();
        assertThat(found.emissions().worst().get().margin()).isGreaterThanOrEqualTo(FilterProposal.RESERVE);
        assertThat(found.emissions().worstPeak().get().margin()).isGreaterThanOrEqualTo(FilterProposal.RESERVE);
        assertThat(found.steady().periodic().isStable()).isTrue();
        assertThat(found.emissions().steady().periodic().isStable()).isTrue();
        assertThat(found).asString().contains("across the lines", "in the plus line", "in series with");
    }

    /** The same parts given as those of a ready-made stage are the same circuit: what is proposed can be written down as it is told. */
    @Test
    void itIsTheFilterOfAStage() {
        FilterProposal found = proposal(fixed(), 0).get();
        Converter written = stage().with(found.filter()).drive(Drive.fixedDuty(0.45, kilo(300)));
        Emissions again =
                EmissionEstimate.of(written).limits(EmissionLimits.CLASS_B).measure();
        for (int k : new int[] {1, 2, 30}) {
            assertThat(again.level(k)).isCloseTo(found.emissions().level(k), within(1e-6));
        }
        Converter proposed = found.emissions().steady().converter();
        assertThat(again.steady().of(written.inputCurrent()).rms())
                .isCloseTo(
                        found.emissions().steady().of(proposed.inputCurrent()).rms(), within(1e-6));
    }

    /** A regulated stage is a negative resistance to it: the impedances stay apart, and no multiplier leaves the unit circle. */
    @Test
    void aRegulatedStageStaysStable() {
        FilterProposal found = proposal(
                        stage().drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                                .withRamp(0, 1)),
                        0)
                .get();
        assertThat(found.emissions().worst().get().margin()).isGreaterThanOrEqualTo(FilterProposal.RESERVE);
        assertThat(found.steady().periodic().isStable()).isTrue();
        assertThat(found.interaction()
                        .orElseThrow()
                        .closedLoopSeparation()
                        .orElseThrow()
                        .isMet())
                .isTrue();
    }

    @Test
    void aCircuitOfOnesOwnGetsOne() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "line", GROUND, 24)
                .switchPart("Q1", "line", "CF", milli(50)) // a node that bears the name of a part of the filter
                .rectifier("D1", GROUND, "CF", 0.4, 0)
                .inductor("L1", "CF", "out", micro(47))
                .capacitor("C1", "out", GROUND, micro(100), milli(10))
                .resistor("R1", "out", GROUND, 5)
                .build();
        Converter own = Converter.of(circuit).drive(Drive.fixedDuty(0.5, kilo(200)));
        FilterProposal found = proposal(own, 0).get();
        assertThat(found.emissions().worst().get().margin()).isGreaterThanOrEqualTo(FilterProposal.RESERVE);
        assertThat(found.steady().audit().residual()).isLessThan(1e-10);
    }

    @Test
    void noneIsProposedWhereNoneIsNeededOrNoneHelps() {
        Emissions quiet = EmissionEstimate.of(fixed())
                .limits(EmissionLimits.of(EmissionLimits.Band.level(150e3, 30e6, 120)))
                .measure();
        assertThat(FilterProposal.of(quiet).reason()).contains("none is needed").contains("32.4 dB to spare");
        assertThat(FilterProposal.of(EmissionEstimate.of(fixed()).measure()).reason())
                .contains("no limits are given");
        assertThat(proposal(fixed(), pico(20)).reason()).contains("common mode alone, 73.2 dBµV at 300 kHz");
        Emissions loud = EmissionEstimate.of(fixed())
                .limits(EmissionLimits.of(EmissionLimits.Band.level(150e3, 30e6, -150)))
                .measure();
        assertThat(FilterProposal.of(loud).reason()).contains("no filter of an inductor of up to 4.7 mH");
    }

    @Test
    void faultsOfAFilter() {
        InputFilter wrong = InputFilter.of(-1, nano(1)).withLineCapacitance(-nano(1));
        assertThatThrownBy(() -> FilterProposal.in(fixed(), wrong))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("input filter: inductance")
                .hasMessageContaining("capacitance on the side of the source");
    }
}
