package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The frequency response that a design file asks for.
 *
 * <pre>{@code
 * FrequencyPlan plan = new FrequencyPlan(100, kilo(50), 20);
 * int size = FrequencyResponse.decades(plan.from(), plan.to(), plan.pointsPerDecade()).length; // 55
 * }</pre>
 *
 * @param from lowest frequency, Hz; more than 0
 * @param to highest frequency, Hz; above the lowest
 * @param pointsPerDecade how many points in a decade at least; at least 1
 */
public record FrequencyPlan(double from, double to, int pointsPerDecade) {

    /** Reads the table of the frequency response. */
    static final class Reader {
        private static final String TABLE = "frequency_response";
        private static final int USUAL_POINTS = 50;
        private static final double MOST_POINTS = 20_000;

        private Reader() {}

        /** Null if none is asked for. */
        static @Nullable FrequencyPlan read(Section root) {
            Section table = root.table(TABLE);
            if (table == null) {
                return null;
            }
            double from = table.quantity("from");
            double to = table.quantity("to");
            int points = table.whole("points_per_decade");
            table.finish();
            if (to <= from) {
                table.fault(
                        "to",
                        "must be above from = " + Quantity.brief(from, Unit.HERTZ) + " but is "
                                + Quantity.brief(to, Unit.HERTZ) + "; valid: a higher frequency");
            } else if (from > 0 && points * Math.log10(to / from) > MOST_POINTS) {
                table.fault(
                        "points_per_decade",
                        "asks for more than " + (int) MOST_POINTS + " points in all; valid: fewer, for example "
                                + USUAL_POINTS);
            }
            return new FrequencyPlan(from, to, points);
        }
    }
}
