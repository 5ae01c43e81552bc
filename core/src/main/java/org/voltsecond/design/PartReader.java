package org.voltsecond.design;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.BiConsumer;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.InvalidCircuitException;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Part.Winding;
import org.voltsecond.circuit.Profile;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Printable;

/** Reads the tables [[part]] into a circuit. */
final class PartReader {
    /** Names stand in paths of figures and of values, which are parted by slashes and dots. */
    private static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}_+-]+");

    private static final String VALID_NAME = "letters, digits, _, + and -";

    private final Map<String, BiConsumer<Section, String>> kinds = new TreeMap<>(Map.of(
            "voltage-source", this::voltageSource,
            "current-source", this::currentSource,
            "resistor", this::resistor,
            "inductor", this::inductor,
            "capacitor", this::capacitor,
            "switch", this::switchPart,
            "rectifier", this::rectifier,
            "coupled-inductors", this::coupledInductors,
            "ideal-transformer", this::idealTransformer,
            "load", this::load));

    private final Circuit.Builder circuit = Circuit.builder();
    private final Map<String, Section> places = new LinkedHashMap<>();
    private final Map<String, LineRipple> ripples = new LinkedHashMap<>();

    /** Null after faults. */
    @Nullable
    Circuit read(Section root) {
        int before = root.faultCount();
        for (Section part : root.tables("part")) {
            String name = part.text("name", "");
            BiConsumer<Section, String> reader = part.choice("kind", kinds);
            if (part.has("name") && !NAME.matcher(name).matches()) {
                part.fault(
                        "name", "is not a valid name of a part: \"" + Printable.of(name) + "\"; valid: " + VALID_NAME);
            }
            if (places.containsKey(name) && !name.isEmpty()) {
                part.fault("name", "two parts have the name " + name + "; valid: a name of its own");
            }
            places.put(name, part);
            if (reader != null) {
                reader.accept(part, name);
                part.finish();
            }
        }
        return root.faultCount() > before ? null : built(root);
    }

    /** The ripple on a source, by its name. */
    Map<String, LineRipple> ripples() {
        return ripples;
    }

    private @Nullable Circuit built(Section root) {
        try {
            return circuit.build();
        } catch (InvalidCircuitException e) {
            e.faults().forEach(fault -> {
                String name = fault.replaceFirst("[.:].*", "");
                Section place = places.get(name);
                if (place == null) {
                    root.fault("part", fault);
                } else {
                    place.fault(fault);
                }
            });
            return null;
        }
    }

    /** The two nodes of a part or winding; something harmless after a fault. */
    static List<String> between(Section section) {
        List<String> nodes = section.names("between");
        for (String node : nodes) {
            if (!NAME.matcher(node).matches()) {
                section.fault(
                        "between",
                        "is not a valid name of a node: \"" + Printable.of(node) + "\"; valid: " + VALID_NAME);
            }
        }
        return nodes.isEmpty() ? List.of("", "") : nodes;
    }

    private void voltageSource(Section part, String name) {
        List<String> nodes = between(part);
        double volt = part.quantity("voltage");
        LineRipple ripple = LineRipple.read(part);
        Profile course = Profile.constant(volt);
        if (ripple != null && ripple.amplitude() > 0) {
            ripples.put(name, ripple);
            course = course.withSine(ripple.amplitude(), ripple.frequency(), 0);
        }
        circuit.voltageSource(name, nodes.get(0), nodes.get(1), course);
    }

    private void currentSource(Section part, String name) {
        circuit.currentSource(name, part.text("from", ""), part.text("to", ""), part.quantity("current"));
    }

    private void resistor(Section part, String name) {
        List<String> nodes = between(part);
        circuit.resistor(name, nodes.get(0), nodes.get(1), part.quantity("resistance"));
    }

    private void load(Section part, String name) {
        List<String> nodes = between(part);
        Load load = LoadReader.part(part);
        if (load != null) {
            circuit.part(new NonlinearResistor(
                    name, nodes.get(0), nodes.get(1), load.curve().orElseThrow()));
        }
    }

    private void inductor(Section part, String name) {
        Storing stored = Storing.read(part, "inductance");
        List<String> nodes = between(part);
        circuit.part(new Part.Inductor(
                name, nodes.get(0), nodes.get(1), stored.value(), part.quantity("resistance"), 0, stored.bends()));
    }

    private void capacitor(Section part, String name) {
        Storing stored = Storing.read(part, "capacitance");
        List<String> nodes = between(part);
        circuit.part(new Part.Capacitor(
                name, nodes.get(0), nodes.get(1), stored.value(), part.quantity("resistance"), 0, stored.bends()));
    }

    /**
     * What stores energy, as its value and its bends, or as the curve of a data sheet.
     *
     * @param value inductance or capacitance below the first bend; not a number after a fault
     * @param bends where it changes; none after a fault
     */
    record Storing(double value, List<Bend> bends) {
        /** Reads the value of a key that ends with "inductance" or "capacitance", with what belongs to it. */
        static Storing read(Section part, String key) {
            String quantity = key.endsWith("inductance") ? "inductance" : "capacitance";
            String list = quantity.equals("inductance") ? "saturation" : "bias";
            String curve = list + "_curve";
            double within = part.quantity(list + "_within");
            if (!part.has(curve)) {
                return new Storing(part.quantity(key), PartReader.bends(part, list, quantity));
            }
            for (String other : List.of(key, list)) {
                if (part.has(other)) {
                    part.fault(
                            other,
                            "is given beside " + curve + "; valid: one of them, the curve has the value without "
                                    + (list.equals("bias") ? "voltage" : "current") + " in it");
                }
            }
            return fitted(part, curve, quantity, within);
        }

        /** The curve as segments; how near they are to it is noted. */
        private static Storing fitted(Section part, String curve, String quantity, double within) {
            int before = part.faultCount();
            List<Bend> points = new ArrayList<>();
            for (Section point : part.tables(curve)) {
                Bend read = new Bend(point.quantity("at"), point.quantity(quantity));
                if (!points.isEmpty()
                        && read.above() <= points.get(points.size() - 1).above()) {
                    point.fault("at", "must be more than that of the point before it; valid: ascending order");
                }
                points.add(read);
                point.finish();
            }
            if (points.isEmpty() || part.faultCount() > before || !(within > 0)) {
                if (points.isEmpty()) {
                    part.fault(curve, "has no point; valid: " + part.example(curve));
                }
                return new Storing(Double.NaN, List.of());
            }
            Bend.Fit fit = Bend.fit(
                    points.stream().mapToDouble(Bend::above).toArray(),
                    points.stream().mapToDouble(Bend::value).toArray(),
                    within);
            part.note(
                    curve,
                    String.format(
                            Locale.ROOT,
                            "%d segments, within %.1f %% of the curve; %s within %.2f %%",
                            fit.bends().size() + 1,
                            100 * fit.error(),
                            quantity.equals("inductance") ? "flux" : "charge",
                            100 * fit.storedError()));
            return new Storing(fit.value(), fit.bends());
        }
    }

    /** Where an inductance or a capacitance changes, in ascending order; none after a fault. */
    private static List<Bend> bends(Section part, String list, String quantity) {
        int before = part.faultCount();
        List<Bend> bends = new ArrayList<>();
        for (Section table : part.tables(list)) {
            Bend bend = new Bend(table.quantity("above"), table.quantity(quantity));
            double last = bends.isEmpty() ? 0 : bends.get(bends.size() - 1).above();
            if (bend.above() <= last) {
                table.fault(
                        "above",
                        "must be more than that of the bend before it, " + last + ", but was " + bend.above()
                                + "; valid: ascending order");
            }
            bends.add(bend);
            table.finish();
        }
        return part.faultCount() > before ? List.of() : bends;
    }

    /** A body diode carries current from the second node to the first. */
    private void switchPart(Section part, String name) {
        List<String> nodes = between(part);
        double resistance = part.quantity("on_resistance");
        circuit.switchPart(name, nodes.get(0), nodes.get(1), resistance, part.quantity("forward_drop"));
        Section diode = part.table("body_diode");
        if (diode != null) {
            Junction junction = junction(diode, "forward_curve", "recovery");
            double drop = diode.quantity("forward_drop");
            double slope = diode.quantity("resistance");
            circuit.part(new Part.Rectifier(name + "-diode", nodes.get(1), nodes.get(0), drop, slope, junction));
            places.put(name + "-diode", part);
            diode.finish();
        }
    }

    private void rectifier(Section part, String name) {
        List<String> nodes = between(part);
        Junction junction = junction(part, "forward_curve", "recovery");
        circuit.part(new Part.Rectifier(
                name, nodes.get(0), nodes.get(1), drop(part, junction), part.quantity("resistance"), junction));
    }

    /** The forward drop; of a curve that at which its first two points would end where no other is given. */
    static double drop(Section part, Junction junction) {
        return part.quantity("forward_drop", junction.dropAtNoCurrent());
    }

    /** What a diode has beyond drop and resistance; an ideal one after faults. */
    static Junction junction(Section part, String curve, String recovery) {
        int before = part.faultCount();
        List<Junction.Point> points = new ArrayList<>();
        for (Section point : part.tables(curve)) {
            points.add(new Junction.Point(point.quantity("current"), point.quantity("voltage")));
            point.finish();
        }
        Section charge = part.table(recovery);
        Junction.Recovery read = charge == null ? null : recovery(charge);
        return part.faultCount() > before ? Junction.IDEAL : new Junction(points, read);
    }

    private static final List<String> TIMES = List.of("lifetime", "transit_time");
    private static final List<String> DATA_SHEET = List.of("forward_current", "slope", "peak_current", "charge");

    /** Null after a fault. */
    private static Junction.@Nullable Recovery recovery(Section charge) {
        int before = charge.faultCount();
        boolean times = TIMES.stream().anyMatch(charge::has);
        List<String> wanted = times ? TIMES : DATA_SHEET;
        double[] value = wanted.stream().mapToDouble(charge::required).toArray();
        for (String other : times ? DATA_SHEET : TIMES) {
            if (charge.has(other)) {
                charge.fault(other, "is given beside " + wanted + "; valid: " + TIMES + ", or " + DATA_SHEET);
            }
        }
        charge.finish();
        if (charge.faultCount() > before) {
            return null;
        }
        try {
            return times
                    ? new Junction.Recovery(value[0], value[1])
                    : Junction.Recovery.ofDataSheet(value[0], value[1], value[2], value[3]);
        } catch (IllegalArgumentException e) {
            charge.fault(String.valueOf(e.getMessage()));
            return null;
        }
    }

    private void coupledInductors(Section part, String name) {
        List<Double> inductances = new ArrayList<>();
        List<Winding> windings = windings(part, "inductance", inductances);
        double[][] couplings = couplings(part, windings.size());
        if (couplings != null) {
            double[][] matrix = new double[couplings.length][couplings.length];
            for (int i = 0; i < matrix.length; i++) {
                for (int j = 0; j < matrix.length; j++) {
                    matrix[i][j] = i == j
                            ? inductances.get(i)
                            : couplings[i][j] * Math.sqrt(inductances.get(i) * inductances.get(j));
                }
            }
            circuit.coupledInductors(name, windings, matrix);
        }
    }

    private void idealTransformer(Section part, String name) {
        List<Double> turns = new ArrayList<>();
        List<Winding> windings = windings(part, "turns", turns);
        circuit.idealTransformer(
                name, windings, turns.stream().mapToDouble(Double::doubleValue).toArray());
    }

    private static List<Winding> windings(Section part, String key, List<Double> values) {
        List<Winding> windings = new ArrayList<>();
        for (Section winding : part.tables("windings")) {
            List<String> nodes = between(winding);
            values.add(winding.required(key));
            windings.add(Winding.of(String.valueOf(windings.size() + 1), nodes.get(0), nodes.get(1))
                    .withResistance(winding.quantity("resistance")));
            winding.finish();
        }
        if (windings.size() < 2) {
            part.fault(
                    "windings",
                    "must be two or more but are " + windings.size() + "; valid: " + part.example("windings"));
        }
        return windings;
    }

    /** Null after a fault. */
    private static double @Nullable [][] couplings(Section part, int windings) {
        if (part.has("coupling") == part.has("couplings")) {
            part.fault((part.has("coupling") ? "both coupling and couplings are" : "neither coupling nor couplings is")
                    + " given; valid: one of the two, for example coupling = " + part.example("coupling"));
            return null;
        }
        if (part.has("couplings")) {
            return matrix(part, windings);
        }
        double coupling = part.quantity("coupling");
        if (windings > 2) {
            part.fault("coupling", "is for two windings but there are " + windings + "; valid: couplings, a matrix");
        }
        return windings != 2 || Double.isNaN(coupling) ? null : new double[][] {{1, coupling}, {coupling, 1}};
    }

    private static double @Nullable [][] matrix(Section part, int windings) {
        int before = part.faultCount();
        double[][] matrix = new double[windings][windings];
        String valid =
                "; valid: " + windings + " rows of as many numbers from -1 to 1, symmetric, with ones on the diagonal";
        DesignTree.Items rows = part.given("couplings") instanceof DesignTree.Items array ? array : null;
        for (int i = 0; i < windings; i++) {
            DesignTree.Items row =
                    rows != null && rows.size() == windings && rows.get(i) instanceof DesignTree.Items array
                            ? array
                            : null;
            if (row == null || row.size() != windings) {
                part.fault("couplings", "is not a square matrix for " + windings + " windings" + valid);
                return null;
            }
            for (int j = 0; j < windings; j++) {
                matrix[i][j] = row.get(j) instanceof Number number ? number.doubleValue() : Double.NaN;
                if (!(Math.abs(matrix[i][j]) <= 1) || (i == j && matrix[i][j] != 1)) {
                    part.fault("couplings", "has " + row.get(j) + " in row " + (i + 1) + ", column " + (j + 1) + valid);
                } else if (j < i && matrix[i][j] != matrix[j][i]) {
                    part.fault(
                            "couplings",
                            "is not symmetric: " + matrix[i][j] + " and " + matrix[j][i] + " between windings "
                                    + (j + 1) + " and " + (i + 1) + valid);
                }
            }
        }
        return part.faultCount() > before ? null : matrix;
    }
}
