package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.characteristic.Faults;

/** The limits of an amplifier's voltage: ideal rectifiers to voltage sources. */
final class AmplifierLimits {
    private AmplifierLimits() {}

    static List<Part> parts(String name, String node, double low, double high) {
        String above = name + ".upper_limit";
        String below = name + ".lower_limit";
        return List.of(
                new Part.Rectifier(name + ".upper_clamp", node, above, 0, 0),
                new Part.VoltageSource(above, above, Circuit.GROUND, Profile.constant(high)),
                new Part.Rectifier(name + ".lower_clamp", below, node, 0, 0),
                new Part.VoltageSource(below, below, Circuit.GROUND, Profile.constant(low)));
    }

    static void check(Faults faults, double low, double high) {
        faults.finite("lowest output voltage", low, "V").finite("highest output voltage", high, "V");
        if (!(low < high)) {
            faults.add("the lowest output voltage must be below the highest but they were " + low + " V and " + high
                    + " V");
        }
        if (!faults.list().isEmpty()) {
            throw new InvalidCircuitException(faults.list());
        }
    }
}
