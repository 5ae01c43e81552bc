package org.voltsecond.converter;

/**
 * One loss of one part.
 *
 * @param part what becomes hot
 * @param cause why; "conduction" is exact, everything else a model
 * @param power mean over a period, W
 */
public record LossEntry(LossPart part, String cause, double power) {
    /** The cause of what flows through resistances and forward drops. */
    public static final String CONDUCTION = "conduction";
}
