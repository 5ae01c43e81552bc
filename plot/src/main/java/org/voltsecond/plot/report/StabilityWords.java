package org.voltsecond.plot.report;

import java.util.Locale;
import org.voltsecond.analysis.Instability;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.numeric.Complex;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Whether a steady state is stable, and if not, what becomes of it, in words. */
final class StabilityWords {
    private StabilityWords() {}

    static String of(SteadyState steady) {
        if (steady.isStable()) {
            return "yes";
        }
        Instability found = Instability.nearestTo(steady);
        if (steady.stability() == SteadyState.Stability.UNDAMPED) {
            String swing = found.frequency() > 0
                    ? "an oscillation of " + Quantity.format(found.frequency(), Unit.HERTZ, 3)
                    : "what disturbs it";
            return "no: undamped, " + swing + " neither grows nor dies out (multiplier " + number(found.multiplier())
                    + ")";
        }
        String what = switch (found.kind()) {
            case PERIOD_DOUBLING -> "period doubling, every second period becomes alike";
            case SLOW_OSCILLATION ->
                "an oscillation of some " + Quantity.format(found.frequency(), Unit.HERTZ, 3) + " grows";
            case SADDLE_NODE -> "what disturbs it grows to one side";
        };
        return "no: " + what + " (multiplier " + number(found.multiplier()) + ")";
    }

    private static String number(Complex multiplier) {
        return multiplier.imaginary() == 0
                ? String.format(Locale.ROOT, "%.3f", multiplier.real())
                : String.format(Locale.ROOT, "%.3f ± %.3f j", multiplier.real(), Math.abs(multiplier.imaginary()));
    }
}
