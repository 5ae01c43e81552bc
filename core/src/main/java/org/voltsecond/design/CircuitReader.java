package org.voltsecond.design;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterBuilder;
import org.voltsecond.design.CircuitPlan.Switching;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Gates;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Spelling;

/** Reads a custom circuit: [[part]], [[gate]] or [drive], [output] and [roles]. */
final class CircuitReader {
    private static final Map<String, SwitchPattern.Timing> PATTERNS = new TreeMap<>(
            Stream.of(SwitchPattern.Timing.values()).collect(Collectors.toMap(Object::toString, timing -> timing)));

    private final Section root;
    private final PartReader parts = new PartReader();
    private Switching switching = Switching.BY_GATES;

    CircuitReader(Section root) {
        this.root = root;
    }

    static boolean isMeant(Section root) {
        return root.has("part");
    }

    /** A circuit and what drives it. */
    record Read(CircuitPlan plan, DrivePlan drive) {}

    /** Null after faults. */
    @Nullable
    Read read() {
        int before = root.faultCount();
        Circuit circuit = parts.read(root);
        DrivePlan drive = drive();
        List<String> output = output();
        Named named = Named.read(root);
        if (circuit == null || drive == null || root.faultCount() > before) {
            return null;
        }
        check(circuit, drive, output, named);
        return root.faultCount() > before ? null : together(circuit, drive, output, named);
    }

    private @Nullable Read together(Circuit circuit, DrivePlan drive, List<String> output, Named named) {
        try {
            Named told = named.rectifiers().isEmpty() && isAmbiguous(circuit, drive, output, named)
                    ? new Named(named.input(), rectifiers(circuit), named.synchronous())
                    : named;
            Roles roles = roles(Roles.unnamed(), circuit, drive, output, told).in(circuit);
            ConverterBuilder builder = roles(Converter.of(circuit), circuit, drive, output, told);
            if (roles.switchNode().isEmpty()) {
                // of several nodes at which current changes its way, the one at the first switch
                builder = builder.switchNode(liveNode(circuit, roles.switches().get(0)));
            }
            Converter converter = CircuitPlan.driven(builder, switching, drive);
            LineRipple ripple = parts.ripples().getOrDefault(roles.source(), LineRipple.NONE);
            LineInput input = new LineInput(converter.inputVoltage(), ripple);
            return new Read(new CircuitPlan(builder, switching, input, converter.load()), drive);
        } catch (InvalidStageException e) {
            e.faults().forEach(fault -> root.fault(table(fault), written(fault)));
            return null;
        } catch (IllegalArgumentException e) {
            // the driven circuit as a whole: a line for each fault after the first line
            String told = String.valueOf(e.getMessage());
            Stream.of(told.split("\n", -1))
                    .skip(told.indexOf('\n') < 0 ? 0 : 1)
                    .forEach(fault -> root.fault("gate", fault));
            return null;
        }
    }

    private static String table(String fault) {
        boolean ofDrive = Stream.of("regulator", "timing", "sensed currents").anyMatch(fault::startsWith);
        return fault.startsWith("drive") ? "gate" : ofDrive ? "drive" : "part";
    }

    /** Whether the rectifiers alone cannot be told from each other. */
    private boolean isAmbiguous(Circuit circuit, DrivePlan drive, List<String> output, Named named) {
        try {
            roles(Roles.unnamed(), circuit, drive, output, named).in(circuit);
            return false;
        } catch (InvalidStageException e) {
            return e.faults().stream().allMatch(fault -> fault.startsWith("rectifiers: "));
        }
    }

    /** All but those across a switch: where none leads to a rail, as of a transformer's secondaries, all are taken. */
    private static List<String> rectifiers(Circuit circuit) {
        List<Set<String>> switches = circuit.parts().stream()
                .filter(Part.Switch.class::isInstance)
                .map(CircuitReader::ends)
                .toList();
        return circuit.parts().stream()
                .filter(part -> part instanceof Part.Rectifier && !switches.contains(ends(part)))
                .map(Part::name)
                .toList();
    }

