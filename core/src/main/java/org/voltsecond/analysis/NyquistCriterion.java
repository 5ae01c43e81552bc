package org.voltsecond.analysis;

import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.LoopCurve.Turn;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Counts the disturbances that grow, as the gain is raised or lowered, by the passages of the curve through the negative real
 * axis: with a gain times k the loop is at its limit where the curve is -1 / k. A passage stands for a pair of disturbances, the
 * mirror image at negative frequencies included: where the phase falls through -180 degrees the pair begins to grow as the gain
 * rises past the limit, where it rises there the pair ceases to grow (H. Nyquist, Regeneration theory, Bell System
 * Technical Journal 11(1):126-147, 1932, from memory).
 *
 * <p>How many grow at the gain that the loop has is known from the multipliers, and so poles of the open loop to the right need not be
 * known. Without multipliers the open loop is taken as stable, and the count begins at no gain at all.
 */
final class NyquistCriterion {
    private static final double HALF_TURN = 180;

    private final List<Turn> turns;
    private final int growing;
    /** Those that no passage at a frequency above zero can stop: they do not swing. */
    private final int drifting;

    private final String range;

    private NyquistCriterion(List<Turn> turns, int growing, int drifting, String range) {
        this.turns = turns;
        this.growing = growing;
        this.drifting = drifting;
        this.range = range;
    }

    /**
     * Works out the margins.
     *
     * @param response the loop gain
     * @param curve its crossings
     * @param growth how many disturbances grow; null if the open loop is stable and the curve is to tell
     */
    static Margins margins(FrequencyResponse response, LoopCurve curve, @Nullable Growth growth) {
        String range = "between " + Quantity.brief(response.frequency(0), Unit.HERTZ) + " and "
                + Quantity.brief(response.frequency(response.size() - 1), Unit.HERTZ);
        NyquistCriterion count = growth == null
                ? new NyquistCriterion(curve.turns(), counted(response, curve.turns()), 0, range)
                : new NyquistCriterion(
                        curve.turns().stream()
                                .filter(turn -> turn.frequency() <= growth.highest())
                                .toList(),
                        growth.growing(),
                        growth.drifting(),
                        range);
        boolean stable = count.growing == 0;
        // an unstable loop with too much gain is told so at the gain margin, which then is negative
        Margins.Bound above = count.rise();
        Margins.Bound below = count.fall();
        return new Margins(stable, curve.crossovers(), stable ? above : below, stable ? below : above);
    }

    /**
     * The disturbances that grow by the multipliers of a steady state.
     *
     * @param growing how many do
     * @param drifting how many of them do not swing: they grow to one side
     * @param highest up to which frequency the loop gain is one of its own, Hz: half the switching frequency; above it the
     *     curve shows images of what is below
     */
    record Growth(int growing, int drifting, double highest) {
        static Growth of(SteadyState steady) {
            int growing = 0;
            int drifting = 0;
            for (var multiplier : steady.multipliers()) {
                boolean grows = !(multiplier.magnitude() < 1);
                growing += grows ? 1 : 0;
                drifting += grows && multiplier.imaginary() == 0 && multiplier.real() > 0 ? 1 : 0;
            }
            double switching = steady.circuit().isClocked() ? steady.circuit().clockPeriod() : steady.period();
            return new Growth(growing, drifting, 0.5 / switching);
        }
    }

    /** From no gain up to the gain that the loop has; a phase that begins beyond -180 degrees passed there already. */
    private static int counted(FrequencyResponse response, List<Turn> turns) {
        double first = Math.toDegrees(response.value(0).argument());
        int count = first > HALF_TURN / 2 && first < HALF_TURN && response.magnitude(0) > 1 ? 2 : 0;
        for (Turn turn : turns) {
            count += turn.magnitude() <= 1 ? 0 : turn.falling() ? 2 : -2;
        }
        return Math.max(0, count);
    }

    private Margins.Bound rise() {
        Stream<Turn> ahead = turns.stream()
                .filter(turn -> turn.magnitude() <= 1)
                .sorted(Comparator.comparingDouble(Turn::magnitude).reversed());
        return bound(ahead.toList(), true);
    }

    private Margins.Bound fall() {
        Stream<Turn> ahead =
                turns.stream().filter(turn -> turn.magnitude() > 1).sorted(Comparator.comparingDouble(Turn::magnitude));
        return bound(ahead.toList(), false);
    }

    /** The first passage at which the loop becomes unstable; of an unstable one that at which the last disturbance dies out. */
    private Margins.Bound bound(List<Turn> ahead, boolean rising) {
        int count = growing;
        for (Turn turn : ahead) {
            count += turn.falling() == rising ? 2 : -2;
            boolean reached = growing == 0 ? count > 0 : count <= 0 && drifting == 0;
            if (reached) {
                double decibels = Math.abs(20 * Math.log10(turn.magnitude()));
                boolean away = growing == 0;
                return Margins.Bound.of(away ? decibels : -decibels, turn.frequency());
            }
            count = Math.max(0, count);
        }
        return Margins.Bound.none(none(rising));
    }

    private String none(boolean rising) {
        if (growing == 0) {
            return "nothing " + range + " limits how far the gain may " + (rising ? "rise" : "fall");
        }
        return drifting > 0
                ? "the loop is unstable to one side, without swinging, which no gain at a frequency above zero shows"
                : "the loop is unstable, and " + (rising ? "more" : "less") + " gain " + range
                        + " does not make it stable";
    }
}
