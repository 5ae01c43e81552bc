package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.stage.Roles.Reading;

/**
 * A filter between source and stage: an inductor, at the stage a capacitor and a damping branch side by side, and a capacitor on the
 * side of the source where emissions into the supply are to be kept low.
 *
 * <pre>{@code
 * InputFilter filter = InputFilter.of(micro(4.7), micro(10)).withDamping(0.7, micro(47)); // H, F; ohm, F
 * }</pre>
 *
 * @param inductance H; more than 0
 * @param resistance series resistance of the inductor, Ω; 0 or more
 * @param capacitance at the stage, F; more than 0, not a number where the input capacitor alone is meant
 * @param damping resistance and capacitance in series at the stage; null for none
 * @param lineCapacitance on the side of the source, F; 0 or more, 0 for none
 */
public record InputFilter(
        double inductance,
        double resistance,
        double capacitance,
        @Nullable Damping damping,
        double lineCapacitance) implements StagePart {
    /** The inductor of a filter. */
    public static final String INDUCTOR = "LF";

    /** Its capacitor at the stage. */
    public static final String CAPACITOR = "CF";

    /** Its capacitor on the side of the source. */
    public static final String LINE_CAPACITOR = "CX";

    /**
     * A resistor and a capacitor in series.
     *
     * @param resistance Ω; 0 or more
     * @param capacitance F; more than 0
     */
    public record Damping(double resistance, double capacitance) {}

    /**
     * A filter without a capacitor on the side of the source.
     *
     * @param inductance H; more than 0
     * @param resistance series resistance of the inductor, Ω; 0 or more
     * @param capacitance at the stage, F; more than 0, not a number where the input capacitor alone is meant
     * @param damping resistance and capacitance in series at the stage; null for none
     */
    public InputFilter(double inductance, double resistance, double capacitance, @Nullable Damping damping) {
        this(inductance, resistance, capacitance, damping, 0);
    }

    /**
     * Returns a filter without resistance and damping.
     *
     * @param inductance H; more than 0
     * @param capacitance F; more than 0
     * @return the filter
     */
    public static InputFilter of(double inductance, double capacitance) {
        return new InputFilter(inductance, 0, capacitance, null);
    }

    /**
     * Returns this filter with a damping branch.
     *
     * @param ohm Ω; 0 or more
     * @param farad F; more than 0
     * @return a new filter
     */
    public InputFilter withDamping(double ohm, double farad) {
        return new InputFilter(inductance, resistance, capacitance, new Damping(ohm, farad), lineCapacitance);
    }

    /**
     * Returns this filter with a capacitor on the side of the source.
     *
     * @param farad F; 0 or more
     * @return a new filter
     */
    public InputFilter withLineCapacitance(double farad) {
        return new InputFilter(inductance, resistance, capacitance, damping, farad);
    }

    /** Adds it between two nodes; what lies across the stage is told in a list. */
    void wire(StageWiring wiring, String line, String node, List<String> across) {
        wiring.circuit().inductor(INDUCTOR, line, node, inductance, resistance);
        wiring.heat("input filter", INDUCTOR);
        if (!Double.isNaN(capacitance)) {
            across.add(wiring.across(CAPACITOR, node, capacitance, 0));
            wiring.tell(Reading.current("filter capacitor current", CAPACITOR));
            wiring.tell(Reading.voltage("filter capacitor voltage", CAPACITOR));
        }
        if (lineCapacitance > 0) {
            across.add(wiring.across(LINE_CAPACITOR, line, lineCapacitance, 0));
        }
        if (damping != null) {
            String name = wiring.across(StageWiring.DAMPING, node, damping.capacitance, damping.resistance);
            across.add(name);
            wiring.heat("input filter", name);
            wiring.tell(Reading.current("damping current", name));
        }
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "input filter: inductance", inductance, "H");
        StagePart.notNegative(faults, "input filter: series resistance", resistance, "Ω");
        if (!Double.isNaN(capacitance)) {
            StagePart.positive(faults, "input filter: capacitance", capacitance, "F");
        }
        StagePart.notNegative(faults, "input filter: capacitance on the side of the source", lineCapacitance, "F");
        if (damping != null) {
            StagePart.notNegative(faults, "input filter: resistance of the damping", damping.resistance, "Ω");
            StagePart.positive(faults, "input filter: capacitance of the damping", damping.capacitance, "F");
        }
        return faults;
    }
}
