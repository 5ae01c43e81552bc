package org.voltsecond.converter;

import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.waveform.Signal;

/** What can be looked at in a {@link Converter}; signs as told there. */
abstract sealed class ConverterSignals permits Converter {
    final StageValues values;
    final DrivenCircuit driven;

    ConverterSignals(StageValues values, DrivenCircuit driven) {
        this.values = values;
        this.driven = driven;
    }

    final void requireRegulated() {
        if (!values.isRegulated()) {
            throw new IllegalStateException(
                    "this converter has a fixed drive and no regulator: give it one with withRegulator(...)");
        }
    }

    /**
     * Returns the current through the inductor.
     *
     * @return the signal, A; positive as the on interval drives it
     */
    public final Signal inductorCurrent() {
        return driven.current(StageCircuit.INDUCTOR).named("inductor current");
    }

    /**
     * Returns the voltage of the switch node.
     *
     * @return the signal, V against ground
     */
    public final Signal switchNode() {
        return driven.nodeVoltage(StageCircuit.SWITCH_NODE).named("switch node");
    }

    /**
     * Returns the output voltage.
     *
     * @return the signal, V against ground; negative of an inverting stage
     */
    public final Signal outputVoltage() {
        return driven.nodeVoltage(StageCircuit.OUTPUT).named("output voltage");
    }

    /**
     * Returns the current through the transistor, its body diode included.
     *
     * @return the signal, A
     */
    public final Signal transistorCurrent() {
        Signal channel = driven.current(StageCircuit.TRANSISTOR);
        boolean bypassed = values.transistor().bodyDiode() != null;
        return (bypassed ? channel.minus(driven.current(StageCircuit.BODY_DIODE)) : channel)
                .named("transistor current");
    }

    /**
     * Returns the voltage across the transistor.
     *
     * @return the signal, V; positive when it blocks
     */
    public final Signal transistorVoltage() {
        return driven.voltageAcross(StageCircuit.TRANSISTOR).named("transistor voltage");
    }

    /**
     * Returns the current through the rectifier, the body diode of a synchronous one included.
     *
     * @return the signal, A; never negative of a diode
     */
    public final Signal rectifierCurrent() {
        Signal channel = driven.current(StageCircuit.rectifierName(values));
        boolean bypassed = values.rectifier().bodyDiode() != null;
        return (bypassed ? channel.plus(driven.current(StageCircuit.SYNCHRONOUS_BODY_DIODE)) : channel)
                .named("rectifier current");
    }

    /**
     * Returns the voltage across the rectifier.
     *
     * @return the signal, V from anode to cathode; negative when it blocks
     */
    public final Signal rectifierVoltage() {
        return driven.voltageAcross(StageCircuit.rectifierName(values)).named("rectifier voltage");
    }

    /**
     * Returns the current into the output capacitor.
     *
     * @return the signal, A from the output to ground
     */
    public final Signal outputCapacitorCurrent() {
        return driven.current(StageCircuit.CAPACITOR).named("output capacitor current");
    }

    /**
     * Returns the current drawn from the source.
     *
     * @return the signal, A; positive when the source delivers
     */
    public final Signal inputCurrent() {
        return driven.current(StageCircuit.SOURCE).times(-1).named("input current");
    }

    /**
     * Returns the current through the load.
     *
     * @return the signal, A from the output to ground; negative of an inverting stage
     */
    public final Signal loadCurrent() {
        return driven.current(StageCircuit.LOAD_RESISTOR)
                .plus(driven.current(StageCircuit.LOAD_CURRENT))
                .named("load current");
    }

    /** The voltage of the source, with the ripple on it. */
    final Signal inputNode() {
        return driven.nodeVoltage(StageCircuit.INPUT).named("input voltage");
    }

    /**
     * Returns the control voltage, which the modulator turns into pulses.
     *
     * @return the signal, V; of a regulator whose inductor current is commanded the command at 1 V/A
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal controlVoltage() {
        return control("control voltage");
    }

    /**
     * Returns what the control voltage is compared with: the ramp, or the sensed inductor current with its slope.
     *
     * @return the signal, V
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal ramp() {
        return control("ramp");
    }

    /**
     * Returns the error voltage: the reference less the sensed voltage.
     *
     * @return the signal, V
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal errorVoltage() {
        return control("error voltage");
    }

    private Signal control(String channel) {
        requireRegulated();
        return driven.control(channel);
    }
}
