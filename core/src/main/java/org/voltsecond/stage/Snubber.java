package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A resistor and a capacitor in series that damp the ringing across a device.
 *
 * <pre>{@code
 * Snubber snubber = new Snubber(Snubber.Across.RECTIFIER, 22, nano(1)); // ohm, F
 * }</pre>
 *
 * @param across which device; of several of a kind each has one; null where that is not told yet
 * @param resistance Ω; 0 or more
 * @param capacitance F; more than 0
 */
public record Snubber(@Nullable Across across, double resistance, double capacitance) implements StagePart {
    /** Which devices have a snubber. */
    public enum Across {
        /** Each transistor of the primary side. */
        TRANSISTOR,
        /** Each output rectifier. */
        RECTIFIER
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        if (across == null) {
            faults.add("snubber: the device that it lies across is missing; give TRANSISTOR or RECTIFIER");
        }
        StagePart.notNegative(faults, "snubber: resistance", resistance, "Ω");
        StagePart.positive(faults, "snubber: capacitance", capacitance, "F");
        return faults;
    }
}
