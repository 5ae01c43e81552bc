package org.voltsecond.stage;

import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;

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
    public static final String SOURCE = "V1";
    public static final String TRANSISTOR = "Q1";
    public static final String BODY_DIODE = "D2";
    public static final String DIODE = "D1";
    public static final String SYNCHRONOUS_TRANSISTOR = "Q2";
    public static final String SYNCHRONOUS_BODY_DIODE = "D3";
    public static final String INDUCTOR = "L1";
    public static final String CAPACITOR = "C1";
    public static final String LOAD_RESISTOR = "R1";
    public static final String LOAD_SINK = "I1";

    private final StageParts parts;
    private final Circuit.Builder builder = Circuit.builder();
    private Roles roles;

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
     * Adds the source V1, from a node to ground.
     *
     * @param node the input
     * @return this wiring
     */
    public StageWiring source(String node) {
        builder.voltageSource(SOURCE, node, Circuit.GROUND, parts.input().profile());
        return roles(told -> told.input(SOURCE));
    }

    /**
     * Adds the transistor Q1 with its body diode D2, if it has one.
     *
     * @param drain node that its current comes from
     * @param source node that its current goes to
     * @return this wiring
     */
    public StageWiring transistor(String drain, String source) {
        StageParts.Transistor transistor = parts.transistor();
        builder.switchPart(TRANSISTOR, drain, source, transistor.onResistance(), transistor.forwardDrop());
        addBodyDiode(BODY_DIODE, source, drain, transistor.bodyDiode());
        return roles(told -> told.switches(TRANSISTOR));
    }

    /**
     * Adds the rectifier: D1, or Q2 with its body diode D3, if it has one.
     *
     * @param anode node that its current comes from
     * @param cathode node that its current goes to
     * @return this wiring
     */
    public StageWiring rectifier(String anode, String cathode) {
        StageParts.Rectifier rectifier = parts.rectifier();
        if (!rectifier.synchronous()) {
            builder.rectifier(DIODE, anode, cathode, rectifier.forwardDrop(), rectifier.resistance());
            return roles(told -> told.rectifiers(DIODE));
        }
        builder.switchPart(SYNCHRONOUS_TRANSISTOR, anode, cathode, rectifier.resistance());
        addBodyDiode(SYNCHRONOUS_BODY_DIODE, anode, cathode, rectifier.bodyDiode());
        return roles(told -> told.synchronous(SYNCHRONOUS_TRANSISTOR));
    }

    private void addBodyDiode(String name, String anode, String cathode, StageParts.@Nullable Diode diode) {
        if (diode != null) {
            builder.rectifier(name, anode, cathode, diode.forwardDrop(), diode.resistance());
        }
    }

    /**
     * Adds the inductor L1.
     *
     * @param from node that its current comes from
     * @param to node that its current goes to
     * @return this wiring
     */
    public StageWiring inductor(String from, String to) {
        builder.inductor(
                INDUCTOR, from, to, parts.inductor().value(), parts.inductor().resistance());
        return roles(told -> told.inductorCurrent(INDUCTOR));
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
        builder.capacitor(CAPACITOR, node, Circuit.GROUND, capacitor.value(), capacitor.resistance());
        Load load = parts.requiredLoad();
        builder.part(resistor(LOAD_RESISTOR, node, Circuit.GROUND, load));
        builder.currentSource(LOAD_SINK, node, Circuit.GROUND, load.sink(roles.isInverting()));
        return roles(told -> told.output(node, Circuit.GROUND).outputCapacitor(CAPACITOR));
    }

    /** A conductance of zero is no resistor, so a load without one is a source that its own voltage controls. */
    public static Part resistor(String name, String plus, String minus, Load load) {
        return load.isConstantCurrent()
                ? new Part.CurrentByVoltage(name, plus, minus, plus, minus, 0)
                : new Part.Resistor(name, plus, minus, load.resistance());
    }

    public Roles roles() {
        return roles;
    }
}
