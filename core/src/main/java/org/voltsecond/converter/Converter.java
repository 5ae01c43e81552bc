package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.ControlLimits;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
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
 * <p>With a load of constant current see {@link Load} on what happens at rest. Of a stage at thousands of values
 * {@link StageSampler} tells the figures of the same steady states in a small part of the time.
 *
 * <pre>{@code
 * Converter charging = rail.withInput(15).withDutyCycle(0.36); // all else as it was
 * double output = charging.steadyState().of(charging.outputVoltage()).mean(); // 5.001 V
 * double inrush = charging.startUp(milli(1)).of(charging.inductorCurrent()).maximum(); // 7.571 A
 * }</pre>
 */
public final class Converter extends ConverterRuns {
    /** Whether what is made of this is not driven until it is asked for, since more changes follow. */
    private final boolean isDraft;

    Converter(Blueprint values) {
        this(values, StageRun.of(List.of(values), List.of()), false);
    }

    private Converter(Blueprint values, @Nullable DrivenCircuit driven, boolean isDraft) {
        super(values, driven);
        this.isDraft = isDraft;
    }

    /** This, with changes to come that are put together when it is driven; a steady state of it is of none that is a draft. */
    Converter draft() {
        return new Converter(values, null, true);
    }

    /** A changed copy. */
    Converter made(Blueprint changed) {
        return isDraft ? new Converter(changed, null, true) : new Converter(changed);
    }

    /**
     * Makes a converter of a custom circuit: what its parts do is found where it can be, and named where it cannot.
     *
     * @param circuit the circuit, with its source and its load
     * @return what names the roles and takes the drive
     */
    public static ConverterBuilder of(Circuit circuit) {
        return new ConverterBuilder(circuit, Roles.unnamed());
    }

    /**
     * Returns the output voltage that is aimed at.
     *
     * @return its magnitude, V; empty where the duty cycle is fixed or the inductor current commanded
     */
    public OptionalDouble target() {
        ErrorAmplifier amplifier = values.amplifier();
        if (amplifier != null) {
            return OptionalDouble.of(amplifier.reference() / amplifier.divider());
        }
        return isRegulated() ? regulator().target() : OptionalDouble.empty();
    }

    /**
     * Returns between which values the control voltage of the regulator is held: those that were given or those of an error
     * amplifier, or else those that the regulator takes of itself.
     *
     * @return the limits, and where they come from
     */
    public ControlLimits controlLimits() {
        ErrorAmplifier amplifier = values.amplifier();
        return amplifier == null
                ? driven().controlLimits()
                : new ControlLimits(
                        amplifier.amplifier().low(), amplifier.amplifier().high(), ControlLimits.Origin.AMPLIFIER);
    }

