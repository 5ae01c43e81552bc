package org.voltsecond.losses;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * One loss of one part.
 *
 * <pre>{@code
 * LossEntry first = LossBudget.of(steady, List.of()).entries().get(0);
 * String cause = first.cause(); // "conduction"
 * double power = first.power(); // 146.1 mW
 * }</pre>
 *
 * @param part what becomes hot
 * @param cause why; "conduction" is exact, everything else a model
 * @param power mean over a period, W
 */
public record LossEntry(LossPart part, String cause, double power) {
    /** The cause of what flows through resistances and forward drops. */
    public static final String CONDUCTION = "conduction";

    @Override
    public String toString() {
        return part.label() + ", " + cause + ": " + Quantity.format(power, Unit.WATT, 4);
    }
}
