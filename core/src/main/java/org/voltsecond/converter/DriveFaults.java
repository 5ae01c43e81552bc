package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.Roles;

/** What is wrong with what drives a converter. */
final class DriveFaults {
    private DriveFaults() {}

    /** One line for each fault; empty if all is well. */
    static List<String> of(Blueprint values) {
        Roles roles = values.roles();
        Map<String, Drive> drives = values.drives();
        Regulator regulator = values.regulator();
        List<String> faults = new ArrayList<>();
        drives.forEach((name, drive) -> {
            if (complementOfFirst(roles, name)) {
                return;
            }
            String whose =
                    drives.size() == 1 || name.equals(roles.transistor()) ? "drive: " : "drive of " + name + ": ";
            drive.faults().forEach(fault -> faults.add(whose + fault));
        });
        if (regulator != null) {
            boolean needsDiode = values.isSynchronous()
                    && roles.rectifiers().isEmpty()
                    && values.bodyDiode(roles.synchronous().get(0)) == null;
            faults.addAll(ofRegulator(regulator, values.amplifier(), needsDiode));
            addTiming("regulator", roles, faults);
            if (faults.isEmpty()) {
                regulator.faultsIn(roles.pattern()).forEach(fault -> faults.add("regulator: " + fault));
            }
        }
        return faults;
    }

    /**
     * What is wrong with a regulator and its error amplifier.
     *
     * @param needsDiode whether the inductor current has no path where all switches are open
     */
    static List<String> ofRegulator(Regulator regulator, @Nullable ErrorAmplifier amplifier, boolean needsDiode) {
        List<String> faults = new ArrayList<>();
        regulator.faults().forEach(fault -> faults.add("regulator: " + fault));
        if (needsDiode && regulator.protection().opensBothTransistors()) {
            faults.add(
                    "body diode of the synchronous rectifier is missing; with a dead time, diode emulation, hiccup or "
                            + "undervoltage lock-out both transistors are open at times and the inductor current needs it: "
                            + "give synchronousRectifier(onResistance, forwardDrop, resistance)");
        }
        if (amplifier != null) {
            amplifier.faults().forEach(fault -> faults.add("error amplifier: " + fault));
            // the reference of an error amplifier rises in the circuit, of which the regulator knows nothing
            if (regulator.protection().synchronous().rectification() == Rectification.DIODE_EMULATION_AT_START) {
                faults.add(
                        "rectification is diode emulation at the start, which ends with the soft start of a regulator, but "
                                + "the soft start is that of the error amplifier; give Rectification.FORCED or "
                                + "DIODE_EMULATION");
            }
        }
        return faults;
    }

    /** Whether it is told how one drive reaches several switches. */
    static void addTiming(String what, Roles roles, List<String> faults) {
        if (roles.switches().size() > 1 && !roles.isTimed()) {
            faults.add(what + ": there are several switches, " + roles.switches()
                    + "; say with timing(...) how one drive reaches them, give each its own with drive(Map), or name those "
                    + "that stand in for rectifiers with synchronous(...)");
        }
    }

    /** Its faults are those of the first. */
    private static boolean complementOfFirst(Roles roles, String name) {
        return !name.equals(roles.transistor()) && roles.synchronous().contains(name);
    }
}