    /** The output voltage by its magnitude, as the regulator senses it. */
    Signal regulatedVoltage() {
        return values.roles().isInverting() ? outputVoltage().times(-1) : outputVoltage();
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
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "input: voltage", voltage, "V");
        double ripple = values.input().sines().stream()
                .mapToDouble(Profile.Sine::amplitude)
                .sum();
        if (faults.isEmpty() && ripple >= voltage) {
            faults.add(StageParts.rippleTooLarge(voltage, ripple));
        }
        return changed(faults, () -> values.with(values.roles().source() + ".voltage", voltage));
    }

    /**
     * Returns this converter with a ripple of the line: a sine on top of the input voltage, which begins in its middle and
     * rises.
     *
     * @param amplitude from the middle to the crest, V; 0 or more, 0 for none; below the input voltage
     * @param frequency Hz; more than 0
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withInputRipple(double amplitude, double frequency) {
        return withInputRipple(amplitude, frequency, 0);
    }

    /** Since a time of the run, s. */
    Converter withInputRipple(double amplitude, double frequency, double since) {
        double voltage = inputVoltage();
        List<String> faults = new ArrayList<>();
        StagePart.notNegative(faults, "input: amplitude of the ripple", amplitude, "V");
        StagePart.positive(faults, "input: frequency of the ripple", frequency, "Hz");
        if (amplitude >= voltage) {
            faults.add(StageParts.rippleTooLarge(voltage, amplitude));
        }
        double phase = -2 * Math.PI * Math.IEEEremainder(frequency * since, 1);
        Profile steady = Profile.constant(voltage);
        return changed(
                faults, () -> values.withInput(amplitude > 0 ? steady.withSine(amplitude, frequency, phase) : steady));
    }

    /**
     * Returns this converter with another value of one of its parts, whichever it is.
     *
     * @param name the part and what of it, such as "L1.inductance" or "T1.coupling"; see {@link PartValue}
     * @param value in SI units
     * @return a new converter
     * @throws IllegalArgumentException if there is no such value; the message lists those of the part
     * @throws InvalidStageException if the value is out of its range
     */
    public Converter with(String name, double value) {
        return made(values.with(name, value).checked());
    }

    /** One fault or several are told before anything is built. */
    private Converter changed(List<String> faults, Supplier<Blueprint> change) {
        if (!faults.isEmpty()) {
            throw new InvalidStageException(values.topology() + " stage", faults);
        }
        return made(change.get().checked());
    }

    private Converter withSeries(List<String> parts, String quantity, double value, double resistance) {
        return changed(List.of(), () -> {
            Blueprint result = values;
            for (String part : parts) {
                result = result.with(part + "." + quantity, value).with(part + ".resistance", resistance);
            }
            return result;
        });
    }

    /**
     * Returns this converter with another inductor, of interleaved phases in each.
     *
     * @param inductance H; more than 0
     * @param seriesResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withInductor(double inductance, double seriesResistance) {
        requiredRole(roles().inductor(), RoleNaming.Role.INDUCTOR);
        return withSeries(roles().inductors(), "inductance", inductance, seriesResistance);
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
        return withSeries(
                List.of(requiredRole(roles().outputCapacitor(), RoleNaming.Role.CAPACITOR)),
                "capacitance",
                capacitance,
                seriesResistance);
    }

    /**
     * Returns this converter with a capacitor across the input of the stage, in place of one of that name.
     *
     * @param name reference designator
     * @param capacitance F; more than 0
     * @param seriesResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range, or another part has that name
     */
    public Converter withAcrossInput(String name, double capacitance, double seriesResistance) {
        return made(values.withAcrossInput(name, capacitance, seriesResistance).checked());
    }

    /**
     * Returns this converter with parts between its source and what that feeds: the source moves out to other nodes, and the parts
     * lead from there to the nodes that it was connected to. Capacitors from line to line are such that the stage itself does not draw.
     *
     * @param plus node to which the plus of the source moves
     * @param minus node to which its minus moves; the one that it has if nothing is to lie in the return line
     * @param words what the heat of these parts is told as, such as "input filter"
     * @param parts the parts
     * @return a new converter
     * @throws InvalidStageException if the circuit with them is wrong
     */
    public Converter fedThrough(String plus, String minus, String words, List<Part> parts) {
        return made(values.fedThrough(plus, minus, words, parts).checked());
    }

    /**
     * Returns this converter with another transistor; with several, all of them are of that kind.
     *
     * @param onResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if the resistance is out of its range
     */
    public Converter withTransistor(double onResistance) {
        Blueprint changed = values;
        for (String name : roles().switches()) {
            changed = changed.with(name + ".on_resistance", onResistance);
        }
        return made(changed.checked());
    }

    /**
     * Returns this converter with a diode across its transistor, across each of several; see {@link PowerStage#bodyDiode}.
     *
     * @param forwardDrop V; more than 0
     * @param resistance slope resistance, Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     */
    public Converter withBodyDiode(double forwardDrop, double resistance) {
        List<String> faults = new ArrayList<>();
        // Without a drop it would conduct in place of the channel whenever the current flows backwards.
        StagePart.positive(faults, "body diode: forward drop", forwardDrop, "V");
        return changed(faults, () -> {
            Blueprint result = values;
            for (String name : roles().switches()) {
                result = result.withBodyDiode(name, forwardDrop, resistance);
            }
            return result;
        });
    }

    /**
     * Returns this converter with a diode as rectifier.
     *
     * @param forwardDrop V; 0 or more
     * @param resistance slope resistance, Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if a value is out of its range
     * @throws IllegalStateException if several parts rectify
     */
    public Converter withRectifier(double forwardDrop, double resistance) {
        return made(values.withDiode(forwardDrop, resistance).checked());
    }

    /**
     * Returns this converter with a second transistor as rectifier; the body diode of one that is there already stays.
     *
     * @param onResistance Ω; 0 or more
     * @return a new converter
     * @throws InvalidStageException if the resistance is out of its range
     */
    public Converter withSynchronousRectifier(double onResistance) {
        return made(values.withSwitch(onResistance).checked());
    }

    /**
     * Returns this converter with another load.
     *
     * @param load the load
     * @return a new converter
     */
    public Converter withLoad(Load load) {
        return made(values.withLoad(load));
    }

    /**
     * Returns this converter with another drive.
     *
     * @param drive the drive of the transistor, which reaches others as {@link Roles#pattern()} has it
     * @return a new converter
     * @throws InvalidStageException if the drive is wrong in itself
     */
    public Converter withDrive(Drive drive) {
        return made(values.drivenBy(drive).checked());
    }

    /**
     * Returns this converter with a drive of its own for each switch.
     *
     * @param drives by the names of the switches, all of one frequency; what stands in for a rectifier may be left out, and is then
     *     closed while the switch of its leg is open
     * @return a new converter
     * @throws InvalidStageException if a drive is wrong in itself
     * @throws IllegalArgumentException if a switch has no drive, or the drives differ in frequency
     */
    public Converter withDrives(Map<String, Drive> drives) {
        return made(values.drivenBy(drives).checked());
    }

    /**
     * Returns this converter with a regulator.
     *
     * @param regulator drives the transistor, and the synchronous one if there is one
     * @return a new converter
     * @throws InvalidStageException if the regulator is wrong in itself, or needs a body diode that is not there
     */
    public Converter withRegulator(Regulator regulator) {
        return made(values.regulatedBy(regulator, null).checked());
    }

    /**
     * Returns this converter with another reference of its regulator.
     *
     * @param reference V, or A of a regulator whose inductor current is commanded; more than 0
     * @return a new converter
     * @throws InvalidStageException if the reference is not more than 0
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public Converter withReference(double reference) {
        ErrorAmplifier amplifier = values.amplifier();
        return amplifier == null
                ? withRegulator(regulator().withReference(reference))
                : made(values.regulatedBy(regulator(), amplifier.withReference(reference))
                        .checked());
    }

    /**
     * Returns this converter with another fixed duty cycle, at the same switching frequency and with the same delay.
     *
     * @param dutyCycle the part of the period in which the transistor is closed, from 0 to 1
     * @return a new converter
     * @throws InvalidStageException if the duty cycle is not from 0 to 1
     * @throws IllegalStateException if a regulator drives the transistor
     */
    public Converter withDutyCycle(double dutyCycle) {
        requireFixedDrive();
        return made(values.withDutyCycle(dutyCycle).checked());
    }

    @Override
    Converter finished() {
        return isDraft ? new Converter(values, driven(), false) : this;
    }

    @Override
    public String toString() {
        return values.topology() + " converter from " + Quantity.format(values.inputVoltage(), Unit.VOLT) + ", load "
                + load() + ", "
                + (isRegulated() ? "regulated by " + regulator().getClass().getSimpleName() : values.drive());
    }
}
