package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.Map;
import org.voltsecond.converter.Converter;
import org.voltsecond.waveform.Signal;

/** The signals of a stage under the names that they have in the files. */
final class StageSignals {
    static final String OUTPUT_VOLTAGE = "output_voltage";
    static final String INDUCTOR_CURRENT = "inductor_current";

    private StageSignals() {}

    static Map<String, Signal> of(Converter converter) {
        Map<String, Signal> signals = new LinkedHashMap<>();
        signals.put(OUTPUT_VOLTAGE, converter.outputVoltage());
        signals.put(INDUCTOR_CURRENT, converter.inductorCurrent());
        signals.put("switch_node_voltage", converter.switchNode());
        signals.put("transistor_current", converter.transistorCurrent());
        signals.put("transistor_voltage", converter.transistorVoltage());
        signals.put("rectifier_current", converter.rectifierCurrent());
        signals.put("rectifier_voltage", converter.rectifierVoltage());
        signals.put("output_capacitor_current", converter.outputCapacitorCurrent());
        signals.put("input_current", converter.inputCurrent());
        signals.put("load_current", converter.loadCurrent());
        if (converter.isRegulated()) {
            signals.put("control_voltage", converter.controlVoltage());
            signals.put("ramp", converter.ramp());
            signals.put("error_voltage", converter.errorVoltage());
        }
        return signals;
    }
}
