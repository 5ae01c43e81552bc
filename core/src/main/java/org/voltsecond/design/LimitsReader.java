package org.voltsecond.design;

import java.util.EnumMap;
import java.util.Map;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the table [limits]. */
final class LimitsReader {
    private LimitsReader() {}

    /** Empty if there is no such table. */
    static Map<Limit, Double> read(Section root) {
        Map<Limit, Double> limits = new EnumMap<>(Limit.class);
        Section section = root.table("limits");
        if (section == null) {
            return limits;
        }
        for (Limit limit : Limit.values()) {
            double value = section.quantity(limit.key(), limit.kind(), Double.NaN);
            if (limit.kind().range().contains(value)) {
                limits.put(limit, value);
            }
        }
        double lowest = limits.getOrDefault(Limit.LOWEST_OUTPUT_VOLTAGE, 0.0);
        double highest = limits.getOrDefault(Limit.HIGHEST_OUTPUT_VOLTAGE, Double.POSITIVE_INFINITY);
        if (lowest >= highest) {
            section.fault(
                    Limit.LOWEST_OUTPUT_VOLTAGE.key(),
                    "must be below highest_output_voltage, but " + Quantity.brief(lowest, Unit.VOLT) + " and "
                            + Quantity.brief(highest, Unit.VOLT) + " are given; valid: more than 0 V and below "
                            + Quantity.brief(highest, Unit.VOLT));
        }
        section.finish();
        return limits;
    }
}
