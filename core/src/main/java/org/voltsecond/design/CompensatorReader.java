package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Compensator;

/** Reads the table [drive.compensator]. */
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
    static @Nullable Compensator read(Section drive) {
        Section section = drive.requiredTable("compensator", "kind, and the keys of that kind");
        Form form = section == null ? null : section.choice("kind", FORMS, null);
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
            case PROPORTIONAL ->
                Compensator.proportional(section.quantity("gain", Kind.GAIN), section.quantity("bias", Kind.LEVEL, 0));
            case TYPE_1 -> Compensator.type1(integratorGain(section));
            case TYPE_2 ->
                Compensator.type2(
                        integratorGain(section),
                        section.quantity("zero", Kind.CORNER),
                        section.quantity("pole", Kind.CORNER));
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
        return section.quantity("integrator_gain", Kind.INTEGRATOR_GAIN);
    }

    private static @Nullable Compensator type3(Section section) {
        double gain = integratorGain(section);
        List<Double> zeros = section.quantities("zeros", Kind.CORNER, 2, 2);
        List<Double> poles = section.quantities("poles", Kind.CORNER, 2, 2);
        return zeros.isEmpty() || poles.isEmpty()
                ? null
                : Compensator.type3(gain, zeros.get(0), zeros.get(1), poles.get(0), poles.get(1));
    }
}
