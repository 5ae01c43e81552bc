package org.voltsecond.review;

import java.util.Optional;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.control.Limiter;
import org.voltsecond.converter.Converter;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * The lowest input at which the output is still regulated. Immutable.
 *
 * <pre>{@code
 * Dropout dropout = Dropout.of(regulated).get();
 * double volt = dropout.inputVoltage(); // 5.51 V
 * String why = dropout.heldBy().orElseThrow().words(); // "the duty cycle is at its maximum"
 * }</pre>
 *
 * @param inputVoltage the lowest input of those that were tried with the output in regulation, V
 * @param below the highest of those with the output not in regulation, V
 * @param heldBy what decides the pulses in place of the loop there; empty where there is no steady state any more
 */
public record Dropout(double inputVoltage, double below, Optional<Limiter> heldBy) {
    /** The input is found to this share of itself: far below what a supply is known to, and a few steady states less than its rounding. */
    private static final double CLOSE = 1e-6;

    /** The input is halved so often in search of one that is too low: a thousandth of it and less runs nothing. */
    private static final int MOST_HALVINGS = 10;

    /** What becomes of the output at an input; an error that is not a number where there is no steady state. */
    private record Tried(double volt, boolean regulated, double error, Optional<Limiter> heldBy) {
        static Tried at(Converter converter, double volt) {
            Result<OutputRegulation> found = OperatingCorners.steadyState(converter.withInput(volt))
                    .map(steady -> steady.regulation().orElseThrow());
            return new Tried(
                    volt,
                    found.map(OutputRegulation::inRegulation).orElse(false),
                    found.map(OutputRegulation::error).orElse(Double.NaN),
                    found.map(OutputRegulation::heldBy).orElse(Optional.empty()));
        }
    }

    /**
     * Looks for it below the converter's own input.
     *
     * @param converter the converter, with the load at which it is asked
     * @return the dropout, or why there is none
     */
    public static Result<Dropout> of(Converter converter) {
        if (!converter.isRegulated()) {
            return Result.missing("a fixed duty cycle regulates nothing: the output follows the input at any voltage");
        }
        if (converter.target().isEmpty()) {
            return Result.missing("the regulator holds a current, and the output follows");
        }
        Tried good = Tried.at(converter, converter.inputVoltage());
        if (!good.regulated()) {
            return Result.missing(
                    "the output is not in regulation at its own input of " + Quantity.brief(good.volt(), Unit.VOLT));
        }
        Tried bad = good;
        for (int k = 0; k < MOST_HALVINGS && bad.regulated(); k++) {
            good = bad;
            bad = Tried.at(converter, 0.5 * good.volt());
        }
        return bad.regulated()
                ? Result.missing("the output is in regulation down to " + Quantity.format(bad.volt(), Unit.VOLT, 3)
                        + " and below")
                : Result.of(between(converter, good, bad));
    }

    /**
     * Below dropout the error is all but proportional to the input: a secant through two inputs that are too low meets it; where it does
     * not, the interval is halved.
     */
    private static Dropout between(Converter converter, Tried regulated, Tried tooLow) {
        Tried good = regulated;
        Tried bad = tooLow;
        Tried before = tooLow;
        double close = CLOSE * good.volt();
        while (good.volt() - bad.volt() > close) {
            double aim = bad.volt() - bad.error() * (bad.volt() - before.volt()) / (bad.error() - before.error());
            // to both sides of where the secant meets it, so that the interval shrinks from either end
            double next = aim > bad.volt() + 0.5 * close && aim < good.volt() - 0.5 * close
                    ? aim + (good.volt() - aim > close ? 0.4 : -0.4) * close
                    : 0.5 * (bad.volt() + good.volt());
            Tried tried = Tried.at(converter, next);
            if (tried.regulated()) {
                good = tried;
            } else {
                before = bad;
                bad = tried;
            }
        }
        return new Dropout(good.volt(), bad.volt(), bad.heldBy());
    }
}
