package org.voltsecond.design;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.design.Key.Kind.Range;
import org.voltsecond.figures.Limit;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the table [limits]. */
final class LimitsReader {
    private static final List<Limit> OF_HEAT = List.of(
            Limit.JUNCTION_TEMPERATURE,
            Limit.WINDING_TEMPERATURE,
            Limit.CAPACITOR_TEMPERATURE,
            Limit.RIPPLE_CURRENT_SHARE);

    private LimitsReader() {}

    /** Empty if there is no such table. */
    static Map<Limit, Double> read(Section root) {
        Map<Limit, Double> limits = new EnumMap<>(Limit.class);
        Section section = root.table("limits");
        if (section == null) {
            return limits;
        }
        for (Limit limit : Limit.values()) {
            double value = section.quantity(limit.key());
            if (Double.isFinite(value)) {
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
        for (Limit limit : List.of(Limit.INPUT_CAPACITOR_RMS, Limit.INPUT_CAPACITOR_RIPPLE)) {
            if (limits.containsKey(limit) && !root.has("input_capacitor")) {
                section.fault(
                        limit.key(),
                        "is about an input capacitor, but the design has none; valid: give the table [input_capacitor], or leave "
                                + "this limit out");
                limits.remove(limit);
            }
        }
        Section emissions = root.peek(StudyPlans.EmissionReader.TABLE);
        if (limits.containsKey(Limit.EMISSION_MARGIN) && (emissions == null || !emissions.has("limits"))) {
            section.fault(
                    Limit.EMISSION_MARGIN.key(),
                    "is about emissions against limits, but the design asks for none; valid: give the table [emissions] with limits, or "
                            + "leave this limit out");
            limits.remove(Limit.EMISSION_MARGIN);
        }
        need(root, section, limits, "heat", OF_HEAT, "temperatures and ripple currents, which need the table [heat]");
        need(root, section, limits, "losses", List.of(Limit.FLUX_DENSITY), "cores, which need the table [losses]");
        section.finish();
        return limits;
    }

    private static void need(
            Section root, Section section, Map<Limit, Double> limits, String table, List<Limit> of, String about) {
        for (Limit limit : of) {
            if (limits.containsKey(limit) && !root.has(table)) {
                section.fault(
                        limit.key(),
                        "is about " + about
                                + ", but the design has none; valid: give that table, or leave this limit out");
                limits.remove(limit);
            }
        }
    }

    /** Its line of the table of keys. */
    static Key described(Limit limit) {
        boolean share = limit.unit() == Unit.ONE;
        return new Key(
                limit.key(),
                List.of(),
                share ? "number" : limit.unit().symbol(),
                (share ? Range.SHARE : Range.POSITIVE).words(),
                "not checked",
                example(limit),
                "The " + limit + ", at " + (limit.isLeast() ? "least." : "most."));
    }

    private static String example(Limit limit) {
        return switch (limit) {
            case OUTPUT_RIPPLE -> "\"50 mV\"";
            case LOWEST_OUTPUT_VOLTAGE -> "\"4.9 V\"";
            case HIGHEST_OUTPUT_VOLTAGE -> "\"5.25 V\"";
            case PEAK_INDUCTOR_CURRENT -> "\"4 A\"";
            case TRANSISTOR_VOLTAGE, RECTIFIER_VOLTAGE -> "\"30 V\"";
            case DROOP, OVERSHOOT -> "\"0.2 V\"";
            case SETTLING_TIME -> "\"500 µs\"";
            case START_TIME -> "\"3 ms\"";
            case INPUT_CAPACITOR_RMS -> "\"1.5 A\"";
            case INPUT_CAPACITOR_RIPPLE -> "\"200 mV\"";
            case SOURCE_CURRENT_RIPPLE -> "\"20 mA\"";
            case PEAK_SOURCE_CURRENT -> "\"10 A\"";
            case INDUCTANCE_LEFT, CAPACITANCE_LEFT -> "0.7";
            case JUNCTION_TEMPERATURE -> "\"125 °C\"";
            case WINDING_TEMPERATURE, CAPACITOR_TEMPERATURE -> "\"105 °C\"";
            case RIPPLE_CURRENT_SHARE -> "0.8";
            case FLUX_DENSITY -> "\"300 mT\"";
            case EFFICIENCY -> "0.9";
            case EMISSION_MARGIN -> "\"6 dB\"";
        };
    }
}
