package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * What lies between the ideal source and a stage: resistance and inductance of the supply and its lead.
 *
 * <pre>{@code
 * SourceImpedance lead = new SourceImpedance(milli(50), micro(2)); // ohm, H
 * }</pre>
 *
 * @param resistance Ω; 0 or more
 * @param inductance H; 0 or more
 */
public record SourceImpedance(double resistance, double inductance) implements StagePart {
    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.notNegative(faults, "input: source resistance", resistance, "Ω");
        StagePart.notNegative(faults, "input: source inductance", inductance, "H");
        return faults;
    }
}
