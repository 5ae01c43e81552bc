package org.voltsecond.design;

import java.util.Map;
import java.util.TreeMap;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;

/** Reads the table [protection]. */
final class ProtectionReader {
    private static final Map<String, Rectification> RECTIFICATIONS = new TreeMap<>(Map.of(
            "forced", Rectification.FORCED,
            "diode-emulation", Rectification.DIODE_EMULATION,
            "diode-emulation-at-start", Rectification.DIODE_EMULATION_AT_START));

    private final Section section;

    private ProtectionReader(Section section) {
        this.section = section;
    }

    static Protection read(Section root) {
        Section section = root.table("protection");
        return section == null ? Protection.none() : new ProtectionReader(section).read();
    }

    private Protection read() {
        Protection protection = Protection.none().withMinimumOnTime(section.quantity("minimum_on_time"));
        protection = currentLimit(protection);
        protection = hiccup(protection);
        protection = lockout(protection);
        if (section.has("skip_level")) {
            protection = protection.withPulseSkipping(section.quantity("skip_level"));
        }
        protection = rectification(protection);
        section.finish();
        return protection;
    }

    private Protection currentLimit(Protection protection) {
        double blanking = section.quantity("blanking_time");
        if (section.has("current_limit")) {
            return protection.withCurrentLimit(section.quantity("current_limit"), blanking);
        }
        requireCurrentLimit("blanking_time");
        requireCurrentLimit("hiccup");
        return protection;
    }

    private void requireCurrentLimit(String key) {
        if (section.has(key)) {
            section.fault(
                    key,
                    "is given without a current limit; valid: current_limit as well, for example "
                            + section.example("current_limit"));
        }
    }

    private Protection hiccup(Protection protection) {
        Section table = section.table("hiccup");
        if (table == null) {
            return protection;
        }
        int pulses = table.whole("pulses");
        double pause = table.quantity("pause");
        table.finish();
        return protection.withHiccup(pulses, pause);
    }

    private Protection lockout(Protection protection) {
        Section table = section.table("undervoltage_lockout");
        if (table == null) {
            return protection;
        }
        double stop = table.quantity("stop");
        double start = table.quantity("start");
        table.finish();
        return protection.withUndervoltageLockout(stop, start);
    }

    private Protection rectification(Protection protection) {
        Rectification how = section.choice("rectification", RECTIFICATIONS);
        double dead = section.quantity("dead_time");
        return how == null ? protection : protection.withSynchronousRectification(how, dead);
    }
}
