package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.stage.Roles.Reading;

/**
 * Where a {@link Topology} puts its parts: each of the usual ones by one step, from the node that its current comes from to the
 * node that it goes to, with the values of the stage and under its usual designator. Each step also tells its role. What goes
 * beyond is added to {@link #circuit()}, and told with {@link #roles(UnaryOperator)}. The output comes last.
 *
 * <pre>{@code
 * Topology own = new Topology() {
 *     public void wire(StageWiring wiring) { // a buck stage whose transistor stands at ground
 *         wiring.source("in").transistor("sw", Circuit.GROUND).rectifier("sw", "in").inductor("out", "sw");
 *         wiring.circuit().resistor("R2", "in", "out", mega(1));
 *         wiring.output("out");
 *     }
 *
 *     public String toString() {
 *         return "low-side buck";
 *     }
 * };
 * }</pre>
 */
public final class StageWiring {
    /** The source of a ready-made stage. */
    public static final String SOURCE = "V1";
    /** The transistor of a ready-made stage. */
    public static final String TRANSISTOR = "Q1";
    /** Its body diode of a ready-made stage. */
    public static final String BODY_DIODE = "D2";
    /** The rectifier of a ready-made stage. */
    public static final String DIODE = "D1";
    /** The transistor that rectifies of a ready-made stage. */
    public static final String SYNCHRONOUS_TRANSISTOR = "Q2";
    /** Its body diode of a ready-made stage. */
    public static final String SYNCHRONOUS_BODY_DIODE = "D3";
    /** The inductor of a ready-made stage. */
    public static final String INDUCTOR = "L1";
    /** The output capacitor of a ready-made stage. */
    public static final String CAPACITOR = "C1";
    /** The resistor of the load of a ready-made stage. */
    public static final String LOAD_RESISTOR = "R1";
    /** The sink of the load of a ready-made stage. */
    public static final String LOAD_SINK = "I1";

    /** The transformer of a ready-made stage. */
    public static final String TRANSFORMER = "T1";
    /** Its magnetizing inductance, seen from the primary. */
    public static final String MAGNETIZING = "LM";
    /** The damping branch of an input filter. */
    public static final String DAMPING = "CD";

    private static final String SUPPLY = "supply";
    private static final String LINE = "line";

    private final StageParts parts;
    private final Set<String> taken = new HashSet<>();
    private final Circuit.Builder builder = Circuit.builder();
    private Roles roles;
    private @Nullable String inputNode;

    /**
     * Begins with no part.
     *
     * @param stage the stage
     * @param parts values that were checked
     */
    public StageWiring(Topology stage, StageParts parts) {
        this.parts = parts;
        roles = stage.isInverting() ? Roles.unnamed().inverting() : Roles.unnamed();
    }

    /** {@return the values of the stage} */
    public StageParts parts() {
        return parts;
    }

    /** {@return what the parts are added to, for parts beyond the usual ones} */
    public Circuit.Builder circuit() {
        return builder;
    }

    /**
     * Names roles that the usual parts do not have.
     *
     * @param change adds names to those that were told until now
     * @return this wiring
     */
    public StageWiring roles(UnaryOperator<Roles> change) {
        roles = change.apply(roles);
        return this;
    }

    /**
     * Returns a reference designator that no part of this wiring bears.
     *
     * @param letter such as "L", by IEEE 315
     * @param first the lowest number that may follow it
     * @return the designator
     */
    public String free(String letter, int first) {
        int number = first;
        while (!taken.add(letter + number)) {
            number++;
        }
        return letter + number;
    }

    /**
     * Tells a signal beside those that every stage has.
     *
     * @param reading what is read, and what it is called
     * @return this wiring
     */
    public StageWiring tell(Reading reading) {
        return roles(told -> told.reading(reading));
    }

    /**
     * Names parts whose heat is told together, beside transistor, rectifier, inductor and output capacitor.
     *
     * @param words what it is called, such as "clamp"
     * @param names reference designators
     * @return this wiring
     */
    public StageWiring heat(String words, String... names) {
        return roles(told -> told.heat(words, names));
    }

