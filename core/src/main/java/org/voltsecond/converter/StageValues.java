package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;

/** What a power stage is made of, before and after it is checked. SI units; NaN and null stand for what is not given. */
record StageValues(
        Topology topology,
        double inputVoltage,
        Storage inductor,
        Storage capacitor,
        Transistor transistor,
        RectifierModel rectifier,
        @Nullable Load load,
        @Nullable Drive drive,
        @Nullable Regulator regulator) {

    /** An inductance, H, or capacitance, F, with its series resistance, Ω. */
    record Storage(double value, double resistance) {}

    /** A transistor with its on-resistance, Ω, and the diode that lies across it, if any. */
    record Transistor(double onResistance, @Nullable RectifierModel bodyDiode) {}

    static StageValues of(Topology topology) {
        Storage none = new Storage(Double.NaN, 0);
        RectifierModel ideal = RectifierModel.diode(0, 0);
        return new StageValues(topology, Double.NaN, none, none, new Transistor(0, null), ideal, null, null, null);
    }

    StageValues withInput(double voltage) {
        return new StageValues(topology, voltage, inductor, capacitor, transistor, rectifier, load, drive, regulator);
    }

    StageValues withInductor(double henry, double ohm) {
        Storage other = new Storage(henry, ohm);
        return new StageValues(topology, inputVoltage, other, capacitor, transistor, rectifier, load, drive, regulator);
    }

    StageValues withOutputCapacitor(double farad, double ohm) {
        Storage other = new Storage(farad, ohm);
        return new StageValues(topology, inputVoltage, inductor, other, transistor, rectifier, load, drive, regulator);
    }

    StageValues withOnResistance(double ohm) {
        return withTransistor(new Transistor(ohm, transistor.bodyDiode()));
    }

    StageValues withBodyDiode(double forwardDrop, double ohm) {
        RectifierModel diode = RectifierModel.diode(forwardDrop, ohm);
        return withTransistor(new Transistor(transistor.onResistance(), diode));
    }

    private StageValues withTransistor(Transistor other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, other, rectifier, load, drive, regulator);
    }

    StageValues withRectifier(RectifierModel other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, other, load, drive, regulator);
    }

    StageValues withLoad(Load other) {
        return new StageValues(
                topology, inputVoltage, inductor, capacitor, transistor, rectifier, other, drive, regulator);
    }

    StageValues withDrive(Drive other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, rectifier, load, other, null);
    }

    StageValues withRegulator(Regulator other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, rectifier, load, null, other);
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
        positive(faults, "input: voltage", inputVoltage, "V");
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
