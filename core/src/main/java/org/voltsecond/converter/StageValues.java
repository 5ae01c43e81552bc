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
        double inductance,
        double inductorResistance,
        double capacitance,
        double capacitorResistance,
        double transistorResistance,
        RectifierModel rectifier,
        @Nullable Load load,
        @Nullable Drive drive) {

    static StageValues of(Topology topology) {
        double none = Double.NaN;
        return new StageValues(topology, none, none, 0, none, 0, 0, new RectifierModel(false, 0, 0), null, null);
    }

    StageValues withInput(double voltage) {
        return new StageValues(
                topology,
                voltage,
                inductance,
                inductorResistance,
                capacitance,
                capacitorResistance,
                transistorResistance,
                rectifier,
                load,
                drive);
    }

    StageValues withInductor(double henry, double ohm) {
        return new StageValues(
                topology,
                inputVoltage,
                henry,
                ohm,
                capacitance,
                capacitorResistance,
                transistorResistance,
                rectifier,
                load,
                drive);
    }

    StageValues withOutputCapacitor(double farad, double ohm) {
        return new StageValues(
                topology,
                inputVoltage,
                inductance,
                inductorResistance,
                farad,
                ohm,
                transistorResistance,
                rectifier,
                load,
                drive);
    }

    StageValues withTransistor(double ohm) {
        return new StageValues(
                topology,
                inputVoltage,
                inductance,
                inductorResistance,
                capacitance,
                capacitorResistance,
                ohm,
                rectifier,
                load,
                drive);
    }

    StageValues withRectifier(RectifierModel model) {
        return new StageValues(
                topology,
                inputVoltage,
                inductance,
                inductorResistance,
                capacitance,
                capacitorResistance,
                transistorResistance,
                model,
                load,
                drive);
    }

    StageValues withLoad(Load newLoad) {
        return new StageValues(
                topology,
                inputVoltage,
                inductance,
                inductorResistance,
                capacitance,
                capacitorResistance,
                transistorResistance,
                rectifier,
                newLoad,
                drive);
    }

    StageValues withDrive(Drive newDrive) {
        return new StageValues(
                topology,
                inputVoltage,
                inductance,
                inductorResistance,
                capacitance,
                capacitorResistance,
                transistorResistance,
                rectifier,
                load,
                newDrive);
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
        positive(faults, "inductor: inductance", inductance, "H");
        notNegative(faults, "inductor: series resistance", inductorResistance, "Ω");
        positive(faults, "output capacitor: capacitance", capacitance, "F");
        notNegative(faults, "output capacitor: series resistance", capacitorResistance, "Ω");
        notNegative(faults, "transistor: on-resistance", transistorResistance, "Ω");
        notNegative(faults, "rectifier: forward drop", rectifier.forwardDrop(), "V");
        notNegative(faults, "rectifier: resistance", rectifier.resistance(), "Ω");
        if (load == null) {
            faults.add("load is missing; give Load.resistor(...) or Load.current(...)");
        }
        if (drive == null) {
            faults.add("drive is missing; give Drive.fixedDuty(...)");
        } else {
            drive.faults().forEach(fault -> faults.add("drive: " + fault));
        }
        if (!faults.isEmpty()) {
            throw new InvalidStageException(topology + " stage", faults);
        }
        return this;
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
