package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.FrequencyPlan;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/** What a frequency response tells, and why a rail may have no loop gain. */
class FrequencyOutcomeTest {
    private static FrequencyOutcome behind(double onResistance) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(onResistance)
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                        .withMaximumDutyCycle(0.95));
        return FrequencyOutcome.of(rail.steadyState(), new FrequencyPlan(100, kilo(50), 10));
    }

    /** A transistor of a kilohm leaves nothing to regulate: the loop does not act, and it is not said that there is none. */
    @Test
    void aRailAtItsLongestPulseHasNoLoopThatActs() {
        FrequencyOutcome response = behind(1000);
        assertThat(response.hasLoop()).isFalse();
        assertThat(response.whyOpen()).isEqualTo("the loop does not act, since the duty cycle is at its maximum");
        assertThat(behind(milli(80)).hasLoop()).isTrue();
    }

    /** A filter that rings: the impedances at the input stand in the file of curves and in the figures, with a proposal. */
    @Test
    void whatLiesBeforeTheStageIsHeldAgainstItsInput() throws Exception {
        Converter rail = PowerStage.buck()
                .input(12)
                .with(new InputFilter(micro(47), milli(20), micro(4.7), null))
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(1))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        FrequencyOutcome response = FrequencyOutcome.of(rail.steadyState(), new FrequencyPlan(100, kilo(50), 10));
        assertThat(response.whyOpen()).isEqualTo("the duty cycle is fixed, so that no loop is closed");
        StringWriter curves = new StringWriter();
        FrequencyFiles.writeCsv(response, curves);
        assertThat(curves.toString().lines().findFirst().orElseThrow())
                .startsWith("frequency (Hz),loop_gain (dB),loop_gain_phase (degrees),control_to_output (dB)")
                .contains("output_impedance (dB re 1 Ω)")
                .endsWith("source_impedance (dB re 1 Ω),source_impedance_phase (degrees),"
                        + "input_impedance_open_loop (dB re 1 Ω),input_impedance_open_loop_phase (degrees)");
        InputOutcome input = response.input().get();
        assertThat(input.rows())
                .containsKeys("source impedance", "input, open loop", "input damping")
                .doesNotContainKey("input, closed loop");
        assertThat(input.rows().get("input, open loop")).startsWith("not met: the impedance of the source is above");
        assertThat(input.rows().get("input damping")).endsWith("stable, as simulated");
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text);
                JsonObject root = JsonObject.in(new FigureSink.Json(json))) {
            FrequencyFiles.writeFigures(root, Result.of(response));
        }
        assertThat(text.toString())
                .contains("\"loop_gain\":null")
                .contains("\"input\":{\"source_impedance\":{\"peak\":500.0")
                .contains("\"open_loop\":{\"separation\":-", "\"met\":false", "\"damping\":{\"capacitance\":")
                .contains("\"met\":true", "\"multipliers\":[[");
    }
}
