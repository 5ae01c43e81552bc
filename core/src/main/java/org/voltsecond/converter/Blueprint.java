package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.InvalidCircuitException;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.circuit.Port;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.StageWiring;
import org.voltsecond.stage.Topology;

/**
 * What a converter is made of: a circuit, the roles of its parts, and what drives it; a value of which every change gives
 * another one.
 *
 * @param topology the stage that wired it, or what stands for a custom circuit
 * @param power the circuit without an error amplifier; the load is a resistor and a sink side by side
 * @param roles the roles of its parts, complete
 * @param drives those of its switches; where a regulator drives them those that it leaves alone
 * @param regulator the regulator, if one drives the switches
 * @param amplifier the error amplifier that makes the regulator's control voltage, if one does
 */
record Blueprint(
        Topology topology,
        Circuit power,
        Roles roles,
        Map<String, Drive> drives,
        @Nullable Regulator regulator,
        @Nullable ErrorAmplifier amplifier) {

    Blueprint {
        drives = Collections.unmodifiableMap(new LinkedHashMap<>(drives));
    }

    /** A stage of parts that were checked; nothing drives it yet. */
    static Blueprint of(Topology topology, StageParts parts) {
        Topology stage = topology.with(parts);
        StageWiring wiring = new StageWiring(stage, parts);
        stage.wire(wiring);
        try {
            return of(stage, wiring.circuit().build(), wiring.roles());
        } catch (InvalidCircuitException e) {
            throw new InvalidStageException(topology + " stage", e.faults());
        }
    }

    /** A custom circuit, or one that a stage has wired; the half of the load that it has not is added. */
    static Blueprint of(Topology topology, Circuit circuit, Roles named) {
        Roles roles = named.in(circuit);
        Circuit.Builder builder = Circuit.builder();
        circuit.parts().forEach(builder::part);
        Set<String> names = circuit.parts().stream().map(Part::name).collect(Collectors.toCollection(HashSet::new));
        if (roles.loadResistor().isEmpty()) {
            String free = ErrorAmplifier.Wiring.free(names, StageWiring.LOAD_RESISTOR);
            builder.part(Load.current(0).resistor(free, roles.outputNode(), roles.outputReference(), false));
        }
        if (roles.loadSink().isEmpty()) {
            String free = ErrorAmplifier.Wiring.free(names, StageWiring.LOAD_SINK);
            builder.currentSource(free, roles.outputNode(), roles.outputReference(), 0);
        }
        Circuit loaded = builder.build();
        return new Blueprint(topology, loaded, roles.in(loaded), Map.of(), null, null);
    }

    // ---------------------------------------------------------------------------------------------- what is there

    boolean isRegulated() {
        return regulator != null;
    }

    /** The regulator of a converter that is regulated. */
    Regulator requiredRegulator() {
        return Objects.requireNonNull(regulator);
    }

    /** The drive of the first leg that switches at all, else of the transistor, of a converter that is not regulated. */
    Drive drive() {
        return roles.pattern().legs().stream()
                .map(leg -> Objects.requireNonNull(drives.get(leg.switches().get(0))))
                .filter(drive -> drive.dutyCycle() > 0 && drive.dutyCycle() < 1)
                .findFirst()
                .orElseGet(() -> Objects.requireNonNull(drives.get(roles.transistor())));
    }

    Set<String> partNames() {
        return power.parts().stream().map(Part::name).collect(Collectors.toUnmodifiableSet());
    }

    boolean isSynchronous() {
        return !roles.synchronous().isEmpty();
    }

    /** The course of the source that feeds the converter. */
    Profile input() {
        return ((Part.VoltageSource) power.part(roles.source())).voltage();
    }

    /** V, without the ripple on it. */
    double inputVoltage() {
        return input().withoutSines().valueAt(0);
    }

    /** The load, as it is at the start of a run. */
    Load load() {
        Part resistor = power.part(roles.loadResistor().orElseThrow());
        double conductance = resistor instanceof ControlledSource.CurrentByVoltage by ? by.factor() : 0;
        double current = sink().valueAt(0);
        double magnitude = roles.isInverting() ? 0 - current : current;
        if (resistor instanceof Part.Resistor r) {
            return Load.of(r.resistance(), Math.max(0, magnitude));
        }
        if (resistor instanceof NonlinearResistor n) {
            boolean along = n.a().equals(roles.outputNode());
            return Load.of(along == roles.isInverting() ? n.curve().mirrored() : n.curve());
        }
        return conductance > 0 ? Load.of(1 / conductance, magnitude) : Load.current(Math.max(0, magnitude));
    }

    /** The course of the current that the sink of the load draws. */
    Profile sink() {
        return ((Part.CurrentSource) power.part(roles.loadSink().orElseThrow())).current();
    }

    /** The diode across a switch; null for none. */
    Part.@Nullable Rectifier bodyDiode(String switchName) {
        Port channel = power.part(switchName).ports().get(0);
        for (Part part : power.parts()) {
            if (part instanceof Part.Rectifier diode && !roles.rectifiers().contains(diode.name())) {
                boolean along =
                        diode.anode().equals(channel.plus()) && diode.cathode().equals(channel.minus());
                boolean against =
                        diode.anode().equals(channel.minus()) && diode.cathode().equals(channel.plus());
                if (along || against) {
                    return diode;
                }
            }
        }
        return null;
    }

    /** Everything that runs: the power parts, then those of the error amplifier. */
    Circuit circuit() {
        return amplifier == null ? power : amplified().circuit();
    }

    /** The error amplifier as parts of the circuit; there must be one. */
    ErrorAmplifier.Wiring amplified() {
        return new ErrorAmplifier.Wiring(power, roles, Objects.requireNonNull(amplifier));
    }

    /** Whether the reference of an error amplifier rises. */
    boolean startsSoftly() {
        return amplifier != null && amplifier.softStart() != 0;
    }

    /** Once the soft start of the error amplifier is over; that of a regulator of its own is over in what runs on. */
    Blueprint started() {
        ErrorAmplifier by = amplifier;
        return by == null || by.softStart() == 0 ? this : regulatedBy(requiredRegulator(), by.withSoftStart(0));
    }

    // --------------------------------------------------------------------------------------------- changed copies

    Blueprint with(Circuit changed) {
        return new Blueprint(topology, changed, roles, drives, regulator, amplifier);
    }

    Blueprint with(Circuit changed, Roles changedRoles) {
        return new Blueprint(topology, changed, changedRoles, drives, regulator, amplifier);
    }

    /** With another value of a part, by its name as {@link PartValue} has it. */
    Blueprint with(String name, double value) {
        return with(refusing(() -> PartValue.of(power, name).set(value)));
    }

    /** A circuit that cannot be built is told as a stage that cannot. */
    Circuit refusing(Supplier<Circuit> change) {
        try {
            return change.get();
        } catch (InvalidCircuitException e) {
            throw new InvalidStageException(topology + " stage", e.faults());
        }
    }

    /** With another part in place of one, or beside it. */
    Circuit replaced(String name, Part... by) {
        return refusing(() -> {
            Circuit.Builder builder = Circuit.builder();
            for (Part part : power.parts()) {
                for (Part each : part.name().equals(name) ? by : new Part[] {part}) {
                    builder.part(each);
                }
            }
            return builder.build();
        });
    }

    Blueprint withInput(Profile course) {
        return with(refusing(() -> power.withVoltage(roles.source(), course)));
    }

    Blueprint withLoad(Load load) {
        String resistor = roles.loadResistor().orElseThrow();
        String sink = roles.loadSink().orElseThrow();
        Part part = load.resistor(resistor, roles.outputNode(), roles.outputReference(), roles.isInverting());
        boolean sameKind = part instanceof Part.Resistor
                && power.part(resistor) instanceof Part.Resistor
                && power.part(resistor).ports().equals(part.ports());
        Circuit loaded = sameKind
                ? refusing(() -> power.withResistance(resistor, ((Part.Resistor) part).resistance()))
                : replaced(resistor, part);
        return with(loaded.withCurrent(sink, load.sink(roles.isInverting())));
    }

    /** With a capacitor across the input of the stage, in place of one that is there. */
    Blueprint withAcrossInput(String name, double capacitance, double seriesResistance) {
        Port source = power.part(roles.source()).ports().get(0);
        Part across = new Part.Capacitor(
                name, roles.stageInput().orElse(source.plus()), source.minus(), capacitance, seriesResistance, 0);
        if (roles.inputCapacitors().contains(name)) {
            return with(replaced(name, across));
        }
        String first = power.parts().get(0).name();
        Roles more = roles.inputCapacitors(Stream.concat(roles.inputCapacitors().stream(), Stream.of(name))
                        .toArray(String[]::new))
                .heat("input filter", name);
        return with(replaced(first, power.part(first), across), more);
    }

    /** With parts between the source and what it feeds: the source moves out to two other nodes. */
    Blueprint fedThrough(String plus, String minus, String words, List<Part> parts) {
        Part.VoltageSource source = (Part.VoltageSource) power.part(roles.source());
        List<Part> before =
                new ArrayList<>(List.of(new Part.VoltageSource(source.name(), plus, minus, source.voltage())));
        before.addAll(parts);
        List<String> lines = List.of(plus, minus, source.plus(), source.minus());
        Stream<String> across = parts.stream()
                .filter(part -> part instanceof Part.Capacitor capacitor
                        && lines.containsAll(List.of(capacitor.a(), capacitor.b())))
                .map(Part::name);
        Roles more = roles.heat(words, parts.stream().map(Part::name).toArray(String[]::new))
                .inputCapacitors(
                        Stream.concat(roles.inputCapacitors().stream(), across).toArray(String[]::new));
        return with(
                replaced(source.name(), before.toArray(Part[]::new)),
                roles.stageInput().isPresent() ? more : more.stageInput(source.plus()));
    }

    /** With a diode across a switch, in place of one that is there. */
    Blueprint withBodyDiode(String switchName, double forwardDrop, double resistance) {
        Part.Switch channel = (Part.Switch) power.part(switchName);
        Part.Rectifier old = bodyDiode(switchName);
        boolean rectifies = roles.synchronous().contains(switchName);
        String anode = rectifies ? channel.a() : channel.b();
        String cathode = rectifies ? channel.b() : channel.a();
        String name = old == null
                ? free(rectifies ? StageWiring.SYNCHRONOUS_BODY_DIODE : StageWiring.BODY_DIODE)
                : old.name();
        Junction junction = old == null ? Junction.IDEAL : old.junction();
        Part diode = new Part.Rectifier(name, anode, cathode, forwardDrop, resistance, junction);
        return with(old == null ? replaced(switchName, channel, diode) : replaced(name, diode));
    }

    /** With diodes in place of all rectifiers, or of the switches that stand in for them, whose body diodes then go too. */
    Blueprint withDiode(double forwardDrop, double resistance) {
        Blueprint result = this;
        List<String> diodes = new ArrayList<>();
        for (String old : allRectifiers()) {
            Part part = result.power.part(old);
            if (part instanceof Part.Rectifier diode) {
                Part other = new Part.Rectifier(
                        old, diode.anode(), diode.cathode(), forwardDrop, resistance, diode.junction());
                result = result.with(result.replaced(old, other));
                diodes.add(old);
            } else {
                Part.Switch channel = (Part.Switch) part;
                Part.Rectifier across = bodyDiode(old);
                result = across == null ? result : result.with(result.replaced(across.name()));
                String name = result.free(StageWiring.DIODE);
                Part diode = new Part.Rectifier(name, channel.a(), channel.b(), forwardDrop, resistance);
                result = result.with(result.replaced(old, diode));
                diodes.add(name);
            }
        }
        Map<String, Drive> left = new LinkedHashMap<>(drives);
        left.keySet().removeAll(roles.synchronous());
        Roles told = roles.with(RoleNaming.Role.SYNCHRONOUS).rectifiers(diodes.toArray(String[]::new));
        return new Blueprint(topology, result.power, told, left, regulator, amplifier);
    }

    /** With switches in place of all rectifiers; body diodes that are there stay. */
    Blueprint withSwitch(double onResistance) {
        Blueprint result = this;
        List<String> names = new ArrayList<>();
        for (String old : allRectifiers()) {
            if (result.power.part(old) instanceof Part.Rectifier diode) {
                String name = result.free(StageWiring.SYNCHRONOUS_TRANSISTOR);
                Part channel = new Part.Switch(name, diode.anode(), diode.cathode(), onResistance);
                result = result.with(result.replaced(old, channel));
                names.add(name);
            } else {
                result = result.with(old + ".on_resistance", onResistance);
                names.add(old);
            }
        }
        Roles told = roles.with(RoleNaming.Role.RECTIFIERS).synchronous(names.toArray(String[]::new));
        Blueprint rectified = new Blueprint(topology, result.power, told, drives, regulator, amplifier);
        return isRegulated() ? rectified : rectified.drivenBy(drives);
    }

    private List<String> allRectifiers() {
        List<String> all = new ArrayList<>(roles.rectifiers());
        all.addAll(roles.synchronous());
        return all;
    }

    private String free(String name) {
        return ErrorAmplifier.Wiring.free(partNames(), name);
    }

    /** With drives of all switches; those that stand in for rectifiers are closed while that of their leg is open, if not given. */
    Blueprint drivenBy(Map<String, Drive> given) {
        Map<String, Drive> all = new LinkedHashMap<>(given);
        for (SwitchPattern.Leg leg : roles.pattern().legs()) {
            Drive pulse = given.get(leg.switches().get(0));
            if (pulse != null) {
                leg.complementary().forEach(name -> all.putIfAbsent(name, pulse.complement()));
            }
        }
        return new Blueprint(topology, power, roles, all, null, null);
    }

    /** With one drive, which reaches all switches as the roles have it. */
    Blueprint drivenBy(Drive drive) {
        List<String> faults = new ArrayList<>();
        DriveFaults.addTiming("drive", roles, faults);
        double longest = faults.isEmpty() ? roles.pattern().longestPulse() : 1;
        if (drive.dutyCycle() > longest) {
            faults.add("drive: the duty cycle of switches that are driven alternating must be at most " + longest
                    + " of their own period but was " + drive.dutyCycle());
        }
        if (!faults.isEmpty()) {
            throw new InvalidStageException(topology + " stage", faults);
        }
        return drivenBy(roles.pattern().drives(drive, 0));
    }

    /**
     * With another duty cycle of the first leg that switches. Others that have the same follow; of those that have another one it
     * changes by as much, unless they stay open or closed.
     */
    Blueprint withDutyCycle(double dutyCycle) {
        double before = drive().dutyCycle();
        return eachDrive(drive -> {
            double own = drive.pulse().dutyCycle();
            if (Math.abs(own - before)
                    <= 2 * RoundOff.UNIT) { // that of a delayed pulse is a difference of two instants
                return drive.withDutyCycle(dutyCycle);
            }
            boolean switching = own > 0 && own < 1;
            return switching ? drive.withDutyCycle(Math.max(0, Math.min(1, own + (dutyCycle - before)))) : drive;
        });
    }

    Blueprint withSwitchingFrequency(double frequency) {
        return eachDrive(drive -> drive.withSwitchingFrequency(frequency));
    }

    private Blueprint eachDrive(UnaryOperator<Drive> change) {
        Map<String, Drive> all = new LinkedHashMap<>();
        drives.forEach((name, drive) -> {
            Drive changed = change.apply(drive);
            String partner = drive.isComplement() ? null : complemented(name, drive);
            all.put(
                    name,
                    partner == null
                            ? changed
                            : change.apply(Objects.requireNonNull(drives.get(partner)))
                                    .complement());
        });
        return new Blueprint(topology, power, roles, all, null, null);
    }

    /** The switch that a switch is closed in turn with; null where it stands in for no rectifier. */
    private @Nullable String complemented(String name, Drive drive) {
        if (!roles.synchronous().contains(name)) {
            return null;
        }
        for (String other : roles.switches()) {
            if (drive.equals(Objects.requireNonNull(drives.get(other)).complement())) {
                return other;
            }
        }
        throw new IllegalStateException("the drive of " + name + " is not the complement of one of " + roles.switches()
                + ", so that its edges cannot follow: give all drives anew with withDrives(...)");
    }

    Blueprint regulatedBy(Regulator by, @Nullable ErrorAmplifier with) {
        return new Blueprint(topology, power, roles, isRegulated() ? drives : Map.of(), by, with);
    }

    /** With drives of switches that the regulator leaves alone. */
    Blueprint withGates(Map<String, Drive> gates) {
        return new Blueprint(topology, power, roles, gates, regulator, amplifier);
    }

    // ------------------------------------------------------------------------------------------------------ checks

    /** Returns the blueprint if nothing is wrong with what drives it. */
    Blueprint checked() {
        List<String> faults = DriveFaults.of(this);
        if (!faults.isEmpty()) {
            throw new InvalidStageException(topology + " stage", faults);
        }
        return this;
    }
}
