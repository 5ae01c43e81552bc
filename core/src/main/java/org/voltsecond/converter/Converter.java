package org.voltsecond.converter;

import java.util.List;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * A power stage with its load and its drive, ready to run. Immutable and safe to use from any thread; {@code withX} gives
 * a changed copy.
 *
 * <p>Signs: node voltages count from ground, so that the output voltage of an inverting stage is negative. The inductor
 * current is positive as the on interval drives it; transistor and rectifier currents are positive as the converter
 * drives them in normal operation. Input current is positive when the source delivers. The currents of output capacitor
 * and load are positive from the output to ground; those of an inverting stage therefore turn their sign with the output
 * voltage. The transistor voltage is positive when the transistor blocks; the rectifier voltage, from anode to cathode,
 * is negative when the rectifier blocks.
 *
 * <p>With a load of constant current see {@link Load} on what happens at rest.
 */
public final class Converter {
    private final StageValues values;
    private final DrivenCircuit driven;

    Converter(StageValues values) {
        this.values = values;
        this.driven = StageRun.of(List.of(values), List.of());
    }

    // ------------------------------------------------------------------------------------------------ what it is

    /**
     * Returns how the parts are arranged.
     *
     * @return the topology
     */
    public Topology topology() {
        return values.topology();
    }

    /**
     * Returns the input voltage.
     *
     * @return V
     */
    public double inputVoltage() {
        return values.inputVoltage();
    }

    /**
     * Returns the load.
     *
     * @return the load
     */
    public Load load() {
        return values.requiredLoad();
    }

    /**
     * Returns the drive of the transistor.
     *
     * @return the drive
     */
    public Drive drive() {
        return values.requiredDrive();
    }

    /**
     * Returns the parts with their reference designators: source V1, transistor Q1 (its body diode, if any: D2),
     * rectifier D1 (synchronous: Q2), inductor L1, output capacitor C1, and as load R1 and I1 side by side, of which the one that is not asked for
     * carries nothing.
     *
     * @return the circuit
     */
    public Circuit circuit() {
        return driven.circuit();
    }

    /**
     * Returns the circuit together with what drives its gates.
     *
     * @return the driven circuit
     */
    public DrivenCircuit driven() {
        return driven;
    }

    /**
     * Returns the reference designator of the transistor.
     *
     * @return "Q1"
     */
    public String transistorName() {
        return StageCircuit.TRANSISTOR;
    }

    /**
     * Returns the reference designator of the rectifier.
     *
     * @return "D1", or "Q2" if it is a synchronous one
     */
    public String rectifierName() {
        return StageCircuit.rectifierName(values);
    }

    StageValues values() {
        return values;
    }

    // ---------------------------------------------------------------------------------------------- changed copies

    /**
     * Returns this converter at another input voltage.
     *
     * @param voltage V; more than 0
     * @return a new converter
     * @throws InvalidStageException if the voltage is out of its range
     */
    public Converter withInput(double voltage) {
        return new Converter(values.withInput(voltage).checked());
    }

    /**
     * Returns this converter with another inductor.
     *
     * @param inductance H; more than 0
     * @param seriesResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withInductor(double inductance, double seriesResistance) {
        return new Converter(values.withInductor(inductance, seriesResistance).checked());
    }

    /**
     * Returns this converter with another output capacitor.
     *
     * @param capacitance F; more than 0
     * @param seriesResistance equivalent series resistance, Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withOutputCapacitor(double capacitance, double seriesResistance) {
        return new Converter(
                values.withOutputCapacitor(capacitance, seriesResistance).checked());
    }

    /**
     * Returns this converter with another transistor.
     *
     * @param onResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if the resistance is out of its range
     */
    public Converter withTransistor(double onResistance) {
        return new Converter(values.withOnResistance(onResistance).checked());
    }

    /**
     * Returns this converter with a diode across its transistor; see {@link PowerStage#bodyDiode}.
     *
     * @param forwardDrop V; more than 0
     * @param resistance slope resistance, Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withBodyDiode(double forwardDrop, double resistance) {
        return new Converter(values.withBodyDiode(forwardDrop, resistance).checked());
    }

    /**
     * Returns this converter with a diode as rectifier.
     *
     * @param forwardDrop V; 0 or more
     * @param resistance slope resistance, Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withRectifier(double forwardDrop, double resistance) {
        return new Converter(values.withRectifier(new RectifierModel(false, forwardDrop, resistance))
                .checked());
    }

    /**
     * Returns this converter with a second transistor as rectifier.
     *
     * @param onResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if the resistance is out of its range
     */
    public Converter withSynchronousRectifier(double onResistance) {
        return new Converter(
                values.withRectifier(new RectifierModel(true, 0, onResistance)).checked());
    }

