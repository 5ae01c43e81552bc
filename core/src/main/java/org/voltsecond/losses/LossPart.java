package org.voltsecond.losses;

/**
 * Where heat arises.
 *
 * <pre>{@code
 * for (LossEntry entry : LossBudget.of(steady, List.of(new GateChargeLoss(nano(9), 5))).entries()) {
 *     System.out.println(entry.part().label() + " " + entry.power());
 * }
 * String label = LossPart.OUTPUT_CAPACITOR.label(); // "output capacitor"
 * }</pre>
 */
public enum LossPart {
    /** The transistor with its body diode. */
    TRANSISTOR("transistor"),
    /** The rectifier, or the second transistor with its body diode. */
    RECTIFIER("rectifier"),
    /** Winding and core of the inductor. */
    INDUCTOR("inductor"),
    /** The output capacitor. */
    OUTPUT_CAPACITOR("output capacitor"),
    /** Parts of a circuit of one's own that have no role of their own, such as a snubber. */
    OTHERS("other parts"),
    /** The gate driver and the resistance in its path; fed beside the input of the stage. */
    GATE_DRIVE("gate drive");

    private final String label;

    LossPart(String label) {
        this.label = label;
    }

    /** {@return the name for a table or a picture} */
    public String label() {
        return label;
    }
}
