package org.voltsecond.converter;

import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;

/** Wires the parts of a stage. The load comes last, so that everything else is the same whatever the load. */
final class StageCircuit {
    static final String SOURCE = "V1";
    static final String TRANSISTOR = "Q1";
    static final String BODY_DIODE = "D2";
    static final String DIODE = "D1";
    static final String SYNCHRONOUS_TRANSISTOR = "Q2";
    static final String SYNCHRONOUS_BODY_DIODE = "D3";
    static final String INDUCTOR = "L1";
    static final String CAPACITOR = "C1";
    static final String LOAD_RESISTOR = "R1";
    static final String LOAD_CURRENT = "I1";

    /** Positions in the state: the inductor is added before the capacitor. */
    static final int INDUCTOR_STATE = 0;

    static final int CAPACITOR_STATE = 1;

    static final String INPUT = "in";
    static final String SWITCH_NODE = "sw";
    static final String OUTPUT = "out";
    static final String DIVIDED = "divided";
    static final String REFERENCE = "reference";
    static final String CONTROL = "control";
    static final String REFERENCE_SOURCE = "V2";
    private static final String INVERTING = "inverting";

    private final StageValues values;
    private final Circuit.Builder builder = Circuit.builder();

    private StageCircuit(StageValues values) {
        this.values = values;
    }

    /**
     * Wires a stage.
     *
     * @param values what it is made of, checked
     * @param mayBeCurrent whether the load is, or changes to, a constant current
     * @param sink current from the output to ground that the load draws, apart from its resistance
     */
    static Circuit of(StageValues values, boolean mayBeCurrent, Profile sink) {
        StageCircuit stage = new StageCircuit(values);
        stage.addPowerParts();
        stage.addLoad(mayBeCurrent, sink);
        stage.addErrorAmplifier();
        return stage.builder.build();
    }

    static String rectifierName(StageValues values) {
        return values.rectifier().synchronous() ? SYNCHRONOUS_TRANSISTOR : DIODE;
    }

    private void addPowerParts() {
        builder.voltageSource(SOURCE, INPUT, Circuit.GROUND, values.input().profile());
        switch (values.topology()) {
            case BUCK -> addSwitchCell(INPUT, SWITCH_NODE, Circuit.GROUND, SWITCH_NODE, SWITCH_NODE, OUTPUT);
            case BOOST -> addSwitchCell(SWITCH_NODE, Circuit.GROUND, SWITCH_NODE, OUTPUT, INPUT, SWITCH_NODE);
            case INVERTING_BUCK_BOOST ->
                addSwitchCell(INPUT, SWITCH_NODE, OUTPUT, SWITCH_NODE, SWITCH_NODE, Circuit.GROUND);
        }
        builder.capacitor(
                CAPACITOR,
                OUTPUT,
                Circuit.GROUND,
                values.capacitor().value(),
                values.capacitor().resistance());
    }

    /** Every part from the node that its current comes from to the node that it goes to. */
    private void addSwitchCell(
            String drain, String source, String anode, String cathode, String inductorFrom, String inductorTo) {
        builder.switchPart(TRANSISTOR, drain, source, values.transistor().onResistance());
        addBodyDiode(BODY_DIODE, source, drain, values.transistor().bodyDiode());
        RectifierModel rectifier = values.rectifier();
        if (rectifier.synchronous()) {
            builder.switchPart(SYNCHRONOUS_TRANSISTOR, anode, cathode, rectifier.resistance());
            addBodyDiode(SYNCHRONOUS_BODY_DIODE, anode, cathode, rectifier.bodyDiode());
        } else {
            builder.rectifier(DIODE, anode, cathode, rectifier.forwardDrop(), rectifier.resistance());
        }
        builder.inductor(
                INDUCTOR,
                inductorFrom,
                inductorTo,
                values.inductor().value(),
                values.inductor().resistance());
    }

    private void addBodyDiode(String name, String anode, String cathode, @Nullable RectifierModel diode) {
        if (diode != null) {
            builder.rectifier(name, anode, cathode, diode.forwardDrop(), diode.resistance());
        }
    }

    /**
     * Resistor and sink are both there whatever the load, so that signals are the same in every run of a stage. The one
     * that is not asked for carries nothing.
     */
    private void addLoad(boolean mayBeCurrent, Profile sink) {
        Load load = values.requiredLoad();
        if (!mayBeCurrent) {
            builder.resistor(LOAD_RESISTOR, OUTPUT, Circuit.GROUND, load.resistance());
        } else {
            // A conductance of zero is no resistor, so the resistor is written as a source that its own voltage
            // controls.
            double conductance = load.isConstantCurrent() ? 0 : 1 / load.resistance();
            builder.part(new Part.CurrentByVoltage(
                    LOAD_RESISTOR, OUTPUT, Circuit.GROUND, OUTPUT, Circuit.GROUND, conductance));
        }
        builder.currentSource(LOAD_CURRENT, OUTPUT, Circuit.GROUND, sink);
    }

    private void addErrorAmplifier() {
        ErrorAmplifier error = values.amplifier();
        if (error == null) {
            return;
        }
        double divider = values.topology() == Topology.INVERTING_BUCK_BOOST ? -error.divider() : error.divider();
        builder.part(new Part.VoltageByVoltage("U2", DIVIDED, Circuit.GROUND, OUTPUT, Circuit.GROUND, divider))
                .voltageSource(REFERENCE_SOURCE, REFERENCE, Circuit.GROUND, error.course())
                .resistor("R2", DIVIDED, INVERTING, error.inputResistance());
        addBranch("C3", DIVIDED, error.inputBranch());
        addBranch("C2", CONTROL, error.feedback());
        addBranch("C4", CONTROL, new ErrorAmplifier.Branch(0, error.bypassCapacitance()));
        builder.operationalAmplifier("U1", REFERENCE, INVERTING, CONTROL, error.amplifier());
    }

    private void addBranch(String name, String from, ErrorAmplifier.Branch branch) {
        if (branch.exists()) {
            builder.capacitor(name, from, INVERTING, branch.capacitance(), branch.resistance());
        }
    }

    /** The sink loads the output: it draws from a positive one and drives current into a negative one. */
    static double sink(StageValues values) {
        Load load = values.requiredLoad();
        double current = load.isConstantCurrent() ? load.current() : 0;
        return values.topology() == Topology.INVERTING_BUCK_BOOST ? 0 - current : current;
    }
}
