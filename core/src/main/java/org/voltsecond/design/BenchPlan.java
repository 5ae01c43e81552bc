package org.voltsecond.design;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.CaptureChoice;
import org.voltsecond.bench.CaptureException;
import org.voltsecond.bench.CaptureFile;
import org.voltsecond.converter.Converter;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * A capture to lay beside the steady state or the transient.
 *
 * <pre>{@code
 * BenchPlan plan = new BenchPlan("capture.csv", "switch_node_voltage", false,
 *         Capture.sampled("node", Unit.VOLT, 0, 1e-8, samples));
 * double end = plan.capture().endTime(); // 39.99 µs
 * }</pre>
 *
 * @param file the file as the design names it
 * @param signal the signal that was captured, under its name in the figures
 * @param againstTransient true to compare with the transient, false with the steady state
 * @param capture what was measured
 */
public record BenchPlan(String file, String signal, boolean againstTransient, Capture capture) {

    /** Reads the table [bench] with the capture that it names. */
    static final class Reader {
        /** Names as in the figures, with their units. */
        static final Map<String, Unit> SIGNALS = new TreeMap<>(Map.ofEntries(
                Map.entry("output_voltage", Unit.VOLT),
                Map.entry("inductor_current", Unit.AMPERE),
                Map.entry("switch_node_voltage", Unit.VOLT),
                Map.entry("transistor_current", Unit.AMPERE),
                Map.entry("transistor_voltage", Unit.VOLT),
                Map.entry("rectifier_current", Unit.AMPERE),
                Map.entry("rectifier_voltage", Unit.VOLT),
                Map.entry("output_capacitor_current", Unit.AMPERE),
                Map.entry("input_current", Unit.AMPERE),
                Map.entry("load_current", Unit.AMPERE),
                Map.entry("control_voltage", Unit.VOLT),
                Map.entry("ramp", Unit.VOLT),
                Map.entry("error_voltage", Unit.VOLT)));

        private static final Map<String, Boolean> AGAINST =
                new TreeMap<>(Map.of("steady-state", false, "transient", true));

        private static final Set<String> OF_REGULATORS = Set.of("control_voltage", "ramp", "error_voltage");

        private Reader() {}

        /**
         * Null if there is no such table, or after faults. Files are sought from the folder of the design on.
         *
         * @param converter what is compared; null if it could not be read
         */
        static @Nullable BenchPlan read(
                Section root, @Nullable DrivePlan drive, @Nullable Converter converter, Path folder) {
            Section section = root.table("bench");
            if (section == null) {
                return null;
            }
            String file = section.text("file", "");
            String signal = String.valueOf(section.given("signal"));
            Unit unit = unit(section, signal, converter);
            String channel = section.label("channel");
            double interval = section.quantity("sample_interval");
            boolean run = Boolean.TRUE.equals(section.choice("against", AGAINST));
            section.finish();
            if (run && !root.has("transient")) {
                section.fault(
                        "against",
                        "is \"transient\" but the design has no table [transient]; valid: \"steady-state\", or that table "
                                + "with a duration");
                return null;
            }
            if (drive instanceof FixedDuty && OF_REGULATORS.contains(signal)) {
                section.fault("signal", "a fixed duty cycle has no " + signal + "; valid: a signal of the power stage");
                return null;
            }
            if (unit != null
                    && converter != null
                    && NamedSignals.find(converter, signal).isEmpty()) {
                section.fault(
                        "signal",
                        "this converter has no " + signal + "; valid: "
                                + String.join(", ", NamedSignals.of(converter).keySet())
                                + ", or of a part, for example \"L1.current\"");
                return null;
            }
            if (file.isBlank()) {
                section.fault("file", "missing; valid: the path of a capture, for example \"capture.csv\"");
                return null;
            }
            if (unit == null) {
                return null;
            }
            Capture capture = read(section, file, new CaptureChoice(unit, channel, interval), folder);
            return capture == null ? null : new BenchPlan(file, signal, run, capture);
        }

        /** That of the signal; null after a fault. */
        private static @Nullable Unit unit(Section section, String signal, @Nullable Converter converter) {
            if (converter == null || SIGNALS.containsKey(signal) || !section.has("signal")) {
                return section.choice("signal", SIGNALS);
            }
            Signal found = NamedSignals.find(converter, signal).orElse(null);
            if (found == null && signal.contains(".")) {
                section.fault(
                        "signal",
                        "no signal of a part or node: \"" + Printable.of(signal) + "\"; valid: for example "
                                + "\"L1.current\", \"Q1.voltage\", \"nodes."
                                + converter.circuit().nodes().get(0) + "\"");
                return null;
            }
            return found == null
                    ? section.choice("signal", SIGNALS)
                    : signal.endsWith("current") ? Unit.AMPERE : Unit.VOLT;
        }

        private static @Nullable Capture read(Section section, String file, CaptureChoice choice, Path folder) {
            try {
                return CaptureFile.read(folder.resolve(file), choice);
            } catch (InvalidPathException e) {
                section.fault("file", "no path: \"" + Printable.of(file) + "\"; valid: for example \"capture.csv\"");
            } catch (CaptureException e) {
                section.fault("file", String.valueOf(e.getMessage()));
            }
            return null;
        }
    }
}
