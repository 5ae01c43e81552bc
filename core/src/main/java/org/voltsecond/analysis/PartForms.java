package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.AffineForm;

/**
 * What a parameter does to a part by itself, and how a source is put in series with it. Of a part that consists of segments: an inductance or a capacitance of one segment is the factor of that
 * share of the flux or charge which lies on it; a number of a curve moves the line of each segment; both may move the ends of
 * segments.
 */
final class PartForms {
    private static final Pattern BEND = Pattern.compile("(.+)\\.(?:saturation|bias|forward_curve)\\[(\\d{1,9})]");

    private static final Pattern RECOVERY = Pattern.compile("(.+)\\.recovery");

    private final Circuit circuit;
    private final int states;
    private final String quantity;
    /** The part. */
    final String part;
    /** Which segment the parameter belongs to: 0 for that below the first bend. */
    private final int segment;
    /** Null where the parameter is not of a stored charge. */
    final @Nullable Recovering recovering;

    PartForms(Circuit circuit, Parameter parameter, int states) {
        this.circuit = circuit;
        this.states = states;
        quantity = parameter.quantity();
        Matcher bend = BEND.matcher(parameter.part());
        Matcher recovery = RECOVERY.matcher(parameter.part());
        part = bend.matches() ? bend.group(1) : recovery.matches() ? recovery.group(1) : parameter.part();
        segment = bend.matches() ? 1 + Integer.parseInt(bend.group(2)) : 0;
        recovering = recovery.matches() ? recovering(parameter.kind()) : null;
    }

    private @Nullable Recovering recovering(Parameter.Kind kind) {
        boolean known = kind == Parameter.Kind.LIFETIME || kind == Parameter.Kind.TRANSIT_TIME;
        return circuit.parts().stream()
                .filter(each -> known && each.name().equals(part) && each instanceof Part.Rectifier)
                .map(each -> ((Part.Rectifier) each).junction().recovery())
                .filter(Objects::nonNull)
                .map(recovery -> new Recovering(
                        recovery,
                        kind == Parameter.Kind.LIFETIME,
                        circuit.stateNames().indexOf(part),
                        states))
                .findFirst()
                .orElse(null);
    }

    /**
     * What a time of a stored charge moves, with the state m, the current in balance with the charge: {@code dm/dt = (i + k m - m (1 + k)) / t}, t
     * the lifetime, k its ratio to the transit time; -k m is what flows by the part beside i.
     */
    record Recovering(Junction.Recovery recovery, boolean byLifetime, int state, int states) {
        private AffineForm charge() {
            double[] unit = new double[states];
            unit[state] = 1;
            return AffineForm.of(unit, 0);
        }

        /** How the ratio changes. */
        private double share() {
            double transit = recovery.transitTime();
            return byLifetime ? 1 / transit : -recovery.lifetime() / (transit * transit);
        }

        /** What flows beside the part as it is. */
        AffineForm current(Regime regime) {
            return charge().times(-share());
        }

        /** What comes to the rate of the state as it is. */
        AffineForm rate(Regime regime) {
            AffineForm more = charge().times(-share() / recovery.lifetime());
            return byLifetime
                    ? more.plus(-1 / recovery.lifetime(), regime.rates().get(state))
                    : more;
        }

        /** How that current rises by this rate. */
        AffineForm slope(Regime regime) {
            return rate(regime).times(-recovery.share());
        }

        /** What comes to a jump of the state, in which a charge has come in. */
        double jump(double jumped) {
            return byLifetime ? -jumped / recovery.lifetime() : 0;
        }
    }

    /** Whether the part has the segment that is meant. */
    boolean exists() {
        return segment <= bends().size();
    }

