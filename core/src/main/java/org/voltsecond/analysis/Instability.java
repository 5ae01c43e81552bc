package org.voltsecond.analysis;

import java.util.Comparator;
import org.voltsecond.numeric.Complex;

/**
 * The instability that a steady state is nearest to, or has fallen to: which disturbance dies out worst, and what becomes
 * of it where it does not die out.
 *
 * <p>A multiplier m of a period T stands for a disturbance exp(s t) with s = ln(m) / T. What is compared is the damping
 * ratio -Re(s) / |s|, so that a disturbance that is merely slow, and does not oscillate, counts as well damped.
 *
 * <pre>{@code
 * Converter peakCurrent = stage.load(Load.resistor(2.5))
 *         .input(9) // V: the duty cycle is above one half
 *         .drive(CurrentMode.peak(kilo(300), 2));
 * Instability nearest = Instability.nearestTo(peakCurrent.steadyState().periodic());
 * Instability.Kind kind = nearest.kind(); // PERIOD_DOUBLING
 * double damping = nearest.damping(); // -0.0540
 * }</pre>
 *
 * @param kind what becomes of the disturbance at the limit
 * @param multiplier the multiplier; of a pair the one above the real axis
 * @param damping the damping ratio: 1 for no oscillation, 0 at the limit, negative beyond it
 * @param frequency how often the disturbance alternates, Hz; 0 where it does not
 */
public record Instability(Kind kind, Complex multiplier, double damping, double frequency) {
    /** A pair so near to the negative real axis, rad, is on its way to meet there. */
    private static final double NEARLY_ALTERNATING = Math.PI / 6;

    /** What becomes of a disturbance that no longer dies out. */
    public enum Kind {
        /** It changes sign from period to period, so that every second period is alike: a multiplier passes -1. */
        PERIOD_DOUBLING,
        /** It swings over many periods, as a loop does that has no phase margin: a pair of multipliers leaves the circle. */
        SLOW_OSCILLATION,
        /** It grows to one side and the steady state vanishes or is left for another: a multiplier passes +1. */
        SADDLE_NODE
    }

    /**
     * Finds the instability that a steady state is nearest to.
     *
     * @param steady the steady state
     * @return the least damped of its disturbances
     * @throws IllegalArgumentException if the circuit has no states
     */
    public static Instability nearestTo(SteadyState steady) {
        return steady.multipliers().stream()
                .filter(multiplier -> multiplier.imaginary() >= 0)
                .map(multiplier -> of(multiplier, steady.period()))
                .min(Comparator.comparingDouble(Instability::damping)
                        .thenComparing(Comparator.<Instability>comparingDouble(
                                        found -> found.multiplier().magnitude())
                                .reversed()))
                .orElseThrow(() -> new IllegalArgumentException(
                        "a circuit without states has no disturbances, and so nothing that could grow"));
    }

    private static Instability of(Complex multiplier, double period) {
        double growth = Math.log(multiplier.magnitude());
        double angle = multiplier.argument();
        double damping =
                angle == 0 ? -Math.signum(growth) : Double.isInfinite(growth) ? 1 : -growth / Math.hypot(growth, angle);
        Kind kind = angle == 0
                ? Kind.SADDLE_NODE
                : angle >= Math.PI - NEARLY_ALTERNATING ? Kind.PERIOD_DOUBLING : Kind.SLOW_OSCILLATION;
        return new Instability(kind, multiplier, damping, angle / (2 * Math.PI * period));
    }
}
