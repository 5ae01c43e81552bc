package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.converter.ErrorAmplifier.Branch;
import org.voltsecond.design.RegulatorReader.Limits;
import org.voltsecond.design.RegulatorReader.Sensed;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the tables [drive.compensator] and [drive.current_compensator]. */
final class CompensatorReader {
    private enum Form {
        PROPORTIONAL,
        TYPE_1,
        TYPE_2,
        TYPE_3,
        PARTS
    }

    private static final Map<String, Form> FORMS = new TreeMap<>(Map.of(
            "proportional",
            Form.PROPORTIONAL,
            "type-1",
            Form.TYPE_1,
            "type-2",
            Form.TYPE_2,
            "type-3",
            Form.TYPE_3,
            "parts",
            Form.PARTS));

    private CompensatorReader() {}

    /** Null after a fault that leaves no compensator. */
    static @Nullable Compensator read(Section drive, String key) {
        Section section = drive.requiredTable(key, "kind, and the keys of that kind");
        Form form = section == null ? null : section.choice("kind", FORMS);
        if (section == null || form == null) {
            return null;
        }
        Compensator compensator = read(section, form);
        if (compensator != null) {
            section.finish();
        }
        return compensator;
    }

    private static @Nullable Compensator read(Section section, Form form) {
        return switch (form) {
            case PROPORTIONAL -> Compensator.proportional(section.quantity("gain"), section.quantity("bias"));
            case TYPE_1 -> Compensator.type1(integratorGain(section));
            case TYPE_2 ->
                Compensator.type2(integratorGain(section), section.quantity("zero"), section.quantity("pole"));
            case TYPE_3 -> type3(section);
            case PARTS -> {
                section.fault(
                        "kind",
                        "parts is for voltage-mode and the current modes with a clock; valid here: proportional, type-1, type-2, type-3");
                yield null;
            }
        };
    }

    private static double integratorGain(Section section) {
        return section.quantity("integrator_gain");
    }

    private static @Nullable Compensator type3(Section section) {
        double gain = integratorGain(section);
        List<Double> zeros = section.quantities("zeros");
        List<Double> poles = section.quantities("poles");
        return zeros.isEmpty() || poles.isEmpty()
                ? null
                : Compensator.type3(gain, zeros.get(0), zeros.get(1), poles.get(0), poles.get(1));
    }

    /** Reads a compensator of kind "parts": an operational amplifier with its network. */
    static final class AmplifierReader {
        private static final String KIND = "kind";
        private static final String PARTS = "parts";
        private static final String CONTROL_LIMITS = "control_limits";

        private final Section section;

        private AmplifierReader(Section section) {
            this.section = section;
        }

        /** Whether the compensator of a drive is an amplifier with its parts; nothing is a fault here. */
        static boolean isMeant(Section drive) {
            Section section = drive.peek("compensator");
            return section != null && section.says(KIND, PARTS);
        }

        /** What is read after faults is of no use. */
        static ErrorAmplifier read(Section drive, Sensed sensed) {
            Section section = drive.table("compensator");
            if (section == null) {
                throw new IllegalStateException("ask isMeant() first");
            }
            if (drive.has(CONTROL_LIMITS)) {
                drive.fault(
                        CONTROL_LIMITS,
                        "is not for a compensator of parts; valid: leave the key out, and give the limits of the control voltage as "
                                + "output_limits of the amplifier");
            }
            section.has(KIND);
            ErrorAmplifier amplifier = new AmplifierReader(section)
                    .read(sensed)
                    .withSoftStart(new RegulatorReader.Loop(drive).softStart());
            section.finish();
            return amplifier;
        }

        private ErrorAmplifier read(Sensed sensed) {
            double gain = section.quantity("gain");
            double bandwidth = section.quantity("bandwidth");
            Limits limits = limits();
            double outputResistance = section.quantity("output_resistance");
            return new ErrorAmplifier(
                    sensed.reference(),
                    sensed.divider(),
                    new OperationalAmplifier(gain, bandwidth, limits.low(), limits.high(), outputResistance),
                    section.quantity("input_resistor"),
                    new Branch(section.quantity("feedback_resistor"), section.quantity("feedback_capacitor")),
                    inputBranch(),
                    section.quantity("bypass_capacitor", 0));
        }

        private Branch inputBranch() {
            boolean resistor = section.has("lead_resistor");
            boolean capacitor = section.has("lead_capacitor");
            if (!resistor && !capacitor) {
                return Branch.NONE;
            }
            return new Branch(section.required("lead_resistor"), section.required("lead_capacitor"));
        }

        private Limits limits() {
            Section table = section.requiredTable(
                    "output_limits", "low and high, for example { low = \"0 V\", high = \"5 V\" }");
            if (table == null) {
                return new Limits(Double.NaN, Double.NaN);
            }
            Limits limits = new Limits(table.quantity("low"), table.quantity("high"));
            table.finish();
            if (limits.low() >= limits.high()) {
                table.fault(
                        "low",
                        "must be below high, " + Quantity.brief(limits.high(), Unit.VOLT) + ", but is "
                                + Quantity.brief(limits.low(), Unit.VOLT) + "; valid: low below high");
            }
            return limits;
        }
    }
}
