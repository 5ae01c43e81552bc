package org.voltsecond.circuit;

import java.util.List;

/**
 * Where the incremental value of an inductor or a capacitor changes: from this magnitude of its current or voltage on, up to the
 * next bend, it has another inductance dλ/di or capacitance dq/dv. Flux and charge are continuous and piecewise linear.
 * Immutable.
 *
 * <pre>{@code
 * List<Bend> saturation = List.of(new Bend(4, micro(12)), new Bend(6, micro(5))); // above 4 A 12 µH, above 6 A 5 µH
 * Part choke = new Part.Inductor("L1", "sw", "out", micro(22), 0, 0, saturation);
 * }</pre>
 *
 * @param above magnitude of the current, A, or of the voltage, V, from which it holds; more than 0
 * @param value incremental inductance, H, or capacitance, F, from there on; more than 0
 */
public record Bend(double above, double value) {
    static void check(Faults faults, List<Bend> bends, String what, String quantity, String unit, String unitOfKnee) {
        double last = 0;
        for (int k = 0; k < bends.size(); k++) {
            Bend bend = bends.get(k);
            faults.positive(what + "[" + k + "].above", bend.above, unitOfKnee)
                    .positive(what + "[" + k + "]." + quantity, bend.value, unit);
            if (k > 0 && bend.above <= last) {
                faults.add(what + "[" + k + "].above must be more than that of the bend before it, " + last + " "
                        + unitOfKnee + ", but was " + bend.above + " " + unitOfKnee);
            }
            last = bend.above;
        }
    }

    /** A part of which a share of each bend is left. */
    static Part straightened(Part part, double share) {
        if (part instanceof Part.Inductor l && !l.saturation().isEmpty()) {
            List<Bend> less = straightened(l.saturation(), l.inductance(), share);
            return new Part.Inductor(
                    l.name(), l.a(), l.b(), l.inductance(), l.seriesResistance(), l.initialCurrent(), less);
        }
        if (part instanceof Part.Capacitor c && !c.bias().isEmpty()) {
            List<Bend> less = straightened(c.bias(), c.capacitance(), share);
            return new Part.Capacitor(
                    c.name(), c.a(), c.b(), c.capacitance(), c.seriesResistance(), c.initialVoltage(), less);
        }
        return part;
    }

    private static List<Bend> straightened(List<Bend> bends, double value, double share) {
        return share == 0
                ? List.of()
                : bends.stream()
                        .map(bend -> new Bend(bend.above, value + share * (bend.value - value)))
                        .toList();
    }
}