    /**
     * Returns this converter with another load.
     *
     * @param load the load
     * @return a new converter
     */
    public Converter withLoad(Load load) {
        return new Converter(values.withLoad(load));
    }

    /**
     * Returns this converter with another drive.
     *
     * @param drive the drive of the transistor
     * @return a new converter
     * @throws InvalidStageException if the drive is wrong in itself
     */
    public Converter withDrive(Drive drive) {
        return new Converter(values.withDrive(drive).checked());
    }

    /**
     * Returns this converter with another fixed duty cycle, at the same switching frequency.
     *
     * @param dutyCycle the part of the period in which the transistor is closed, from 0 to 1
     * @return a new converter
     * @throws InvalidStageException if the duty cycle is not from 0 to 1
     */
    public Converter withDutyCycle(double dutyCycle) {
        return withDrive(Drive.fixedDuty(dutyCycle, drive().switchingFrequency()));
    }

    // ------------------------------------------------------------------------------------------------------ signals

    /**
     * Returns the current through the inductor.
     *
     * @return the signal, A; positive as the on interval drives it
     */
    public Signal inductorCurrent() {
        return driven.current(StageCircuit.INDUCTOR).named("inductor current");
    }

    /**
     * Returns the voltage of the switch node.
     *
     * @return the signal, V against ground
     */
    public Signal switchNode() {
        return driven.nodeVoltage(StageCircuit.SWITCH_NODE).named("switch node");
    }

    /**
     * Returns the output voltage.
     *
     * @return the signal, V against ground; negative of an inverting stage
     */
    public Signal outputVoltage() {
        return driven.nodeVoltage(StageCircuit.OUTPUT).named("output voltage");
    }

    /**
     * Returns the current through the transistor, its body diode included.
     *
     * @return the signal, A
     */
    public Signal transistorCurrent() {
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
    public Signal transistorVoltage() {
        return driven.voltageAcross(StageCircuit.TRANSISTOR).named("transistor voltage");
    }

    /**
     * Returns the current through the rectifier.
     *
     * @return the signal, A; never negative of a diode
     */
    public Signal rectifierCurrent() {
        return driven.current(StageCircuit.rectifierName(values)).named("rectifier current");
    }

    /**
     * Returns the voltage across the rectifier.
     *
     * @return the signal, V from anode to cathode; negative when it blocks
     */
    public Signal rectifierVoltage() {
        return driven.voltageAcross(StageCircuit.rectifierName(values)).named("rectifier voltage");
    }

    /**
     * Returns the current into the output capacitor.
     *
     * @return the signal, A from the output to ground
     */
    public Signal outputCapacitorCurrent() {
        return driven.current(StageCircuit.CAPACITOR).named("output capacitor current");
    }

    /**
     * Returns the current drawn from the source.
     *
     * @return the signal, A; positive when the source delivers
     */
    public Signal inputCurrent() {
        return driven.current(StageCircuit.SOURCE).times(-1).named("input current");
    }

    /**
     * Returns the current through the load.
     *
     * @return the signal, A from the output to ground; negative of an inverting stage
     */
    public Signal loadCurrent() {
        return driven.current(StageCircuit.LOAD_RESISTOR)
                .plus(driven.current(StageCircuit.LOAD_CURRENT))
                .named("load current");
    }

    // --------------------------------------------------------------------------------------------------------- runs

    /**
     * Finds the periodic steady state.
     *
     * @return the steady state
     * @throws org.voltsecond.analysis.NoSteadyStateException if there is none, or none was found; the message says why
     */
    public ConverterSteadyState steadyState() {
        return new ConverterSteadyState(this, SteadyState.of(driven));
    }

    /**
     * Runs from rest: no current in the inductor, no voltage at the output.
     *
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public ConverterTransient startUp(double duration, Change... changes) {
        return transientFrom(driven.restState(), duration, List.of(changes));
    }

    /**
     * Runs from the periodic steady state, to see what steps do to it.
     *
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.analysis.NoSteadyStateException if there is no steady state to start from
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public ConverterTransient transientFromSteadyState(double duration, Change... changes) {
        return transientFrom(SteadyState.of(driven).state(), duration, List.of(changes));
    }

    /**
     * Runs from any state.
     *
     * @param state the state at the start: inductor current, A, and voltage of the output capacitor, V
     * @param duration how long, s; more than 0
     * @param changes steps on the way, in any order
     * @return the run
     * @throws IllegalArgumentException if the duration is not more than 0 s, or two changes are at the same time
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on
     */
    public ConverterTransient transientFrom(double[] state, double duration, List<Change> changes) {
        return ConverterTransient.of(this, state, duration, changes);
    }

    @Override
    public String toString() {
        return values.topology() + " converter from " + Quantity.format(values.inputVoltage(), Unit.VOLT) + ", load "
                + load() + ", " + drive();
    }
}
