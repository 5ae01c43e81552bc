package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.function.DoubleSupplier;
import java.util.function.Function;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.units.Unit;

/**
 * A number of a part of a circuit, by the name that design files write: {@code "L1.inductance"}, {@code "D1.forward_drop"},
 * {@code "T1.coupling"}; of one winding {@code "T1.primary.inductance"}. Immutable.
 *
 * <pre>{@code
 * PartValue inductance = PartValue.of(rail.circuit(), "L1.inductance");
 * double henry = inductance.value(); // 22 µH
 * Circuit smaller = inductance.set(micro(10));
 * String all = PartValue.all(rail.circuit()).get(1).name(); // "Q1.on_resistance"
 * }</pre>
 */
public final class PartValue {
    private final Circuit circuit;
    private final String part;
    private final String quantity;
    private final Unit unit;
    private final DoubleSupplier reader;
    private final DoubleFunction<Part> writer;

    private PartValue(
            Circuit circuit,
            String part,
            String quantity,
            Unit unit,
            DoubleSupplier reader,
            DoubleFunction<Part> writer) {
        this.circuit = circuit;
        this.part = part;
        this.quantity = quantity;
        this.unit = unit;
        this.reader = reader;
        this.writer = writer;
    }

    /**
     * Finds a value.
     *
     * @param circuit the circuit
     * @param name its name, such as "L1.inductance"
     * @return the value
     * @throws IllegalArgumentException if the circuit has no such value; the message lists those of the part
     */
    public static PartValue of(Circuit circuit, String name) {
        List<PartValue> ofPart = new ArrayList<>();
        for (Part part : circuit.parts()) {
            if (name.startsWith(part.name())) {
                new Collector(circuit, ofPart).collect(part);
            }
        }
        for (PartValue each : ofPart) {
            if (name.length() == each.part.length() + 1 + each.quantity.length()
                    && name.startsWith(each.part)
                    && name.endsWith(each.quantity)
                    && name.charAt(each.part.length()) == '.') {
                return each;
            }
        }
        throw new IllegalArgumentException("the circuit has no value '" + name + "'; " + valid(circuit, name));
    }

    /** The values of one part, in an order that depends on its kind alone. */
    static List<PartValue> ofPart(Circuit circuit, Part part) {
        List<PartValue> values = new ArrayList<>();
        new Collector(circuit, values).collect(part);
        return values;
    }

    /** The part with another number here. */
    Part written(double value) {
        return writer.apply(value);
    }

    private static String valid(Circuit circuit, String name) {
        String part = name.contains(".") ? name.substring(0, name.indexOf('.')) : name;
        List<String> ofPart = all(circuit).stream()
                .map(PartValue::name)
                .filter(each -> each.startsWith(part + "."))
                .toList();
        return ofPart.isEmpty()
                ? "its parts are " + circuit.parts().stream().map(Part::name).toList()
                : "values of " + part + " are " + ofPart;
    }

    /**
     * Lists the values of all parts.
     *
     * @param circuit the circuit
     * @return the values, part by part
     */
    public static List<PartValue> all(Circuit circuit) {
        List<PartValue> values = new ArrayList<>();
        for (Part part : circuit.parts()) {
            new Collector(circuit, values).collect(part);
        }
        return List.copyOf(values);
    }

    /** {@return the name, such as "L1.inductance"} */
    public String name() {
        return part + "." + quantity;
    }

    /** {@return the part or, of one winding, "part.winding"} */
    public String part() {
        return part;
    }

    /** {@return what of the part, such as "inductance"} */
    public String quantity() {
        return quantity;
    }

    /** {@return the unit of the value} */
    public Unit unit() {
        return unit;
    }

    /** {@return the value, in {@link #unit()}; of a source that changes with time the one at the start, without its ripple} */
    public double value() {
        return reader.getAsDouble();
    }

    /**
     * Returns the circuit with another value; everything else stays as it is.
     *
     * @param value the value, in {@link #unit()}
     * @return the changed circuit
     * @throws InvalidCircuitException if the value is out of its range
     */
    public Circuit set(double value) {
        return circuit.with(writer.apply(value));
    }

    @Override
    public String toString() {
        return name() + " = " + org.voltsecond.units.Quantity.format(value(), unit);
    }

    /** Lists the values of one part after the other. */
    private record Collector(Circuit circuit, List<PartValue> values) {
        void add(String part, String quantity, Unit unit, double value, DoubleFunction<Part> writer) {
            values.add(new PartValue(circuit, part, quantity, unit, () -> value, writer));
        }