    private List<Bend> bends() {
        return circuit.parts().stream()
                .filter(each -> each.name().equals(part))
                .map(PartForms::bendsOf)
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

    /** Whether a rectifier has the value, and its line changes with it. */
    boolean hasLine(Part.Rectifier d, Parameter.Kind kind) {
        return switch (kind) {
            case RESISTANCE, FORWARD_DROP -> segment == 0;
            case SOURCE_VOLTAGE, SOURCE_CURRENT ->
                segment > 0 && segment <= d.junction().forwardCurve().size();
            default -> false;
        };
    }

    /** By how much the voltage of a rectifier's line grows with the parameter at the present current. */
    AffineForm voltage(Part.Rectifier d, AffineForm current, Regime regime) {
        if (quantity.equals("resistance")) {
            return current;
        }
        int at = circuit.segment(part, regime);
        double[] share = d.junction().shareOf(at, segment - 1);
        AffineForm moved = current.times(share[1]).plus(share[0], AffineForm.constant(states, 1));
        // a point that moves to the right lowers the line by its slope
        return quantity.equals("current") ? moved.times(-d.junction().slope(at, d.forwardDrop())) : moved;
    }

    /** Resistance of a rectifier on its present segment. */
    double slope(Part.Rectifier d, Regime regime) {
        return d.resistance() + d.junction().slope(circuit.segment(part, regime), d.forwardDrop());
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
        } else if (bent instanceof Part.Rectifier d) {
            boolean knee = quantity.equals("current")
                    && segment > 0
                    && segment < d.junction().segments();
            AffineForm one = AffineForm.constant(states, 1);
            move(conditions, upper, knee && present == segment - 1, one);
            move(conditions, upper + 1, knee && present == segment, one.times(-1));
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

    static double seriesResistance(Part part, Port port) {
        if (part instanceof Part.Capacitor c) {
            return c.seriesResistance();
        }
        return part instanceof Part.IdealTransformer t
                ? t.windings().get(t.ports().indexOf(port)).seriesResistance()
                : 0;
    }

    /** The same part with one port beginning at another node, and perhaps without the series resistance there. */
    static Part moved(Part part, Port port, String node, boolean bare) {
        if (part instanceof Part.Resistor r) {
            return new Part.Resistor(r.name(), node, r.b(), r.resistance());
        } else if (part instanceof Part.Switch q) {
            return new Part.Switch(q.name(), node, q.b(), q.onResistance(), q.forwardDrop());
        } else if (part instanceof Part.Rectifier d) {
            return new Part.Rectifier(d.name(), node, d.cathode(), d.forwardDrop(), d.resistance(), d.junction());
        } else if (part instanceof Part.Inductor l) {
            return new Part.Inductor(
                    l.name(), node, l.b(), l.inductance(), l.seriesResistance(), l.initialCurrent(), l.saturation());
        } else if (part instanceof Part.Capacitor c) {
            double resistance = bare ? 0 : c.seriesResistance();
            return new Part.Capacitor(c.name(), node, c.b(), c.capacitance(), resistance, c.initialVoltage(), c.bias());
        } else if (part instanceof Part.CoupledInductors t) {
            return new Part.CoupledInductors(t.name(), moved(t.windings(), t, port, node, bare), t.inductances());
        } else if (part instanceof Part.IdealTransformer t) {
            return new Part.IdealTransformer(t.name(), moved(t.windings(), t, port, node, bare), t.turns());
        }
        if (part instanceof NonlinearResistor n) {
            return new NonlinearResistor(n.name(), node, n.b(), n.curve());
        }
        Part.VoltageSource v = (Part.VoltageSource) part;
        return new Part.VoltageSource(v.name(), node, v.minus(), v.voltage());
    }

    private static List<Part.Winding> moved(
            List<Part.Winding> windings, Part part, Port port, String node, boolean bare) {
        List<Part.Winding> changed = new ArrayList<>(windings);
        int index = part.ports().indexOf(port);
        Part.Winding old = windings.get(index);
        double resistance = bare ? 0 : old.seriesResistance();
        changed.set(index, new Part.Winding(old.name(), node, old.minus(), resistance, old.initialCurrent()));
        return changed;
    }
}
