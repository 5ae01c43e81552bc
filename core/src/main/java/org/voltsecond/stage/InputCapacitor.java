package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * A capacitor across the input of a stage.
 *
 * <pre>{@code
 * StagePart given = new InputCapacitor(micro(10), milli(5)); // F, series ohm
 * }</pre>
 *
 * @param capacitance F; more than 0
 * @param resistance series resistance (ESR), Ω; 0 or more
 */
public record InputCapacitor(double capacitance, double resistance) implements StagePart {
    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "input capacitor: capacitance", capacitance, "F");
        StagePart.notNegative(faults, "input capacitor: series resistance", resistance, "Ω");
        return faults;
    }
}
