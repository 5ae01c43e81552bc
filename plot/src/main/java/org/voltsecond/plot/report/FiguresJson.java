package org.voltsecond.plot.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.Writer;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.StageLosses;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** Writes figures.json: SI units, plain numbers, null with a reason for what does not exist. */
final class FiguresJson {
    private final Findings outcome;

    private FiguresJson(Findings outcome) {
        this.outcome = outcome;
    }

    static void write(Findings outcome, Writer writer) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(writer)) {
            json.setPrettyPrinter(new DefaultPrettyPrinter());
            new FiguresJson(outcome).write(json);
            json.writeRaw('\n');
        }
    }

    private void write(JsonGenerator json) throws IOException {
        try (JsonObject root = JsonObject.in(json)) {
            root.text("name", outcome.design().name());
            writeSteadyState(root);
            Result<FrequencyOutcome> response = outcome.frequencyResponse();
            if (response != null) {
                FrequencyFiles.writeFigures(root, response);
            }
            writeTransient(root);
            writeChecks(root);
            BenchJson.write(outcome, root);
            StudyJson.write(outcome.studies(), root);
            root.array("cautions", array -> {
                for (String caution : Cautions.of(outcome)) {
                    array.writeString(caution);
                }
            });
        }
    }

    private void writeSteadyState(JsonObject root) throws IOException {
        if (!outcome.steadyState().exists()) {
            root.missing("steady_state", outcome.steadyState().reason());
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        try (JsonObject object = root.object("steady_state")) {
            object.text("conduction", steady.conduction().name().toLowerCase(Locale.ROOT));
            object.number("period", steady.period());
            object.number("on_time", steady.onTime());
            object.number("off_time", steady.offTime());
            object.number("idle_time", steady.idleTime());
            object.number("duty_cycle", steady.dutyCycle());
            writeSignals(object, steady);
            writePower(object, steady);
            writeLinear(object, LinearInstead.of(steady));
            writeStability(object, steady);
        }
    }

    private void writeSignals(JsonObject object, ConverterSteadyState steady) throws IOException {
        try (JsonObject list = object.object("signals")) {
            for (Map.Entry<String, Signal> entry :
                    StageSignals.of(outcome.converter()).entrySet()) {
                writeMeasures(list, entry.getKey(), steady.of(entry.getValue()));
            }
        }
    }

    private static void writeMeasures(JsonObject list, String key, Waveform waveform) throws IOException {
        try (JsonObject measures = list.object(key)) {
            measures.number("mean", waveform.mean());
            measures.number("rms", waveform.rms());
            measures.number("minimum", waveform.minimum());
            measures.number("maximum", waveform.maximum());
            measures.number("peak_to_peak", waveform.peakToPeak());
        }
    }

    private static void writePower(JsonObject object, ConverterSteadyState steady) throws IOException {
        EnergyAudit audit = steady.audit();
        StageLosses losses = steady.losses();
        try (JsonObject power = object.object("power")) {
            power.number("input", steady.inputPower());
            power.number("output", steady.outputPower());
            power.number("efficiency", steady.efficiency().orElse(Double.NaN), "the source delivers no power");
            try (JsonObject roles = power.object("losses")) {
                roles.number("transistor", losses.transistor());
                roles.number("rectifier", losses.rectifier());
                roles.number("inductor", losses.inductor());
                roles.number("output_capacitor", losses.outputCapacitor());
            }
            power.number("audit_residual", audit.residual());
        }
    }

    private static void writeLinear(JsonObject object, Result<LinearInstead> found) throws IOException {
        if (!found.exists()) {
            object.missing("linear_regulator", found.reason());
            return;
        }
        try (JsonObject linear = object.object("linear_regulator")) {
            linear.number("efficiency", found.get().efficiency());
            linear.number("input_power", found.get().inputPower());
            linear.number("heat", found.get().heat());
        }
    }

    private static void writeStability(JsonObject object, ConverterSteadyState steady) throws IOException {
        try (JsonObject stability = object.object("stability")) {
            stability.array("multipliers", array -> {
                for (var multiplier : steady.periodic().multipliers()) {
                    array.writeStartArray();
                    array.writeNumber(multiplier.real());
                    array.writeNumber(multiplier.imaginary());
                    array.writeEndArray();
                }
            });
            stability.flag("stable", steady.periodic().isStable());
        }
    }

    private void writeTransient(JsonObject root) throws IOException {
        Result<TransientOutcome> found = outcome.transientRun();
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            root.missing("transient", found.reason());
            return;
        }
        TransientOutcome result = found.get();
        ConverterTransient run = result.run();
        try (JsonObject object = root.object("transient")) {
            object.number("final_time", run.finalTime());
            try (JsonObject state = object.object("final_state")) {
                state.number("inductor_current", run.finalInductorCurrent());
                state.number("output_capacitor_voltage", run.finalCapacitorVoltage());
            }
            try (JsonObject signals = object.object("signals")) {
                writeMeasures(signals, StageSignals.OUTPUT_VOLTAGE, result.outputVoltage());
                writeMeasures(signals, StageSignals.INDUCTOR_CURRENT, result.inductorCurrent());
            }
            writeStart(object, result.start());
            object.array("changes", array -> {
                for (ChangeFigures change : result.changes()) {
                    writeChange(array, change);
                }
            });
            object.number("audit_residual", result.audit().residual());
        }
    }

    private static void writeStart(JsonObject object, @Nullable StartFigures start) throws IOException {
        if (start == null) {
            return;
        }
        try (JsonObject figures = object.object("start")) {
            number(figures, "level", start.level());
            number(figures, "overshoot", start.overshoot());
            figures.number("peak_inductor_current", start.peakInductorCurrent());
            number(figures, "settling_time", start.settlingTime());
            number(figures, "settling_band", start.settlingBand());
        }
    }

    private static void writeChange(JsonGenerator json, ChangeFigures change) throws IOException {
        try (JsonObject object = JsonObject.in(json)) {
            object.number("time", change.time());
            object.number("level_before", change.levelBefore());
            number(object, "level_after", change.levelAfter());
            object.number("droop", change.droop());
            object.number("overshoot", change.overshoot());
            object.number("peak_time", change.peakTime());
            object.number("peak_inductor_current", change.peakInductorCurrent());
            number(object, "settling_time", change.settlingTime());
            number(object, "recovery_time", change.recoveryTime());
            number(object, "settling_band", change.settlingBand());
            writeDutyCycle(object, change.dutyCycle());
        }
    }

    private static void writeDutyCycle(JsonObject object, Result<DutyFigures> found) throws IOException {
        if (!found.exists()) {
            object.missing("duty_cycle", found.reason());
            return;
        }
        try (JsonObject duty = object.object("duty_cycle")) {
            duty.number("minimum", found.get().minimum());
            duty.number("maximum", found.get().maximum());
            duty.number("last", found.get().last());
        }
    }

    private void writeChecks(JsonObject root) throws IOException {
        if (outcome.design().limits().isEmpty()) {
            return;
        }
        root.array("checks", array -> {
            for (LimitCheck check : LimitCheck.of(outcome)) {
                try (JsonObject object = JsonObject.in(array)) {
                    object.text("limit", check.limit().key());
                    object.number("bound", check.bound());
                    number(object, "value", check.value());
                    if (check.isKnown()) {
                        object.flag("met", check.isMet());
                        object.number("margin", check.margin(), "the value does not exist");
                    }
                }
            }
        });
    }

    private static void number(JsonObject object, String key, Result<Double> found) throws IOException {
        object.number(key, found.exists() ? found.get() : Double.NaN, found.reason());
    }
}
