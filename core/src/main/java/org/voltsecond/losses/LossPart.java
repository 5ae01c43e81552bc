package org.voltsecond.losses;

import org.voltsecond.converter.StageLosses;

/**
 * Where heat arises.
 *
 * <pre>{@code
 * for (LossEntry entry : LossBudget.of(steady, List.of(new GateChargeLoss(nano(9), 5))).entries()) {
 *     System.out.println(entry.part().label() + " " + entry.power());
 * }
 * String label = LossPart.OUTPUT_CAPACITOR.label(); // "output capacitor"
 * }</pre>
 *
 * @param label the name for a table or a picture; of what {@link StageLosses#groups} tells the same
 */
public record LossPart(String label) {
    /** The transistor with its body diode. */
    public static final LossPart TRANSISTOR = new LossPart(StageLosses.TRANSISTOR);
    /** The rectifier, or the second transistor with its body diode. */
    public static final LossPart RECTIFIER = new LossPart(StageLosses.RECTIFIER);
    /** Winding and core of the inductor. */
    public static final LossPart INDUCTOR = new LossPart(StageLosses.INDUCTOR);
    /** The output capacitor. */
    public static final LossPart OUTPUT_CAPACITOR = new LossPart(StageLosses.OUTPUT_CAPACITOR);
    /** The gate driver and the resistance in its path; fed beside the input of the stage. */
    public static final LossPart GATE_DRIVE = new LossPart("gate drive");
}