        void collect(Part part) {
            String name = part.name();
            if (part instanceof Part.Resistor r) {
                add(name, "resistance", Unit.OHM, r.resistance(), x -> new Part.Resistor(name, r.a(), r.b(), x));
            } else if (part instanceof Part.Inductor l) {
                collect(l);
            } else if (part instanceof Part.Capacitor c) {
                collect(c);
            } else if (part instanceof Part.Switch q) {
                collect(q);
            } else if (part instanceof Part.Rectifier d) {
                collect(d);
            } else if (part instanceof Part.VoltageSource v) {
                double volt = v.voltage().withoutSines().valueAt(0);
                add(
                        name,
                        "voltage",
                        Unit.VOLT,
                        volt,
                        x -> new Part.VoltageSource(name, v.plus(), v.minus(), moved(v.voltage(), x)));
            } else if (part instanceof Part.CurrentSource i) {
                double ampere = i.current().withoutSines().valueAt(0);
                add(
                        name,
                        "current",
                        Unit.AMPERE,
                        ampere,
                        x -> new Part.CurrentSource(name, i.from(), i.to(), moved(i.current(), x)));
            } else if (part instanceof Part.CoupledInductors t) {
                collect(t);
            } else if (part instanceof Part.IdealTransformer t) {
                collect(t);
            } else if (part instanceof NonlinearResistor n) {
                collect(n);
            }
        }

        /** A constant in place of steps and ramps, with the same ripple on it. */
        private static Profile moved(Profile profile, double value) {
            Profile moved = Profile.constant(value);
            for (Profile.Sine sine : profile.sines()) {
                moved = moved.withSine(sine.amplitude(), sine.frequency(), sine.phase());
            }
            return moved;
        }

        private void collect(Part.Inductor l) {
            add(
                    l.name(),
                    "inductance",
                    Unit.HENRY,
                    l.inductance(),
                    x -> inductor(l, x, l.seriesResistance(), l.saturation()));
            add(
                    l.name(),
                    "resistance",
                    Unit.OHM,
                    l.seriesResistance(),
                    x -> inductor(l, l.inductance(), x, l.saturation()));
            bends(
                    l.name() + ".saturation",
                    l.saturation(),
                    "inductance",
                    Unit.HENRY,
                    Unit.AMPERE,
                    bends -> inductor(l, l.inductance(), l.seriesResistance(), bends));
        }

        private static Part inductor(Part.Inductor l, double henry, double ohm, List<Bend> saturation) {
            return new Part.Inductor(l.name(), l.a(), l.b(), henry, ohm, l.initialCurrent(), saturation);
        }

        private void collect(Part.Capacitor c) {
            add(
                    c.name(),
                    "capacitance",
                    Unit.FARAD,
                    c.capacitance(),
                    x -> capacitor(c, x, c.seriesResistance(), c.bias()));
            add(
                    c.name(),
                    "resistance",
                    Unit.OHM,
                    c.seriesResistance(),
                    x -> capacitor(c, c.capacitance(), x, c.bias()));
            bends(
                    c.name() + ".bias",
                    c.bias(),
                    "capacitance",
                    Unit.FARAD,
                    Unit.VOLT,
                    bends -> capacitor(c, c.capacitance(), c.seriesResistance(), bends));
        }

        private static Part capacitor(Part.Capacitor c, double farad, double ohm, List<Bend> bias) {
            return new Part.Capacitor(c.name(), c.a(), c.b(), farad, ohm, c.initialVoltage(), bias);
        }

        private void bends(
                String list,
                List<Bend> bends,
                String quantity,
                Unit unit,
                Unit unitOfKnee,
                Function<List<Bend>, Part> writer) {
            for (int k = 0; k < bends.size(); k++) {
                int index = k;
                Bend bend = bends.get(k);
                String name = list + "[" + k + "]";
                add(
                        name,
                        quantity,
                        unit,
                        bend.value(),
                        x -> writer.apply(with(bends, index, new Bend(bend.above(), x))));
                add(
                        name,
                        "above",
                        unitOfKnee,
                        bend.above(),
                        x -> writer.apply(with(bends, index, new Bend(x, bend.value()))));
            }
        }

        private static List<Bend> with(List<Bend> bends, int index, Bend changed) {
            List<Bend> all = new ArrayList<>(bends);
            all.set(index, changed);
            return all;
        }

        private void collect(NonlinearResistor n) {
            for (CurrentCurve.Value value : n.curve().values()) {
                add(
                        n.name(),
                        value.quantity(),
                        value.unit(),
                        value.value(),
                        x -> new NonlinearResistor(
                                n.name(), n.a(), n.b(), value.writer().apply(x)));
            }
        }

        private void collect(Part.Switch q) {
            add(
                    q.name(),
                    "on_resistance",
                    Unit.OHM,
                    q.onResistance(),
                    x -> new Part.Switch(q.name(), q.a(), q.b(), x, q.forwardDrop()));
            add(
                    q.name(),
                    "forward_drop",
                    Unit.VOLT,
                    q.forwardDrop(),
                    x -> new Part.Switch(q.name(), q.a(), q.b(), q.onResistance(), x));
        }

