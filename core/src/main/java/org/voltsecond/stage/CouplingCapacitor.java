package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * The capacitor through which a stage hands its energy on, such as that of a SEPIC.
 *
 * <pre>{@code
 * StagePart given = new CouplingCapacitor(micro(80), milli(5)); // F, series ohm
 * }</pre>
 *
 * @param capacitance F; more than 0
 * @param resistance series resistance (ESR), Ω; 0 or more
 */
public record CouplingCapacitor(double capacitance, double resistance) implements StagePart {
    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "coupling capacitor: capacitance", capacitance, "F");
        StagePart.notNegative(faults, "coupling capacitor: series resistance", resistance, "Ω");
        return faults;
    }
}