    /**
     * Adds the source V1 to ground, and what lies between it and the stage: source impedance, input filter and input capacitor, as
     * far as they are given.
     *
     * @param node the input of the stage
     * @return this wiring
     */
    public StageWiring source(String node) {
        inputNode = node;
        SourceImpedance impedance = parts.get(SourceImpedance.class).orElse(new SourceImpedance(0, 0));
        InputFilter filter = parts.get(InputFilter.class).orElse(null);
        boolean drops = impedance.resistance() > 0 || impedance.inductance() > 0;
        String behind = filter == null ? node : LINE;
        builder.voltageSource(
                SOURCE, drops ? SUPPLY : behind, Circuit.GROUND, parts.input().profile());
        roles(told -> told.input(SOURCE));
        if (impedance.inductance() > 0) {
            builder.inductor("LS", SUPPLY, behind, impedance.inductance(), impedance.resistance());
            heat("source", "LS");
        } else if (impedance.resistance() > 0) {
            builder.resistor("RS", SUPPLY, behind, impedance.resistance());
            heat("source", "RS");
        }
        List<String> across = new ArrayList<>();
        if (filter != null) {
            filter.wire(this, LINE, node, across);
        }
        parts.get(InputCapacitor.class).ifPresent(capacitor -> {
            across.add(across("CI", node, capacitor.capacitance(), capacitor.resistance()));
            heat("input capacitor", "CI");
            tell(Reading.current("input capacitor current", "CI"));
            tell(Reading.voltage("input capacitor voltage", "CI"));
        });
        if (drops || !across.isEmpty()) {
            tell(Reading.current("source current", SOURCE).reversed());
        }
        if (drops || filter != null) {
            roles(told -> told.stageInput(node));
        }
        return across.isEmpty() ? this : roles(told -> told.inputCapacitors(across.toArray(String[]::new)));
    }

    String across(String name, String node, double capacitance, double resistance) {
        builder.capacitor(name, node, Circuit.GROUND, capacitance, resistance);
        return name;
    }

    /**
     * Adds a transistor with its body diode, output capacitance and snubber, as far as it has them, and with the stray inductance of
     * its loop before them: the first is Q1, with body diode D2.
     *
     * @param drain node that its current comes from
     * @param source node that its current goes to
     * @return this wiring
     */
    public StageWiring transistor(String drain, String source) {
        StageParts.Transistor transistor = parts.transistor();
        boolean first = taken.add(TRANSISTOR);
        String name = first ? TRANSISTOR : free("Q", 2);
        String inside = drain;
        if (transistor.loop().value() > 0) {
            String loop = free("LL", 1);
            inside = name + "-drain";
            builder.inductor(
                    loop,
                    drain,
                    inside,
                    transistor.loop().value(),
                    transistor.loop().resistance());
            heat("loop", loop);
        }
        builder.switchPart(name, inside, source, transistor.onResistance(), transistor.forwardDrop());
        addBodyDiode(first ? BODY_DIODE : "", source, inside, transistor.bodyDiode());
        capacitance("CO", inside, source, transistor.outputCapacitance());
        snubber(Snubber.Across.TRANSISTOR, inside, source);
        return roles(told -> told.switches(with(told.switches(), name)));
    }

    /**
     * Adds a rectifier: a diode, D1 the first, or a second transistor, Q2 the first, with its body diode, D3 the first, if it has
     * one.
     *
     * @param anode node that its current comes from
     * @param cathode node that its current goes to
     * @return this wiring
     */
    public StageWiring rectifier(String anode, String cathode) {
        StageParts.Rectifier rectifier = parts.rectifier();
        snubber(Snubber.Across.RECTIFIER, anode, cathode);
        capacitance("CJ", cathode, anode, rectifier.capacitance());
        if (!rectifier.synchronous()) {
            String name = taken.add(DIODE) ? DIODE : free("D", 4);
            StageParts.Diode diode =
                    new StageParts.Diode(rectifier.forwardDrop(), rectifier.resistance(), rectifier.junction());
            builder.part(diode.part(name, anode, cathode));
            return roles(told -> told.rectifiers(with(told.rectifiers(), name)));
        }
        boolean first = roles.synchronous().isEmpty();
        String name = free("Q", 2);
        builder.switchPart(name, anode, cathode, rectifier.resistance());
        addBodyDiode(first ? SYNCHRONOUS_BODY_DIODE : "", anode, cathode, rectifier.bodyDiode());
        return roles(told -> told.synchronous(with(told.synchronous(), name)));
    }

