package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.stage.Load;

/** Reads a load, of the design or of a change: a resistance or a constant current, never both. */
final class LoadReader {
    private LoadReader() {}

    static @Nullable Load read(Section section) {
        boolean resistor = section.has("resistance");
        boolean current = section.has("current");
        if (resistor == current) {
            section.fault(
                    (resistor ? "both resistance and current are given" : "neither resistance nor current is given")
                            + "; valid: one of the two, for example resistance = " + section.example("resistance"));
        }
        double ohm = section.quantity("resistance");
        double ampere = section.quantity("current");
        section.finish();
        if (resistor == current || !Double.isFinite(resistor ? ohm : ampere)) {
            return null;
        }
        return resistor ? Load.resistor(ohm) : Load.current(ampere);
    }

    /** Reads the slew rate of a load step; infinite if there is none. */
    static double slewRate(Section section) {
        if (section.has("slew_rate") && !section.has("current")) {
            section.fault(
                    "slew_rate",
                    "is given for a load without constant current; valid: current as well, for example "
                            + section.example("current"));
        }
        return section.quantity("slew_rate", Double.POSITIVE_INFINITY);
    }
}
