package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;

/** What a power stage is made of, before and after it is checked. SI units; NaN and null stand for what is not given. */
record StageValues(
        Topology topology,
        double inputVoltage,
        Storage inductor,
        Storage capacitor,
        Transistor transistor,
        RectifierModel rectifier,
        @Nullable Load load,
        @Nullable Drive drive) {

    /** An inductance, H, or capacitance, F, with its series resistance, Ω. */
    record Storage(double value, double resistance) {}

    /** A transistor with its on-resistance, Ω, and the diode that lies across it, if any. */
    record Transistor(double onResistance, @Nullable RectifierModel bodyDiode) {}

    static StageValues of(Topology topology) {
        Storage none = new Storage(Double.NaN, 0);
        RectifierModel ideal = new RectifierModel(false, 0, 0);
        return new StageValues(topology, Double.NaN, none, none, new Transistor(0, null), ideal, null, null);
    }

    StageValues withInput(double voltage) {
        return new StageValues(topology, voltage, inductor, capacitor, transistor, rectifier, load, drive);
    }

    StageValues withInductor(double henry, double ohm) {
        Storage other = new Storage(henry, ohm);
        return new StageValues(topology, inputVoltage, other, capacitor, transistor, rectifier, load, drive);
    }

    StageValues withOutputCapacitor(double farad, double ohm) {
        Storage other = new Storage(farad, ohm);
        return new StageValues(topology, inputVoltage, inductor, other, transistor, rectifier, load, drive);
    }

    StageValues withOnResistance(double ohm) {
        return withTransistor(new Transistor(ohm, transistor.bodyDiode()));
    }

    StageValues withBodyDiode(double forwardDrop, double ohm) {
        RectifierModel diode = new RectifierModel(false, forwardDrop, ohm);
        return withTransistor(new Transistor(transistor.onResistance(), diode));
    }

    private StageValues withTransistor(Transistor other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, other, rectifier, load, drive);
    }

    StageValues withRectifier(RectifierModel other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, other, load, drive);
    }

    StageValues withLoad(Load other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, rectifier, other, drive);
    }

    StageValues withDrive(Drive other) {
        return new StageValues(topology, inputVoltage, inductor, capacitor, transistor, rectifier, load, other);
    }

    /** The load of values that were checked. */
    Load requiredLoad() {
        return Objects.requireNonNull(load);
    }

    /** The drive of values that were checked. */
    Drive requiredDrive() {
        return Objects.requireNonNull(drive);
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
        checkBodyDiode(faults);
        notNegative(faults, "rectifier: forward drop", rectifier.forwardDrop(), "V");
        notNegative(faults, "rectifier: resistance", rectifier.resistance(), "Ω");
        checkLoadAndDrive(faults);
        if (!faults.isEmpty()) {
            throw new InvalidStageException(topology + " stage", faults);
        }
        return this;
    }

    private void checkBodyDiode(List<String> faults) {
        RectifierModel diode = transistor.bodyDiode();
        if (diode != null) {
            // Without a drop it would conduct in place of the channel whenever the current flows backwards.
            positive(faults, "body diode: forward drop", diode.forwardDrop(), "V");
            notNegative(faults, "body diode: resistance", diode.resistance(), "Ω");
        }
    }

    private void checkLoadAndDrive(List<String> faults) {
        if (load == null) {
            faults.add("load is missing; give Load.resistor(...) or Load.current(...)");
        }
        if (drive == null) {
            faults.add("drive is missing; give Drive.fixedDuty(...)");
        } else {
            drive.faults().forEach(fault -> faults.add("drive: " + fault));
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
