package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.stage.Load;

/** Reads a load, of the design or of a change: a resistance, a constant current or both, or one of the other kinds alone. */
final class LoadReader {
    /** The kinds of load that stand alone, by the key that tells each. */
    private static final Map<String, Function<Section, @Nullable Load>> CURVES = new TreeMap<>(Map.of(
            "power", LoadReader::power,
            "light_emitting_diodes", LoadReader::diodes,
            "battery", LoadReader::battery));

    private LoadReader() {}

    static @Nullable Load read(Section section) {
        List<String> given = Stream.of("resistance", "current", "power", "light_emitting_diodes", "battery")
                .filter(section::has)
                .toList();
        boolean linear = given.size() > 0 && !CURVES.containsKey(given.get(given.size() - 1));
        if (!linear && given.size() != 1) {
            section.fault((given.isEmpty() ? "no load is given" : String.join(" and ", given) + " are given")
                    + "; valid: resistance, current or both, or one of " + CURVES.keySet() + " alone, for example "
                    + "resistance = " + section.example("resistance"));
        }
        Load curve = curve(section);
        double ohm = section.quantity("resistance", Double.NaN);
        double ampere = section.quantity("current", Double.NaN);
        section.finish();
        return linear ? linear(section, ohm, ampere) : given.size() == 1 ? curve : null;
    }

    /** A load of a kind that stands alone; null where there is none, and after a fault. */
    private static @Nullable Load curve(Section section) {
        Load curve = null;
        for (Map.Entry<String, Function<Section, @Nullable Load>> kind : CURVES.entrySet()) {
            curve = section.has(kind.getKey()) ? kind.getValue().apply(section) : curve;
        }
        if (!section.has("power") && section.has("minimum_voltage")) {
            section.fault("minimum_voltage", "is given for a load without power; valid: power as well");
        }
        return curve;
    }

    /** A load that is a part of a custom circuit; null after a fault. */
    static @Nullable Load part(Section part) {
        List<String> given = CURVES.keySet().stream().filter(part::has).toList();
        if (given.size() != 1) {
            part.fault((given.isEmpty() ? "no load is given" : String.join(" and ", given) + " are given")
                    + "; valid: one of " + CURVES.keySet() + "; for others take a resistor or a current-source");
        }
        Load curve = curve(part);
        return given.size() == 1 ? curve : null;
    }

    private static @Nullable Load linear(Section section, double ohm, double ampere) {
        boolean read =
                section.has("resistance") == Double.isFinite(ohm) && section.has("current") == Double.isFinite(ampere);
        if (!read) {
            return null;
        }
        return Double.isNaN(ampere)
                ? Load.resistor(ohm)
                : Double.isNaN(ohm) ? Load.current(ampere) : Load.of(ohm, ampere);
    }

    private static @Nullable Load power(Section section) {
        double watt = section.quantity("power", Double.NaN);
        double volt = section.quantity("minimum_voltage");
        return watt > 0 && volt > 0 ? Load.power(watt, volt) : null;
    }

    private static @Nullable Load diodes(Section section) {
        Section table = section.table("light_emitting_diodes");
        if (table == null) {
            return null;
        }
        int number = table.whole("number");
        double drop = table.quantity("forward_drop");
        double ohm = table.quantity("resistance");
        table.finish();
        return number > 0 && drop > 0 && ohm >= 0 ? Load.lightEmittingDiodes(number, drop, ohm) : null;
    }

    private static @Nullable Load battery(Section section) {
        Section table = section.table("battery");
        if (table == null) {
            return null;
        }
        double volt = table.quantity("voltage");
        double ohm = table.quantity("resistance");
        table.finish();
        return volt > 0 && ohm > 0 ? Load.battery(volt, ohm) : null;
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
