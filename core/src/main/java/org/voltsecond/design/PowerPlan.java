package org.voltsecond.design;

import org.voltsecond.converter.Converter;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.stage.Load;

/**
 * The power parts of a design: a ready-made stage, or a custom circuit.
 *
 * <pre>{@code
 * double volt = design.power().input().voltage(); // 12 V
 * boolean own = design.power() instanceof CircuitPlan; // false
 * }</pre>
 */
public sealed interface PowerPlan permits StagePlan, CircuitPlan {
    /** {@return the source, with the ripple on it} */
    LineInput input();

    /** {@return the load at the start} */
    Load load();

    /**
     * Finishes the converter.
     *
     * @param drive what drives the switches
     * @return the converter
     */
    Converter drivenBy(DrivePlan drive);
}