    private static String[] with(List<String> names, String more) {
        return Stream.concat(names.stream(), Stream.of(more)).toArray(String[]::new);
    }

    private void addBodyDiode(String usual, String anode, String cathode, StageParts.@Nullable Diode diode) {
        if (diode != null) {
            String name = usual.isEmpty() ? free("D", 4) : usual;
            taken.add(name);
            builder.part(diode.part(name, anode, cathode));
        }
    }

    private void capacitance(String letters, String plus, String minus, StageParts.Series farad) {
        if (farad.value() > 0) {
            String name = free(letters, 1);
            builder.part(new Part.Capacitor(name, plus, minus, farad.value(), farad.resistance(), 0, farad.bends()));
            if (farad.resistance() > 0) {
                heat("device capacitance", name);
            }
        }
    }

    private void snubber(Snubber.Across device, String plus, String minus) {
        parts.get(Snubber.class).filter(given -> given.across() == device).ifPresent(given -> {
            String name = free("CS", 1);
            builder.capacitor(name, plus, minus, given.capacitance(), given.resistance());
            heat("snubber", name);
        });
    }

    /**
     * Adds an inductor, L1 the first; of interleaved phases one each.
     *
     * @param from node that its current comes from
     * @param to node that its current goes to
     * @return this wiring
     */
    public StageWiring inductor(String from, String to) {
        String name = free("L", 1);
        StageParts.Series inductor = parts.inductor();
        builder.part(new Part.Inductor(name, from, to, inductor.value(), inductor.resistance(), 0, inductor.bends()));
        return roles(told -> told.inductorCurrent(with(told.inductors(), name)));
    }

    /**
     * Adds the transformer T1 with its magnetizing inductance LM, whose current is told where it is not the inductor current.
     *
     * @param coils its windings where they lie; the first primary has the magnetizing inductance across it
     * @return this wiring
     */
    public StageWiring transformer(Transformer.Coil... coils) {
        List<String> heating = parts.required(Transformer.class).wire(builder, List.of(coils));
        taken.add(TRANSFORMER);
        if (!heating.isEmpty()) {
            heat("transformer", heating.toArray(String[]::new));
        }
        return this;
    }

    /**
     * Adds the clamp, if there is one: an ideal rectifier from each of some nodes to its voltage, or to its resistor and capacitor side
     * by side, and from there to the input.
     *
     * @param drains nodes that it bounds
     * @return this wiring
     */
    public StageWiring clamp(String... drains) {
        parts.get(Clamp.class).ifPresent(clamp -> {
            for (String drain : drains) {
                returning(drain, "clamp");
            }
            heat("clamp", clamp.wire(builder, "clamp", Objects.requireNonNull(inputNode, "the source comes first")));
        });
        return this;
    }

    /**
     * Adds an ideal rectifier that has no role: one of a clamp, or one that brings the current of a core back.
     *
     * @param anode node that its current comes from
     * @param cathode node that its current goes to
     * @return this wiring
     */
    public StageWiring returning(String anode, String cathode) {
        builder.rectifier(free("D", 4), anode, cathode);
        return this;
    }

    /**
     * Adds a transistor that carries current backwards as well: where no body diode is given, by an ideal one, so that what a core
     * stores comes back to the input.
     *
     * @param drain node that its current comes from
     * @param source node that its current goes to
     * @return this wiring
     */
    public StageWiring returningTransistor(String drain, String source) {
        transistor(drain, source);
        return parts.transistor().bodyDiode() == null ? returning(source, drain) : this;
    }

