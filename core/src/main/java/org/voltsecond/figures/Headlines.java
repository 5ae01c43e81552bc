package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.voltsecond.analysis.Instability;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.numeric.Complex;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * What a reader must know before any figure: that there is no steady state, or that it does not last; whether the output is
 * regulated; which limits were taken; that the load is the source. It stands at the top of every table and page.
 *
 * <pre>{@code
 * Converter steep = stage.load(Load.resistor(2.5)).input(9).drive(CurrentMode.peak(kilo(300), 2));
 * Headlines.Line first = Headlines.of(steep.steadyState()).get(0);
 * String label = first.label(); // "stability"
 * boolean good = first.isGood(); // false
 * }</pre>
 */
public final class Headlines {
    private static final int DIGITS = 4;

    private Headlines() {}

    /**
     * One line.
     *
     * @param label what it is about, in a word or two
     * @param text what is to be known
     * @param isGood whether all is well
     */
    public record Line(String label, String text, boolean isGood) {}

    /**
     * Tells what must be known about a steady state.
     *
     * @param steady the steady state, or why there is none
     * @return the lines, what is worst first; empty if there is nothing to say
     */
    public static List<Line> of(Result<ConverterSteadyState> steady) {
        return steady.exists()
                ? of(steady.get())
                : List.of(new Line("steady state", "none: " + steady.reason(), false));
    }

    /**
     * Tells what must be known about a steady state.
     *
     * @param steady the steady state
     * @return the lines, what is worst first; empty if there is nothing to say
     */
    public static List<Line> of(ConverterSteadyState steady) {
        List<Line> lines = new ArrayList<>();
        if (steady.periodic().stability() != SteadyState.Stability.STABLE) {
            lines.add(new Line("stability", stability(steady.periodic()), false));
        }
        Optional<OutputRegulation> regulation = steady.regulation();
        regulation.ifPresent(found -> lines.add(line(steady, found)));
        if (steady.outputPower() < 0) {
            lines.add(new Line(
                    "power",
                    "the load delivers " + Told.quantity(-steady.outputPower(), Unit.WATT, DIGITS)
                            + " to the output, so that it is a source and there is no efficiency",
                    false));
        }
        for (BentPart part : BentPart.of(steady.converter(), steady)) {
            if (part.isSaturated()) {
                lines.add(new Line("saturation", saturation(part), false));
            }
        }
        regulation
                .filter(found -> found.controlLimits().isTaken())
                .ifPresent(found -> lines.add(
                        new Line("control limits", found.controlLimits() + ", assumed since none are given", true)));
        return lines;
    }

    private static String saturation(BentPart part) {
        return part.name() + " saturates: at its peak of " + Quantity.format(part.peak(), Unit.AMPERE, DIGITS)
                + " it has "
                + Quantity.format(part.valueAt(part.peak()), Unit.HENRY, DIGITS) + " left of "
                + Quantity.format(part.value(), Unit.HENRY, DIGITS);
    }

    private static Line line(ConverterSteadyState steady, OutputRegulation found) {
        String target = Quantity.format(found.target(), Unit.VOLT, DIGITS);
        if (found.inRegulation()) {
            return new Line("regulation", "the output is held at its target of " + target, true);
        }
        double reached = Math.abs(steady.of(steady.converter().outputVoltage()).mean());
        return new Line(
                "regulation",
                "lost: " + Quantity.format(reached, Unit.VOLT, DIGITS) + " in place of " + target
                        + found.heldBy().map(limiter -> ", " + limiter.words()).orElse(""),
                false);
    }

    /**
     * Tells whether a steady state is stable, and if not, what becomes of it.
     *
     * @param steady the steady state
     * @return for example "stable", or "unstable: period doubling, wide and narrow pulses alternate (multiplier -2.124); the
     *     steady state does not last"
     */
    public static String stability(SteadyState steady) {
        if (steady.isStable()) {
            return "stable";
        }
        Instability found = Instability.nearestTo(steady);
        if (steady.stability() == SteadyState.Stability.UNDAMPED) {
            String swing = found.frequency() > 0
                    ? "an oscillation of " + Quantity.format(found.frequency(), Unit.HERTZ, 3)
                    : "what disturbs it, such as a direct flux in a transformer or a difference between phases,";
            return "undamped: " + swing + " neither grows nor dies out (multiplier " + number(found.multiplier()) + ")";
        }
        String what = switch (found.kind()) {
            case PERIOD_DOUBLING -> "period doubling, wide and narrow pulses alternate";
            case SLOW_OSCILLATION ->
                "an oscillation of some " + Quantity.format(found.frequency(), Unit.HERTZ, 3) + " grows";
            case SADDLE_NODE -> "what disturbs it grows to one side";
        };
        return "unstable: " + what + " (multiplier " + number(found.multiplier()) + "); the steady state does not last";
    }

    private static String number(Complex multiplier) {
        return multiplier.imaginary() == 0
                ? String.format(Locale.ROOT, "%.3f", multiplier.real())
                : String.format(Locale.ROOT, "%.3f ± %.3f j", multiplier.real(), Math.abs(multiplier.imaginary()));
    }
}
