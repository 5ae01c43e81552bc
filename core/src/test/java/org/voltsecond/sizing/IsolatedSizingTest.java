package org.voltsecond.sizing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;

/** Stages with a transformer are chosen, wound and sized. */
class IsolatedSizingTest {
    private static final Span INPUT = new Span(18, 36);

    /** One transistor for little power, two for more, four beyond. */
    @ParameterizedTest
    @CsvSource({"2, FLYBACK", "20, TWO_SWITCH_FORWARD", "100, FULL_BRIDGE"})
    void theStageGoesWithThePower(double ampere, Topology expected) {
        StageChoice choice = StageChoice.of(INPUT, 5, new Span(0.1, ampere), true);
        assertThat(choice.best().orElseThrow().topology().key()).isEqualTo(expected.key());
        assertThat(choice.options()).hasSize(6).allSatisfy(option -> {
            assertThat(option.isPossible()).isTrue();
            assertThat(option.dutyCycle().high()).isBetween(0.3, 0.46);
        });
    }

    @Test
    void onlyThoseThatIsolateAreAskedAndOnlyWhereAsked() {
        assertThat(StageChoice.of(INPUT, 5, new Span(0.1, 2)).options())
                .noneMatch(option -> option.topology().isIsolated());
        assertThat(StageChoice.of(INPUT, -5, new Span(0.1, 2), true).best()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"FLYBACK", "FORWARD", "TWO_SWITCH_FORWARD", "PUSH_PULL", "HALF_BRIDGE", "FULL_BRIDGE"})
    void theProposalHoldsAtEveryCorner(Topology topology) {
        Topology wound = StageChoice.wound(topology, INPUT, 5);
        PartsProposal proposal = Specification.of(wound)
                .input(INPUT.low(), INPUT.high())
                .output(5)
                .load(1, 4)
                .switchingFrequency(kilo(100))
                .inductorRipple(0.4)
                .outputRipple(milli(50))
                .parts(new ConductingParts(milli(20), 0, false, 0.4, milli(5)))
                .limits(PracticalLimits.USUAL.upTo(wound.longestDutyCycle()))
                .propose()
                .refined();
        assertThat(proposal.check().passes()).as(proposal.check().toString()).isTrue();
        Transformer core = proposal.parts().get(Transformer.class).orElseThrow();
        assertThat(core.turns().primary()).isEqualTo(Math.rint(core.turns().primary()));
        assertThat(core.turns().secondary()).isEqualTo(Math.rint(core.turns().secondary()));
        assertThat(proposal.parts().faults(topology)).noneMatch(fault -> fault.startsWith("transformer"));
        Converter full = proposal.converter(new Corner(INPUT.low(), 4));
        ConverterSteadyState steady = full.steadyState();
        if (topology.hasInductor()) {
            double swing = steady.of(full.further("magnetizing_current")).peakToPeak();
            assertThat(swing).isLessThan(0.15 * 4 / core.turns().ratio());
        } else {
            assertThat(core.magnetizingInductance()).isEqualTo(proposal.inductance());
        }
        assertThat(steady.of(full.transistorVoltage()).maximum())
                .isCloseTo(full.topology().blockedVoltage(INPUT.low(), 5.4), within(0.1 * INPUT.low()));
    }

    /** What it gives with its turns at most is told where it is asked for more. */
    @Test
    void turnsThatDoNotReachAreTold() {
        Topology one = Topology.PUSH_PULL.with(StageParts.none().with(Transformer.of(1, 1, 1)));
        assertThatThrownBy(() -> Specification.of(one)
                        .input(18, 36)
                        .output(20)
                        .load(1, 2)
                        .switchingFrequency(kilo(100))
                        .inductorRipple(0.4)
                        .outputRipple(milli(50))
                        .build())
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("with these turns its output is below 18");
    }
}
