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
 * @param part what becomes hot, in words such as "transistor", or by its name such as "Q2"
 * @param cause why; "conduction" is exact, everything else a model
 * @param power mean over a period, W
 */
public record LossEntry(String part, String cause, double power) {
    /** The cause of what flows through resistances and forward drops. */
    public static final String CONDUCTION = "conduction";

    /** What is told in place of a part: the gate driver and the resistance in its path, fed beside the input of the stage. */
    public static final String GATE_DRIVE = "gate drive";

    @Override
    public String toString() {
        return part + ", " + cause + ": " + Quantity.format(power, Unit.WATT, 4);
    }
}
