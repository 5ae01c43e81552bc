package org.voltsecond.sizing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

class StageChoiceTest {
    private static final Span LOAD = new Span(0.05, 2);

    @ParameterizedTest
    @CsvSource({
        "9, 15, 5, BUCK",
        "9, 15, 8.99, BUCK",
        "9, 15, 24, BOOST",
        "9, 15, 15.01, BOOST",
        "9, 15, -5, INVERTING_BUCK_BOOST",
        "9, 15, -24, INVERTING_BUCK_BOOST",
        "12, 12, 5, BUCK"
    })
    void theOneStageThatGivesTheOutput(double low, double high, double output, Topology expected) {
        StageChoice choice = StageChoice.of(new Span(low, high), output, LOAD);
        assertThat(choice.best().orElseThrow().topology()).isEqualTo(expected);
        assertThat(choice.options()).filteredOn(StageOption::isPossible).first().isEqualTo(choice.option(expected));
    }

    @ParameterizedTest
    @CsvSource({"9, 15, 9", "9, 15, 12", "9, 15, 15", "12, 12, 12"})
    void whatLiesWithinTheInputRangeTakesTwoInductorsOrFourSwitches(double low, double high, double output) {
        StageChoice choice = StageChoice.of(new Span(low, high), output, LOAD);
        assertThat(choice.best().orElseThrow().topology()).isEqualTo(Topology.SEPIC);
        assertThat(choice.option(Topology.ZETA).isPossible()).isTrue();
        assertThat(choice.option(Topology.FOUR_SWITCH_BUCK_BOOST).isPossible()).isTrue();
        assertThat(choice.option(Topology.BUCK).obstacle()).contains("below the lowest input");
        assertThat(choice.option(Topology.BOOST).obstacle()).contains("above the highest input");
        assertThat(choice.option(Topology.INVERTING_BUCK_BOOST).obstacle()).contains("below 0 V");
        assertThat(choice.option(Topology.CUK).obstacle()).contains("below 0 V");
    }

    /** Duty cycle, current and voltages against the exact steady state of nearly ripple-free ideal parts. */
    @ParameterizedTest
    @CsvSource({"5", "24", "-5", "-24"})
    void figuresAreThoseOfTheSimulatedStage(double output) {
        StageOption option =
                StageChoice.of(new Span(9, 15), output, LOAD).best().orElseThrow();
        ConverterSteadyState low = simulated(option.topology(), 9, output);
        ConverterSteadyState high = simulated(option.topology(), 15, output);
        assertThat(option.dutyCycle().high()).isCloseTo(low.dutyCycle(), within(1e-4));
        assertThat(option.dutyCycle().low()).isCloseTo(high.dutyCycle(), within(1e-4));
        assertThat(option.inductorCurrent())
                .isCloseTo(low.of(low.converter().inductorCurrent()).mean(), within(1e-3 * option.inductorCurrent()));
        assertThat(option.blockedVoltage())
                .isCloseTo(
                        high.of(high.converter().transistorVoltage()).maximum(), within(1e-3 * option.blockedVoltage()))
                .isCloseTo(
                        -high.of(high.converter().rectifierVoltage()).minimum(),
                        within(1e-3 * option.blockedVoltage()));
    }

    private static ConverterSteadyState simulated(Topology topology, double input, double output) {
        Converter converter = PowerStage.of(topology)
                .input(input)
                .inductor(1e-3)
                .outputCapacitor(1e-2)
                .load(Load.resistor(Math.abs(output) / LOAD.high()))
                .drive(Drive.fixedDuty(0.5, 300e3));
        return DutyCycleSearch.forOutput(converter, Math.abs(output)).steadyState();
    }

    /** Efficiency V_out / V_in: S. Franco, Design with Operational Amplifiers, Ex. 11.20; heat is the rest of the power. */
    @Test
    void aLinearRegulatorIsHottestAtTheHighestInput() {
        StageChoice.Linear linear =
                StageChoice.of(new Span(9, 15), 5, LOAD).linear().orElseThrow();
        assertThat(linear.efficiency().low()).isCloseTo(1.0 / 3, within(1e-15));
        assertThat(linear.efficiency().high()).isCloseTo(5.0 / 9, within(1e-15));
        assertThat(linear.heat()).isCloseTo(20, within(1e-12));
        assertThat(StageChoice.of(new Span(9, 15), 9, LOAD).linear()).isPresent();
        assertThat(StageChoice.of(new Span(9, 15), 9.01, LOAD).linear()).isEmpty();
        assertThat(StageChoice.of(new Span(9, 15), -5, LOAD).linear()).isEmpty();
    }

    @Test
    void theSizingBeginsWithWhatTheChoiceKnows() {
        Specification wanted = StageChoice.of(new Span(9, 15), -5, LOAD)
                .sizing()
                .switchingFrequency(300e3)
                .inductorRipple(0.3)
                .outputRipple(0.05)
                .build();
        assertThat(wanted.topology()).isEqualTo(Topology.INVERTING_BUCK_BOOST);
        assertThat(wanted.outputVoltage()).isEqualTo(5);
        assertThat(wanted.input()).isEqualTo(new Span(9, 15));
        assertThat(wanted.load()).isEqualTo(LOAD);
    }

    @Test
    void allFaultsAtOnce() {
        assertThatThrownBy(() -> StageChoice.of(new Span(15, 9), Double.NaN, new Span(0, Double.POSITIVE_INFINITY)))
                .isInstanceOfSatisfying(
                        SizingException.class,
                        e -> assertThat(e.faults())
                                .hasSizeGreaterThanOrEqualTo(3)
                                .anyMatch(fault -> fault.contains("input voltage"))
                                .anyMatch(fault -> fault.contains("load current"))
                                .anyMatch(fault -> fault.contains("output voltage") && fault.contains("NaN")));
        assertThatThrownBy(() -> StageChoice.of(new Span(9, 15), 0, LOAD))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("not 0 V");
    }
}