    /**
     * Says that the transistors form two halves, which take turns to magnetize the core.
     *
     * @return this wiring
     */
    public StageWiring alternating() {
        double turns = parts.required(Transformer.class).turns().ratio();
        return roles(told -> told.timing(SwitchPattern.Timing.ALTERNATING).magnetizing(MAGNETIZING, turns));
    }

    /**
     * Adds the two inductors of a stage that has them: L1 and L2, or the coupled windings T1.1 and T1.2 where they share a core. The
     * current of the first is the inductor current, that of the second is told beside it.
     *
     * @param from node that the current of the first comes from in the on interval
     * @param to node that it goes to
     * @param secondFrom node that the current of the second comes from in the on interval
     * @param secondTo node that it goes to
     * @return this wiring
     */
    public StageWiring inductors(String from, String to, String secondFrom, String secondTo) {
        SecondInductor second = parts.required(SecondInductor.class);
        StageParts.Series first = parts.inductor();
        if (second.coupling() == 0) {
            inductor(from, to);
            String name = free("L", 2);
            builder.inductor(name, secondFrom, secondTo, second.inductance(), second.resistance());
            heat("second inductor", name);
            return tell(Reading.current("second inductor current", name));
        }
        second.wire(
                builder,
                first,
                Part.Winding.of("1", from, to).withResistance(first.resistance()),
                Part.Winding.of("2", secondFrom, secondTo).withResistance(second.resistance()));
        tell(Reading.current("second inductor current", "T1.2"));
        return roles(told -> told.inductorCurrent("T1.1"));
    }

    /**
     * Adds the coupling capacitor C2.
     *
     * @param plus the node whose mean voltage is the higher one
     * @param minus the other node
     * @return this wiring
     */
    public StageWiring couplingCapacitor(String plus, String minus) {
        CouplingCapacitor capacitor = parts.required(CouplingCapacitor.class);
        String name = free("C", 2);
        builder.capacitor(name, plus, minus, capacitor.capacitance(), capacitor.resistance());
        heat("coupling capacitor", name);
        tell(Reading.current("coupling capacitor current", name));
        return tell(Reading.voltage("coupling capacitor voltage", name));
    }

    /**
     * Wires inductor and switches as often as the stage has phases, of which one is driven after the other.
     *
     * @param phase adds those of one phase, at a switch node of its own: "sw" the first, then "sw2" and so on
     * @return this wiring
     */
    public StageWiring phases(Consumer<String> phase) {
        int count = Phases.of(parts);
        for (int k = 1; k <= count; k++) {
            phase.accept(k == 1 ? "sw" : "sw" + k);
        }
        switchNode("sw");
        return count == 1 ? this : roles(told -> told.timing(SwitchPattern.Timing.INTERLEAVED));
    }

    /**
     * Names the switch node.
     *
     * @param node a node
     * @return this wiring
     */
    public StageWiring switchNode(String node) {
        return roles(told -> told.switchNode(node));
    }

    /**
     * Adds the output capacitor C1 and the load, R1 and I1 side by side, from a node to ground. Resistor and sink are both there
     * whatever the load, so that signals are the same in every run of a stage; the one that is not asked for carries nothing.
     *
     * @param node the output
     * @return this wiring
     */
    public StageWiring output(String node) {
        StageParts.Series capacitor = parts.outputCapacitor();
        builder.part(new Part.Capacitor(
                CAPACITOR, node, Circuit.GROUND, capacitor.value(), capacitor.resistance(), 0, capacitor.bends()));
        Load load = parts.requiredLoad();
        builder.part(load.resistor(LOAD_RESISTOR, node, Circuit.GROUND, roles.isInverting()));
        builder.currentSource(LOAD_SINK, node, Circuit.GROUND, load.sink(roles.isInverting()));
        return roles(told -> told.output(node, Circuit.GROUND).outputCapacitor(CAPACITOR));
    }

    /** {@return the roles that were told until now} */
    public Roles roles() {
        return roles;
    }
}
