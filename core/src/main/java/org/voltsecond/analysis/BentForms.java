package org.voltsecond.analysis;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.AffineForm;

/**
 * What a parameter does to a part that consists of segments: an inductance or a capacitance of one segment is the factor of that
 * share of the flux or charge which lies on it; a number of a curve moves the line of each segment; both may move the ends of
 * segments.
 */
final class BentForms {
    private static final Pattern BEND = Pattern.compile("(.+)\\.(?:saturation|bias)\\[(\\d{1,9})]");

    private final Circuit circuit;
    private final int states;
    private final String quantity;
    /** The part. */
    final String part;
    /** Which segment the parameter belongs to: 0 for that below the first bend. */
    private final int segment;

    BentForms(Circuit circuit, Parameter parameter, int states) {
        this.circuit = circuit;
        this.states = states;
        quantity = parameter.quantity();
        Matcher bend = BEND.matcher(parameter.part());
        part = bend.matches() ? bend.group(1) : parameter.part();
        segment = bend.matches() ? 1 + Integer.parseInt(bend.group(2)) : 0;
    }

    /** Whether the part has the segment that is meant. */
    boolean exists() {
        return segment <= bends().size();
    }

    private List<Bend> bends() {
        return circuit.parts().stream()
                .filter(each -> each.name().equals(part))
                .map(BentForms::bendsOf)
                .findFirst()
                .orElse(List.of());
    }

    private static List<Bend> bendsOf(Part part) {
        return part instanceof Part.Inductor l
                ? l.saturation()
                : part instanceof Part.Capacitor c ? c.bias() : List.of();
    }

    /** The share of a state that lies on the segment of the parameter, in one regime. */
    AffineForm share(AffineForm state, Regime regime) {
        List<Bend> bends = bends();
        if (bends.isEmpty()) {
            return state;
        }
        int present = circuit.segment(part, regime);
        double from = segment == 0 ? 0 : bends.get(segment - 1).above();
        if (Math.abs(present) == segment) {
            return state.plus(-Integer.signum(present), AffineForm.constant(states, from));
        }
        boolean full = Math.abs(present) > segment;
        return AffineForm.constant(
                states, full ? Integer.signum(present) * (bends.get(segment).above() - from) : 0);
    }

    /** By how much the voltage of a curve grows with the parameter at the present current. */
    AffineForm voltage(NonlinearResistor resistor, AffineForm current, Regime regime) {
        CurrentCurve curve = resistor.curve();
        int at = curve.segmentAt(0) + circuit.segment(part, regime);
        if (curve.isOpen(at)) {
            return AffineForm.constant(states, 0);
        }
        double[] by = curve.lineBy(at, quantity);
        return current.times(by[0]).plus(by[1], AffineForm.constant(states, 1));
    }

    /** Adds how the ends of the segment move, and that a curve is measured with the voltage that the parameter adds. */
    void addTo(List<AffineForm> conditions, Part bent, AffineForm current, Regime regime) {
        int upper = circuit.upperEnd(part);
        int present = circuit.segment(part, regime);
        if (bent instanceof NonlinearResistor resistor) {
            CurrentCurve curve = resistor.curve();
            int at = curve.segmentAt(0) + present;
            if (curve.isOpen(at) || curve.resistance(at) != 0) {
                AffineForm added = voltage(resistor, current, regime);
                move(
                        conditions,
                        upper,
                        at < curve.segments() - 1,
                        knee(curve, at).plus(-1, added));
                move(conditions, upper + 1, at > 0, added.plus(-1, knee(curve, at - 1)));
            }
        } else if (quantity.equals("above")) {
            AffineForm one = AffineForm.constant(states, 1);
            // segments above zero end at their own bend and begin at the one before, those below zero the other way
            // round
            move(conditions, upper, present == segment - 1, one);
            move(conditions, upper + 1, present == segment, one.times(-1));
            move(conditions, upper, present == -segment, one.times(-1));
            move(conditions, upper + 1, present == 1 - segment, one);
        }
    }

    private AffineForm knee(CurrentCurve curve, int at) {
        boolean exists = at >= 0 && at < curve.segments() - 1;
        return AffineForm.constant(states, exists ? curve.kneeBy(at, quantity) : 0);
    }

    private static void move(List<AffineForm> conditions, int at, boolean applies, AffineForm more) {
        if (applies) {
            conditions.set(at, conditions.get(at).plus(1, more));
        }
    }
}
