package org.voltsecond.figures;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.waveform.Signal;

/**
 * The signals of a converter under the names that they have in files.
 *
 * <pre>{@code
 * Signal output = NamedSignals.of(rail).get("output_voltage");
 * double ripple = steady.of(output).peakToPeak(); // 4.403 mV
 * }</pre>
 */
public final class NamedSignals {
    /** The output voltage. */
    public static final String OUTPUT_VOLTAGE = "output_voltage";

    /** The inductor current. */
    public static final String INDUCTOR_CURRENT = "inductor_current";

    /** The current drawn from the source, where it is not what the stage draws. */
    public static final String SOURCE_CURRENT = "source_current";

    private static final Set<String> SUPPLY_SIDE = Set.of(
            SOURCE_CURRENT,
            "input_capacitor_current",
            "input_capacitor_voltage",
            "filter_capacitor_current",
            "filter_capacitor_voltage",
            "damping_current");
    private static final String NODES = "nodes.";

    /** What the names of the inductor currents of interleaved phases begin with; the number of the phase follows, from 0 on. */
    private static final String PHASE = "inductor_currents/";

    private NamedSignals() {}

    /**
     * Returns the signals of what lies between source and stage.
     *
     * @param converter the converter
     * @return currents and voltages of source, input capacitor and input filter by their names, as far as it has them
     */
    public static Map<String, Signal> supplySide(Converter converter) {
        Map<String, Signal> signals = new LinkedHashMap<>(converter.further());
        signals.keySet().retainAll(SUPPLY_SIDE);
        return signals;
    }

    /**
     * Returns a name in words.
     *
     * @param name of a signal, such as "inductor_currents/0"
     * @return what it is called, such as "inductor current of phase 1"
     */
    public static String words(String name) {
        return name.startsWith(PHASE)
                ? "inductor current of phase " + (1 + Integer.parseInt(name.substring(PHASE.length())))
                : name.replace('_', ' ');
    }

    /**
     * Returns the signals that a converter has.
     *
     * @param converter the converter
     * @return each by its name, in the order in which they are told
     */
    public static Map<String, Signal> of(Converter converter) {
        Map<String, Signal> signals = new LinkedHashMap<>();
        signals.put(OUTPUT_VOLTAGE, converter.outputVoltage());
        if (converter.roles().inductor().isPresent()) {
            signals.put(INDUCTOR_CURRENT, converter.inductorCurrent());
        }
        List<Signal> phases = converter.inductorCurrents();
        for (int k = 0; k < phases.size() && phases.size() > 1; k++) {
            signals.put(PHASE + k, phases.get(k));
        }
        if (converter.roles().switchNode().isPresent()) {
            signals.put("switch_node_voltage", converter.switchNode());
        }
        signals.put("transistor_current", converter.transistorCurrent());
        signals.put("transistor_voltage", converter.transistorVoltage());
        if (rectifies(converter)) {
            signals.put("rectifier_current", converter.rectifierCurrent());
            signals.put("rectifier_voltage", converter.rectifierVoltage());
        }
        if (converter.roles().outputCapacitor().isPresent()) {
            signals.put("output_capacitor_current", converter.outputCapacitorCurrent());
        }
        signals.put("input_current", converter.inputCurrent());
        signals.put("load_current", converter.loadCurrent());
        signals.putAll(converter.further());
        if (converter.isRegulated()) {
            signals.put("control_voltage", converter.controlVoltage());
            signals.put("ramp", converter.ramp());
            signals.put("error_voltage", converter.errorVoltage());
        }
        return signals;
    }

    /**
     * Finds a signal by its name: one of those above, or of any part or node of the circuit.
     *
     * @param converter the converter
     * @param name for example "output_voltage", "L2.current", "Q1.voltage" or "nodes.drain"
     * @return the signal; empty if the converter has none of that name
     */
    public static Optional<Signal> find(Converter converter, String name) {
        Signal known = of(converter).get(name);
        if (known != null) {
            return Optional.of(known);
        }
        if (name.startsWith(NODES) && converter.circuit().nodes().contains(name.substring(NODES.length()))) {
            return Optional.of(converter.driven().nodeVoltage(name.substring(NODES.length())));
        }
        for (Port port : converter.circuit().ports()) {
            if (name.equals(port.name() + ".current")) {
                return Optional.of(converter.driven().current(port.name()));
            }
            if (name.equals(port.name() + ".voltage")) {
                return Optional.of(converter.driven().voltageAcross(port.name()));
            }
        }
        return Optional.empty();
    }

    private static boolean rectifies(Converter converter) {
        return !converter.roles().rectifiers().isEmpty()
                || !converter.roles().synchronous().isEmpty();
    }

    static String key(StageSignal signal) {
        return switch (signal) {
            case SWITCH_NODE -> "switch_node_voltage";
            case CAPACITOR_CURRENT -> "output_capacitor_current";
            default -> signal.name().toLowerCase(Locale.ROOT);
        };
    }
}
