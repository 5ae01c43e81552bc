package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.Regulator;

/** What a power stage is made of, before and after it is checked. SI units; NaN and null stand for what is not given. */
record StageValues(
        Topology topology,
        Input input,
        Storage inductor,
        Storage capacitor,
        Transistor transistor,
        RectifierModel rectifier,
        @Nullable Load load,
        @Nullable Drive drive,
        @Nullable Regulator regulator,
        @Nullable ErrorAmplifier amplifier) {

    /** The source: its voltage, V, and the amplitude, V, frequency, Hz, and begin, s, of the ripple on it. */
    record Input(double voltage, double amplitude, double frequency, double since) {
        static Input of(double voltage) {
            return new Input(voltage, 0, 1, 0);
        }

        boolean ripples() {
            return amplitude > 0;
        }

        Profile profile() {
            Profile constant = Profile.constant(voltage);
            double phase = -2 * Math.PI * Math.IEEEremainder(frequency * since, 1);
            return ripples() ? constant.withSine(amplitude, frequency, phase) : constant;
        }
    }

    /** An inductance, H, or capacitance, F, with its series resistance, Ω. */
    record Storage(double value, double resistance) {}

    /** A transistor with its on-resistance, Ω, and the diode that lies across it, if any. */
    record Transistor(double onResistance, @Nullable RectifierModel bodyDiode) {}

    static StageValues of(Topology topology) {
        Storage none = new Storage(Double.NaN, 0);
        RectifierModel ideal = RectifierModel.diode(0, 0);
        return new StageValues(
                topology, Input.of(Double.NaN), none, none, new Transistor(0, null), ideal, null, null, null, null);
    }

    double inputVoltage() {
        return input.voltage();
    }

    StageValues withInput(double voltage) {
        return withInput(new Input(voltage, input.amplitude(), input.frequency(), input.since()));
    }

    /** With a ripple that begins at a time of the run, s, in its middle and rising. */
    StageValues withRipple(double amplitude, double frequency, double since) {
        return withInput(new Input(input.voltage(), amplitude, frequency, since));
    }

    private StageValues withInput(Input other) {
        return new StageValues(
                topology, other, inductor, capacitor, transistor, rectifier, load, drive, regulator, amplifier);
    }

    StageValues withInductor(double henry, double ohm) {
        Storage other = new Storage(henry, ohm);
        return new StageValues(
                topology, input, other, capacitor, transistor, rectifier, load, drive, regulator, amplifier);
    }

    StageValues withOutputCapacitor(double farad, double ohm) {
        Storage other = new Storage(farad, ohm);
        return new StageValues(
                topology, input, inductor, other, transistor, rectifier, load, drive, regulator, amplifier);
    }

    StageValues withOnResistance(double ohm) {
        return withTransistor(new Transistor(ohm, transistor.bodyDiode()));
    }

    StageValues withBodyDiode(double forwardDrop, double ohm) {
        RectifierModel diode = RectifierModel.diode(forwardDrop, ohm);
        return withTransistor(new Transistor(transistor.onResistance(), diode));
    }

    private StageValues withTransistor(Transistor other) {
        return new StageValues(
                topology, input, inductor, capacitor, other, rectifier, load, drive, regulator, amplifier);
    }

    StageValues withRectifier(RectifierModel other) {
        return new StageValues(
                topology, input, inductor, capacitor, transistor, other, load, drive, regulator, amplifier);
    }

    StageValues withLoad(Load other) {
        return new StageValues(
                topology, input, inductor, capacitor, transistor, rectifier, other, drive, regulator, amplifier);
    }

    StageValues withDrive(Drive other) {
        return new StageValues(topology, input, inductor, capacitor, transistor, rectifier, load, other, null, null);
    }

    /** With a regulator, and the error amplifier that makes its control voltage, if one does. */
    StageValues withRegulator(Regulator other, @Nullable ErrorAmplifier by) {
        return new StageValues(topology, input, inductor, capacitor, transistor, rectifier, load, null, other, by);
    }

    /** Once the soft start of the error amplifier is over; that of a regulator of its own is over in what runs on. */
    StageValues started() {
        ErrorAmplifier by = amplifier;
        return by == null || by.softStart() == 0 ? this : withRegulator(requiredRegulator(), by.withSoftStart(0));
    }

    /** The load of values that were checked. */
    Load requiredLoad() {
        return Objects.requireNonNull(load);
    }

    /** The drive of values that were checked and are not regulated. */
    Drive requiredDrive() {
        return Objects.requireNonNull(drive);
    }

    boolean isRegulated() {
        return regulator != null;
    }

    /** The regulator of values that are regulated. */
    Regulator requiredRegulator() {
        return Objects.requireNonNull(regulator);
    }

    /** Returns the values if nothing is wrong with them. */
    StageValues checked() {
        List<String> faults = new ArrayList<>();
        positive(faults, "input: voltage", input.voltage(), "V");
        checkRipple(faults);
        positive(faults, "inductor: inductance", inductor.value(), "H");
        notNegative(faults, "inductor: series resistance", inductor.resistance(), "Ω");
        positive(faults, "output capacitor: capacitance", capacitor.value(), "F");
        notNegative(faults, "output capacitor: series resistance", capacitor.resistance(), "Ω");
        notNegative(faults, "transistor: on-resistance", transistor.onResistance(), "Ω");
        checkBodyDiode(faults, "body diode", transistor.bodyDiode());
        notNegative(faults, "rectifier: forward drop", rectifier.forwardDrop(), "V");
        notNegative(faults, "rectifier: resistance", rectifier.resistance(), "Ω");
        checkBodyDiode(faults, "body diode of the synchronous rectifier", rectifier.bodyDiode());
        checkLoadAndDrive(faults);
        if (!faults.isEmpty()) {
            throw new InvalidStageException(topology + " stage", faults);
        }
        return this;
    }

    private void checkRipple(List<String> faults) {
        notNegative(faults, "input: amplitude of the ripple", input.amplitude(), "V");
        positive(faults, "input: frequency of the ripple", input.frequency(), "Hz");
        if (input.voltage() > 0 && input.amplitude() >= input.voltage()) {
            faults.add("input: amplitude of the ripple must be below the input voltage of " + input.voltage()
                    + " V but was " + input.amplitude() + " V");
        }
    }

    private static void checkBodyDiode(List<String> faults, String what, @Nullable RectifierModel diode) {
        if (diode != null) {
            // Without a drop it would conduct in place of the channel whenever the current flows backwards.
            positive(faults, what + ": forward drop", diode.forwardDrop(), "V");
            notNegative(faults, what + ": resistance", diode.resistance(), "Ω");
        }
    }

    private void checkLoadAndDrive(List<String> faults) {
        if (load == null) {
            faults.add("load is missing; give Load.resistor(...) or Load.current(...)");
        }
        if (drive == null && regulator == null) {
            faults.add("drive is missing; give Drive.fixedDuty(...) or a regulator such as VoltageMode.of(...)");
        }
        if (drive != null) {
            drive.faults().forEach(fault -> faults.add("drive: " + fault));
        }
        if (regulator != null) {
            regulator.faults().forEach(fault -> faults.add("regulator: " + fault));
            checkPathOfCurrent(faults, regulator.protection());
        }
        if (amplifier != null) {
            amplifier.faults().forEach(fault -> faults.add("error amplifier: " + fault));
            checkStartOfRectifier(faults);
        }
    }

    /** The reference of an error amplifier rises in the circuit, of which the regulator knows nothing. */
    private void checkStartOfRectifier(List<String> faults) {
        if (regulator != null
                && regulator.protection().synchronous().rectification() == Rectification.DIODE_EMULATION_AT_START) {
            faults.add(
                    "rectification is diode emulation at the start, which ends with the soft start of a regulator, but the "
                            + "soft start is that of the error amplifier; give Rectification.FORCED or DIODE_EMULATION");
        }
    }

    /** Where both transistors are open at once, the inductor current needs a diode to go on in. */
    private void checkPathOfCurrent(List<String> faults, Protection protection) {
        if (rectifier.synchronous() && rectifier.bodyDiode() == null && protection.opensBothTransistors()) {
            faults.add(
                    "body diode of the synchronous rectifier is missing; with a dead time, diode emulation, hiccup or "
                            + "undervoltage lock-out both transistors are open at times and the inductor current needs it: "
                            + "give synchronousRectifier(onResistance, forwardDrop, resistance)");
        }
    }

    private static void positive(List<String> faults, String what, double value, String unit) {
        if (Double.isNaN(value)) {
            faults.add(what + " is missing or not a number; it must be more than 0 " + unit);
        } else if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be more than 0 " + unit + " and finite but was " + value + " " + unit);
        }
    }

    private static void notNegative(List<String> faults, String what, double value, String unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be 0 " + unit + " or more and finite but was " + value + " " + unit);
        }
    }
}
