package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.at;
import static org.voltsecond.examples.Json.number;
import static org.voltsecond.examples.Json.valueAt;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Structure and values of figures.json. */
class FiguresTest {
    private static final List<String> SIGNALS = List.of(
            "output_voltage",
            "inductor_current",
            "switch_node_voltage",
            "transistor_current",
            "transistor_voltage",
            "rectifier_current",
            "rectifier_voltage",
            "output_capacitor_current",
            "input_current",
            "load_current");
    private static final List<String> MEASURES = List.of("mean", "rms", "minimum", "maximum", "peak_to_peak");

    @TempDir
    Path folder;

    private Map<String, Object> figures(String design) throws IOException {
        return CommandRun.figures(folder, design, "--no-pictures");
    }

    @Test
    void everyKeyOfTheContractIsThere() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK + """
                [transient]
                duration = "1 ms"
                [[transient.change]]
                time = "0.5 ms"
                load = { resistance = "5 Ω" }
                """);
        assertThat(at(figures, "name")).isEqualTo("logic rail");
        assertThat(at(figures, "steady_state.conduction")).isEqualTo("continuous");
        for (String key : List.of("period", "on_time", "off_time", "idle_time", "duty_cycle")) {
            number(figures, "steady_state." + key);
        }
        for (String signal : SIGNALS) {
            for (String measure : MEASURES) {
                number(figures, "steady_state.signals." + signal + "." + measure);
            }
        }
        for (String key : List.of("input", "output", "efficiency", "audit_residual")) {
            number(figures, "steady_state.power." + key);
        }
        for (String role : List.of("transistor", "rectifier", "inductor", "output_capacitor")) {
            number(figures, "steady_state.power.losses." + role);
        }
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        assertThat((List<?>) at(figures, "steady_state.stability.multipliers"))
                .hasSize(2)
                .allSatisfy(pair -> assertThat((List<?>) pair).hasSize(2).hasOnlyElementsOfType(Double.class));
        assertThat(number(figures, "transient.final_time")).isEqualTo(1e-3);
        number(figures, "transient.final_state.inductor_current");
        number(figures, "transient.final_state.output_capacitor_voltage");
        for (String measure : MEASURES) {
            number(figures, "transient.signals.output_voltage." + measure);
            number(figures, "transient.signals.inductor_current." + measure);
        }
        number(figures, "transient.audit_residual");
        assertThat((List<?>) at(figures, "transient.changes"))
                .hasSize(1)
                .allSatisfy(change -> assertThat(
                                ((Map<?, ?>) change).keySet().stream().map(String::valueOf))
                        .contains("time", "droop", "overshoot", "settling_time"));
        assertThat(at(figures, "cautions").toString()).contains("no safety approval");
    }

    /** A series regulator carries the load current from input to output: efficiency V_out / V_in, heat (V_in - V_out) I. */
    @Test
    void aLinearRegulatorInItsPlaceIsToldOf() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK);
        double output = number(figures, "steady_state.signals.output_voltage.mean");
        double current = number(figures, "steady_state.signals.load_current.mean");
        String linear = "steady_state.linear_regulator.";
        assertThat(number(figures, linear + "efficiency")).isCloseTo(output / 12, within(1e-14));
        assertThat(number(figures, linear + "input_power")).isCloseTo(12 * current, within(1e-12));
        assertThat(number(figures, linear + "heat")).isCloseTo((12 - output) * current, within(1e-12));
        assertThat(number(figures, linear + "efficiency")).isLessThan(number(figures, "steady_state.power.efficiency"));
    }

    @Test
    void whereNoneCanBeTheReasonIsGiven() throws IOException {
        Map<String, Object> figures = figures(Designs.IDEAL_BOOST);
        assertThat(valueAt(figures, "steady_state.linear_regulator")).isNull();
        assertThat(at(figures, "steady_state.reason").toString()).contains("neither steps up nor inverts");
        // an output below 0 V is inverted, whatever its load draws
        figures = figures(Designs.IDEAL_BOOST.replace("\"boost\"", "\"inverting-buck-boost\""));
        assertThat(valueAt(figures, "steady_state.linear_regulator")).isNull();
        assertThat(at(figures, "steady_state.reason").toString()).contains("neither steps up nor inverts");
    }

    @Test
    void whatIsNotAskedForIsAbsent() throws IOException {
        assertThat(figures(Designs.BUCK)).doesNotContainKeys("transient", "frequency_response");
    }

    /** 40-digit values of the lossy buck stage after 10,000 periods, worked out with extended precision. */
    @Test
    void tenThousandPeriodsHoldTwelveDigits() throws IOException {
        Map<String, Object> full = figures(Designs.BUCK + "[transient]\nduration = " + 10_000 / 300e3 + "\n");
        assertClose(number(full, "transient.final_state.inductor_current"), 1.779759166237046);
        assertClose(number(full, "transient.final_state.output_capacitor_voltage"), 5.024930872034064);
        Map<String, Object> light =
                figures(Designs.BUCK.replace("2.5 Ω", "100 Ω").replace("0.45", "0.25") + "[transient]\nduration = "
                        + 10_000 / 300e3 + "\n");
        assertThat(number(light, "transient.final_state.inductor_current")).isZero();
        assertClose(number(light, "transient.final_state.output_capacitor_voltage"), 5.816915797197202);
        assertThat(at(light, "steady_state.conduction")).isEqualTo("discontinuous");
    }

    private static void assertClose(double value, double expected) {
        assertThat(value).isCloseTo(expected, within(1e-12 * Math.abs(expected)));
    }

    /** Balances and formulas of the ideal boost stage; D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 6. */
    @Test
    void idealBoostObeysTheTextbook() throws IOException {
        Map<String, Object> figures = figures(Designs.IDEAL_BOOST);
        String signals = "steady_state.signals.";
        assertThat(number(figures, signals + "output_voltage.mean")).isCloseTo(24, within(0.005));
        assertThat(number(figures, signals + "inductor_current.peak_to_peak"))
                .isCloseTo(12 * 0.5 / 250e3 / 47e-6, within(1e-12));
        assertThat(number(figures, signals + "output_voltage.peak_to_peak"))
                .isCloseTo(0.5 * 0.5 / 250e3 / 100e-6, within(2e-5));
        assertThat(number(figures, signals + "inductor_current.mean")).isCloseTo(1, within(1e-3));
        assertThat(number(figures, signals + "transistor_voltage.minimum")).isZero();
        assertThat(number(figures, signals + "rectifier_current.minimum")).isZero();
        assertThat(number(figures, signals + "output_capacitor_current.mean")).isCloseTo(0, within(1e-13));
        assertThat(number(figures, "steady_state.power.efficiency")).isCloseTo(1, within(1e-13));
        assertThat(number(figures, "steady_state.on_time")).isEqualTo(2e-6);
        assertThat(number(figures, "steady_state.on_time")
                        + number(figures, "steady_state.off_time")
                        + number(figures, "steady_state.idle_time"))
                .isCloseTo(number(figures, "steady_state.period"), within(1e-20));
    }

    @Test
    void signsOfTheInvertingStage() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK.replace("\"buck\"", "\"inverting-buck-boost\""));
        assertThat(number(figures, "steady_state.signals.output_voltage.maximum"))
                .isNegative();
        assertThat(number(figures, "steady_state.signals.load_current.maximum")).isNegative();
        assertThat(number(figures, "steady_state.signals.inductor_current.minimum"))
                .isPositive();
        assertThat(number(figures, "steady_state.signals.input_current.mean")).isPositive();
        assertThat(number(figures, "steady_state.power.output")).isPositive();
    }

    @Test
    void whatDoesNotExistIsNullWithAReason() throws IOException {
        Map<String, Object> off = figures(Designs.BUCK.replace("0.45", "0"));
        assertThat(valueAt(off, "steady_state.power.efficiency")).isNull();
        assertThat(at(off, "steady_state.power.reason")).isEqualTo("efficiency: the source delivers no power");
        Map<String, Object> endless = figures(Designs.IDEAL_BOOST.replace("duty_cycle = 0.5", "duty_cycle = 1")
                + "[transient]\nduration = 1e-3\nstart = \"steady-state\"\n");
        assertThat(valueAt(endless, "steady_state")).isNull();
        assertThat(valueAt(endless, "transient")).isNull();
        assertThat(String.valueOf(at(endless, "reason")))
                .contains("steady_state: no periodic steady state")
                .contains("transient: there is no steady state to start from");
    }

    /** A line step that is never over within the run. */
    @Test
    @SuppressWarnings("unchecked")
    void anOutputThatDoesNotSettleHasNoSettlingTime() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK
                + "[transient]\nduration = \"50 µs\"\nstart = \"steady-state\"\n[[transient.change]]\ntime = 0\n"
                + "input = { voltage = \"15 V\" }\n");
        Map<String, Object> change = (Map<String, Object>) ((List<?>) at(figures, "transient.changes")).get(0);
        assertThat(change.get("settling_time")).isNull();
        assertThat(String.valueOf(change.get("reason"))).contains("has not settled");
        assertThat(number(change, "level_before")).isCloseTo(5.025, within(0.003));
        assertThat(number(change, "level_after")).isCloseTo(6.335, within(0.001));
        // on its way from one level to the other it passes neither
        assertThat(number(change, "overshoot")).isZero();
    }

    @Test
    void aConstantCurrentIsCautionedAgainst() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK.replace("resistance = \"2.5 Ω\"", "current = \"2 A\""));
        assertThat(at(figures, "cautions").toString())
                .contains("constant-current load draws its current at any output");
        assertThat(number(figures, "steady_state.signals.load_current.peak_to_peak"))
                .isZero();
    }
}