    private static Set<String> ends(Part part) {
        Port port = part.ports().get(0);
        return Set.of(port.plus(), port.minus());
    }

    /** How a role is named in a file, in place of how it is in Java. */
    private static String written(String fault) {
        return fault.replaceAll("; name (it|them) with .*", "; valid: its name in the table [roles] or [output]");
    }

    private <B extends RoleNaming<B>> B roles(
            B from, Circuit circuit, DrivePlan drive, List<String> output, Named named) {
        B roles = from.output(output.get(0), output.get(1));
        List<String> closing = drive instanceof Gates gates
                ? gates.drives().keySet().stream()
                        .filter(name -> !named.synchronous().contains(name))
                        .toList()
                : switching.switches();
        List<String> between = drive instanceof Gates ? named.synchronous() : switching.complementary();
        roles = roles.switches(closing.toArray(new String[0]));
        roles = between.isEmpty() ? roles : roles.synchronous(between.toArray(new String[0]));
        roles = named.rectifiers().isEmpty()
                ? roles
                : roles.rectifiers(named.rectifiers().toArray(new String[0]));
        roles = named.input().isEmpty() ? roles : roles.input(named.input());
        if (!(drive instanceof Gates)) {
            roles = roles.timing(switching.timing());
        }
        List<String> sensed = switching.currents();
        if (!sensed.isEmpty() && !coils(circuit).equals(sensed)) {
            roles = roles.sensing(sensed.toArray(new String[0]));
        }
        return roles.inductorCurrent(
                sensed.stream().filter(coils(circuit)::contains).findFirst().orElseGet(() -> firstCoil(circuit)));
    }

    private static List<String> coils(Circuit circuit) {
        return circuit.ports().stream()
                .filter(port -> circuit.part(port.part()) instanceof Part.Inductor
                        || circuit.part(port.part()) instanceof Part.CoupledInductors)
                .map(Port::name)
                .toList();
    }

    private static String firstCoil(Circuit circuit) {
        return coils(circuit).get(0);
    }

    private static String liveNode(Circuit circuit, String name) {
        Port port = circuit.part(name).ports().get(0);
        return port.plus().equals(Circuit.GROUND) ? port.minus() : port.plus();
    }

    private void check(Circuit circuit, DrivePlan drive, List<String> output, Named named) {
        List<String> nodes = new ArrayList<>(circuit.nodes());
        nodes.add(Circuit.GROUND);
        known("output", "a node of the output", output, nodes);
        if (output.size() == 2 && output.get(0).equals(output.get(1))) {
            root.fault("output", "lies between two different nodes but both were " + output.get(0));
        }
        List<String> switches = names(circuit, Part.Switch.class);
        known("roles", "a switch", named.synchronous(), switches);
        known("roles", "a rectifier", named.rectifiers(), names(circuit, Part.Rectifier.class));
        if (!named.input().isEmpty()) {
            known("roles", "a voltage source", List.of(named.input()), names(circuit, Part.VoltageSource.class));
        }
        if (coils(circuit).isEmpty()) {
            root.fault("part", "none is an inductor, of whose current the figures tell; valid: one inductor or more");
        }
        known(
                "drive",
                "a part, or a winding,",
                switching.currents(),
                circuit.ports().stream().map(Port::name).toList());
        checkDriven(switches, drive);
    }

    private void checkDriven(List<String> switches, DrivePlan drive) {
        List<String> driven = new ArrayList<>();
        if (drive instanceof Gates gates) {
            driven.addAll(gates.drives().keySet());
        } else {
            driven.addAll(switching.switches());
            driven.addAll(switching.complementary());
            driven.addAll(switching.gates().keySet());
        }
        boolean alternates = switching.timing() == SwitchPattern.Timing.ALTERNATING;
        if (drive instanceof FixedDuty fixed && alternates && fixed.dutyCycle() > 0.5) {
            root.fault("drive", "duty_cycle of alternating halves is " + fixed.dutyCycle() + "; valid: from 0 to 0.5");
        }
        String table = drive instanceof Gates ? "gate" : "drive";
        known(table, "a switch", driven, switches);
        for (String name : switches) {
            if (driven.indexOf(name) != driven.lastIndexOf(name)) {
                root.fault(table, "drives " + name + " twice; valid: each switch once");
            } else if (!driven.contains(name)) {
                root.fault(table, "the switch " + name + " has no drive; valid: one for each of " + switches);
            }
        }
    }

