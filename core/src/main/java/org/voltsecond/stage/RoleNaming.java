package org.voltsecond.stage;

import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.ConverterBuilder;

/**
 * Names what the parts of a circuit do in a converter, one role with each step; what is not named is looked for in the circuit.
 * The steps of {@link Roles} and of {@link ConverterBuilder}.
 *
 * <pre>{@code
 * Circuit circuit = rail.circuit();
 * Roles found = Roles.unnamed().output("out", Circuit.GROUND).switchNode("sw").in(circuit);
 * Converter same = Converter.of(circuit).output("out", Circuit.GROUND).drive(rail.drive());
 * }</pre>
 *
 * @param <B> what every step returns: a new value of the same kind
 */
public abstract class RoleNaming<B extends RoleNaming<B>> {
    /** What can be named, with the words of a message and how one names it. */
    public enum Role {
        /** The source that feeds the converter. */
        INPUT("input", "input(\"V1\")"),
        /** The node of the output, and that against which its voltage counts. */
        OUTPUT("output", "output(\"out\", GROUND)"),
        /** There where the output voltage is negative. */
        INVERTING("inverting output", "inverting()"),
        /** The switches whose closing begins the on interval. */
        SWITCHES("switches", "switches(\"Q1\")"),
        /** How one drive reaches several switches. */
        TIMING("timing of the switches", "timing(ALTERNATING)"),
        /** The parts whose currents a regulator senses, where they are not the inductor. */
        SENSED("sensed currents", "sensing(\"L1\", \"L2\")"),
        /** The magnetizing current that the switches of two halves carry beside that of the inductor, and the turns that count it there. */
        MAGNETIZING("magnetizing current", "magnetizing(\"LM\", 2)"),
        /** The switches that stand in for rectifiers. */
        SYNCHRONOUS("synchronous switches", "synchronous(\"Q2\")"),
        /** The rectifiers that take over the inductor current. */
        RECTIFIERS("rectifiers", "rectifiers(\"D1\")"),
        /** The inductor, or winding, whose current is the inductor current. */
        INDUCTOR("inductor current", "inductorCurrent(\"L1\")"),
        /** The switch node. */
        SWITCH_NODE("switch node", "switchNode(\"sw\")"),
        /** The output capacitor. */
        CAPACITOR("output capacitor", "outputCapacitor(\"C1\")"),
        /** The parts across the input, whose currents the stage itself does not draw. */
        INPUT_CAPACITORS("input capacitors", "inputCapacitors(\"C2\")"),
        /** The node at which the stage itself is fed, where something lies between it and the source. */
        STAGE_INPUT("input of the stage", "stageInput(\"in\")"),
        /** The resistor of the load. */
        LOAD_RESISTOR("load", "one resistor across the output"),
        /** The current sink of the load. */
        LOAD_SINK("load", "one current source across the output");

        private final String words;
        private final String how;

        Role(String words, String how) {
            this.words = words;
            this.how = how;
        }

        /** {@return what a message calls it} */
        public String words() {
            return words;
        }

        /** {@return how one names it} */
        public String how() {
            return how;
        }
    }

    /** Names nothing yet. */
    protected RoleNaming() {}

    /**
     * Names a role anew.
     *
     * @param role the role
     * @param names what has it; none where it is to be found again
     * @return the same with this role
     */
    protected abstract B with(Role role, String... names);

    /**
     * Names the source that feeds the converter.
     *
     * @param name reference designator of a voltage source
     * @return the same with this role
     */
    public B input(String name) {
        return with(Role.INPUT, name);
    }

    /**
     * Names the output.
     *
     * @param node node of the output
     * @param reference node against which its voltage counts, such as {@link Circuit#GROUND}
     * @return the same with this role
     */
    public B output(String node, String reference) {
        return with(Role.OUTPUT, node, reference);
    }

    /**
     * Says that the output voltage is negative in normal operation: a regulator senses its magnitude, and a load of constant
     * current drives its current into the output.
     *
     * @return the same with this role
     */
    public B inverting() {
        return with(Role.INVERTING, "");
    }

    /**
     * Names the switches whose closing begins the on interval. Figures of "the transistor" are those of the first one.
     *
     * @param names reference designators of switches
     * @return the same with this role
     */
    public B switches(String... names) {
        return with(Role.SWITCHES, names);
    }

    /**
     * Says how one drive reaches several switches; they are dealt to its legs as {@link SwitchPattern#of} has it.
     *
     * @param timing how their pulses lie to each other; together if it is not said
     * @return the same with this role
     */
    public B timing(SwitchPattern.Timing timing) {
        return with(Role.TIMING, timing.name());
    }

    /**
     * Names the parts whose currents a regulator senses, where they are not the inductor: those of the phases, or the switches of
     * two halves.
     *
     * @param names parts, or "part.winding"; one, or one for each leg of the pattern
     * @return the same with this role
     */
    public B sensing(String... names) {
        return with(Role.SENSED, names);
    }

    /**
     * Names the magnetizing current of a transformer whose halves take turns. A regulator in current mode then senses what the switches
     * carry, as seen from the inductor: its current and, in turn with one sign and the other, the magnetizing current, so
     * that it keeps the flux in balance.
     *
     * @param name inductor, or "part.winding", positive as the pulses of the first half drive it
     * @param turns of the primary for each of the secondary
     * @return the same with this role
     */
    public B magnetizing(String name, double turns) {
        return with(Role.MAGNETIZING, name, String.valueOf(turns));
    }

    /**
     * Names the switches that stand in for rectifiers: closed while the others are open.
     *
     * @param names reference designators of switches
     * @return the same with this role
     */
    public B synchronous(String... names) {
        return with(Role.SYNCHRONOUS, names);
    }

    /**
     * Names the rectifiers that take over the inductor current in the off interval. Figures of "the rectifier" are those of
     * the first one.
     *
     * @param names reference designators of rectifiers
     * @return the same with this role
     */
    public B rectifiers(String... names) {
        return with(Role.RECTIFIERS, names);
    }

    /**
     * Names the inductor current; of interleaved phases one of each, in their order, the first of which is <em>the</em> inductor
     * current.
     *
     * @param names inductors, or "part.winding"; from the first node to the second the current is positive
     * @return the same with this role
     */
    public B inductorCurrent(String... names) {
        return with(Role.INDUCTOR, names);
    }

    /**
     * Names the switch node.
     *
     * @param node a node
     * @return the same with this role
     */
    public B switchNode(String node) {
        return with(Role.SWITCH_NODE, node);
    }

    /**
     * Names the parts across the input, with which the source shares the current that the rest of the circuit draws.
     *
     * @param names reference designators
     * @return the same with this role
     */
    public B inputCapacitors(String... names) {
        return with(Role.INPUT_CAPACITORS, names);
    }

    /**
     * Names the node at which the stage itself is fed, where something lies between it and the source.
     *
     * @param node a node
     * @return the same with this role
     */
    public B stageInput(String node) {
        return with(Role.STAGE_INPUT, node);
    }

    /**
     * Names the output capacitor.
     *
     * @param name reference designator of a capacitor
     * @return the same with this role
     */
    public B outputCapacitor(String name) {
        return with(Role.CAPACITOR, name);
    }
}