        private void collect(Part.Rectifier d) {
            add(
                    d.name(),
                    "forward_drop",
                    Unit.VOLT,
                    d.forwardDrop(),
                    x -> rectifier(d, x, d.resistance(), d.junction()));
            add(d.name(), "resistance", Unit.OHM, d.resistance(), x -> rectifier(d, d.forwardDrop(), x, d.junction()));
            for (int k = 0; k < d.junction().forwardCurve().size(); k++) {
                int index = k;
                Junction.Point point = d.junction().forwardCurve().get(k);
                String name = d.name() + ".forward_curve[" + k + "]";
                add(name, "current", Unit.AMPERE, point.current(), x -> curved(d, index, x, point.voltage()));
                add(name, "voltage", Unit.VOLT, point.voltage(), x -> curved(d, index, point.current(), x));
            }
            Junction.Recovery recovery = d.junction().recovery();
            if (recovery != null) {
                String name = d.name() + ".recovery";
                add(name, "lifetime", Unit.SECOND, recovery.lifetime(), x -> recovering(d, x, recovery.transitTime()));
                add(
                        name,
                        "transit_time",
                        Unit.SECOND,
                        recovery.transitTime(),
                        x -> recovering(d, recovery.lifetime(), x));
            }
        }

        private static Part rectifier(Part.Rectifier d, double volt, double ohm, Junction junction) {
            return new Part.Rectifier(d.name(), d.anode(), d.cathode(), volt, ohm, junction);
        }

        private static Part curved(Part.Rectifier d, int index, double ampere, double volt) {
            Junction junction = d.junction().withPoint(index, new Junction.Point(ampere, volt));
            return rectifier(d, d.forwardDrop(), d.resistance(), junction);
        }

        private static Part recovering(Part.Rectifier d, double lifetime, double transitTime) {
            Junction junction = d.junction().withRecovery(new Junction.Recovery(lifetime, transitTime));
            return rectifier(d, d.forwardDrop(), d.resistance(), junction);
        }

        /** The self-inductance of a winding changes at the same coupling, the coupling at the same self-inductances. */
        private void collect(Part.CoupledInductors t) {
            for (int k = 0; k < t.windings().size(); k++) {
                int winding = k;
                String name = t.name() + "." + t.windings().get(k).name();
                add(name, "inductance", Unit.HENRY, inductance(t, k, k), x -> scaled(t, winding, x));
                add(
                        name,
                        "resistance",
                        Unit.OHM,
                        t.windings().get(k).seriesResistance(),
                        x -> new Part.CoupledInductors(t.name(), resistive(t.windings(), winding, x), t.inductances()));
            }
            if (t.windings().size() == 2) {
                double mutual = inductance(t, 0, 1);
                double mean = Math.sqrt(inductance(t, 0, 0) * inductance(t, 1, 1));
                add(t.name(), "coupling", Unit.ONE, mutual / mean, x -> coupled(t, x * mean));
                add(t.name(), "mutual_inductance", Unit.HENRY, mutual, x -> coupled(t, x));
            }
        }

        private static double inductance(Part.CoupledInductors t, int row, int column) {
            return t.inductances().get(row).get(column);
        }

        private static Part coupled(Part.CoupledInductors t, double mutual) {
            return new Part.CoupledInductors(
                    t.name(),
                    t.windings(),
                    List.of(List.of(inductance(t, 0, 0), mutual), List.of(mutual, inductance(t, 1, 1))));
        }

        private static Part scaled(Part.CoupledInductors t, int winding, double henry) {
            double root = Math.sqrt(henry / inductance(t, winding, winding));
            List<List<Double>> rows = new ArrayList<>();
            for (int row = 0; row < t.windings().size(); row++) {
                List<Double> changed = new ArrayList<>(t.inductances().get(row));
                for (int column = 0; column < changed.size(); column++) {
                    boolean own = row == winding && column == winding;
                    boolean shared = row == winding || column == winding;
                    double old = changed.get(column);
                    changed.set(column, own ? henry : shared ? old * root : old);
                }
                rows.add(List.copyOf(changed));
            }
            return new Part.CoupledInductors(t.name(), t.windings(), List.copyOf(rows));
        }

        private void collect(Part.IdealTransformer t) {
            for (int k = 0; k < t.windings().size(); k++) {
                int winding = k;
                String name = t.name() + "." + t.windings().get(k).name();
                add(name, "turns", Unit.ONE, t.turns().get(k), x -> {
                    List<Double> turns = new ArrayList<>(t.turns());
                    turns.set(winding, x);
                    return new Part.IdealTransformer(t.name(), t.windings(), List.copyOf(turns));
                });
                add(
                        name,
                        "resistance",
                        Unit.OHM,
                        t.windings().get(k).seriesResistance(),
                        x -> new Part.IdealTransformer(t.name(), resistive(t.windings(), winding, x), t.turns()));
            }
        }

        private static List<Part.Winding> resistive(List<Part.Winding> windings, int winding, double ohm) {
            List<Part.Winding> changed = new ArrayList<>(windings);
            changed.set(winding, windings.get(winding).withResistance(ohm));
            return List.copyOf(changed);
        }
    }
}