    private void known(String table, String what, List<String> given, List<String> valid) {
        for (String name : given) {
            if (!valid.contains(name)) {
                root.fault(
                        table,
                        "\"" + Printable.of(name) + "\" is not " + what + " of the circuit"
                                + Spelling.hint("; nearest: ", name, valid) + "; valid: " + String.join(", ", valid));
            }
        }
    }

    private static List<String> names(Circuit circuit, Class<? extends Part> kind) {
        return circuit.parts().stream().filter(kind::isInstance).map(Part::name).toList();
    }

    /** Something harmless after a fault. */
    private List<String> output() {
        Section output = root.requiredTable("output", "between, for example between = [\"out\", \"ground\"]");
        if (output == null) {
            return List.of("", "");
        }
        List<String> nodes = PartReader.between(output);
        output.finish();
        return nodes;
    }

    private @Nullable DrivePlan drive() {
        if (!root.has("gate") && !root.has("drive")) {
            root.fault("part", "neither [[gate]] nor [drive] is given; valid: one of the two, or both");
            return null;
        }
        Gates gates = root.has("gate") ? gates() : null;
        if (!root.has("drive")) {
            return gates;
        }
        DrivePlan drive = driven();
        if (gates != null) {
            switching = switching.beside(gates.drives());
        }
        return drive;
    }

    private @Nullable Gates gates() {
        int before = root.faultCount();
        Map<String, Drive> drives = new LinkedHashMap<>();
        for (Section gate : root.tables("gate")) {
            String name = gate.text("switch", "");
            double duty = gate.quantity("duty_cycle");
            double frequency = gate.quantity("switching_frequency");
            double delay = gate.quantity("delay");
            gate.finish();
            if (drives.containsKey(name)) {
                gate.fault("switch", name + " has two gates; valid: one for each switch");
            }
            if (Double.isFinite(duty) && Double.isFinite(frequency) && Double.isFinite(delay)) {
                Drive drive = Drive.fixedDuty(duty, frequency);
                drives.put(name, delay == 0 ? drive : drive.delayedBy(delay));
            }
        }
        return root.faultCount() > before || drives.isEmpty() ? null : new Gates(drives);
    }

    private @Nullable DrivePlan driven() {
        DrivePlan plan = DriveReader.read(root, drive -> {
            SwitchPattern.Timing timing = drive.choice("pattern", PATTERNS);
            switching = new Switching(
                    timing == null ? SwitchPattern.Timing.TOGETHER : timing,
                    drive.names("switches"),
                    drive.names("complementary"),
                    drive.quantity("dead_time"),
                    drive.nameOrNames("current"),
                    Map.of());
            if (switching.switches().isEmpty()) {
                drive.fault(
                        "switches",
                        "missing; valid: the switches that a pulse closes, for example " + drive.example("switches"));
            }
        });
        return plan instanceof Regulated regulated && switching.deadTime() > 0 ? withDeadTime(regulated) : plan;
    }

    private Regulated withDeadTime(Regulated regulated) {
        Protection protection = regulated.regulator().protection();
        if (protection.synchronous().deadTime() > 0) {
            root.fault("protection", "dead_time is given in [drive] as well; valid: one of the two");
        }
        return regulated.with(regulated
                .regulator()
                .withProtection(protection.withSynchronousRectification(
                        protection.synchronous().rectification(), switching.deadTime())));
    }

    /** Roles that the file names; empty for what is to be found. */
    private record Named(String input, List<String> rectifiers, List<String> synchronous) {
        static Named read(Section root) {
            Section roles = root.table("roles");
            if (roles == null) {
                return new Named("", List.of(), List.of());
            }
            Named named = new Named(roles.text("input", ""), roles.names("rectifiers"), roles.names("synchronous"));
            roles.finish();
            return named;
        }
    }
}
