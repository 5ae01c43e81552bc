package org.voltsecond.design;

import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.Regulator;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.RegulatorReader.HystereticReader;

/** Reads the tables [drive] and [protection]. A further kind of drive is a further reader in {@link #READERS}. */
final class DriveReader {
    /** A reader returns null after faults that leave nothing to go on with. */
    private static final Map<String, Function<Section, @Nullable DrivePlan>> READERS = new TreeMap<>(Map.of(
            "fixed-duty", DriveReader::fixedDuty,
            "average-current-mode", RegulatorReader::averageCurrentMode,
            "voltage-mode", RegulatorReader::voltageMode,
            "peak-current-mode", drive -> RegulatorReader.currentMode(drive, CurrentMode.Extreme.PEAK),
            "valley-current-mode", drive -> RegulatorReader.currentMode(drive, CurrentMode.Extreme.VALLEY),
            "hysteretic", HystereticReader::read,
            "constant-on-time", RegulatorReader::constantOnTime,
            "sampled", RegulatorReader::sampled));

    private DriveReader() {}

    static @Nullable DrivePlan read(Section root) {
        return read(root, drive -> {});
    }

    /** With keys beside those of the kind of drive. */
    static @Nullable DrivePlan read(Section root, Consumer<Section> more) {
        root.has("protection");
        Section drive = root.requiredTable("drive", "kind, and the keys of that kind");
        if (drive == null) {
            return null;
        }
        Function<Section, @Nullable DrivePlan> reader = drive.choice("kind", READERS);
        if (reader == null) {
            return null;
        }
        int faults = drive.faultCount();
        more.accept(drive);
        DrivePlan plan = reader.apply(drive);
        drive.finish();
        if (plan instanceof Regulated regulated) {
            return withProtection(root, drive, regulated, faults);
        }
        if (plan != null && root.has("protection")) {
            root.fault(
                    "protection",
                    "is for a regulator, but a fixed duty cycle is not regulated; valid: leave the table out");
        }
        return plan;
    }

    /** Null after faults: times beside the clock are only compared where each of them is valid. */
    private static @Nullable Regulated withProtection(Section root, Section drive, Regulated bare, int faultsBefore) {
        Protection protection = ProtectionReader.read(root);
        Regulator regulator = bare.regulator().withProtection(protection);
        Section section = root.table("protection");
        if (section != null
                && bare.amplifier() != null
                && protection.synchronous().rectification() == Rectification.DIODE_EMULATION_AT_START) {
            section.fault(
                    "rectification",
                    "diode-emulation-at-start ends with the soft start of a regulator, but beside a compensator of parts that "
                            + "is one of the circuit; valid: forced, diode-emulation");
        }
        if (drive.faultCount() == faultsBefore) {
            regulator.faults().forEach(drive::fault);
        }
        return drive.faultCount() == faultsBefore ? bare.with(regulator) : null;
    }

    private static @Nullable DrivePlan fixedDuty(Section drive) {
        Section apart = drive.table("duty_cycles");
        if (apart != null && !drive.has("duty_cycle")) {
            double input = apart.quantity("input");
            double output = apart.quantity("output");
            apart.finish();
            double hertz = drive.quantity("switching_frequency");
            boolean whole = Double.isFinite(input + output) && Double.isFinite(hertz);
            return whole ? new FixedDuty(input, output, hertz) : null;
        }
        if (apart != null) {
            drive.fault(
                    "duty_cycles", "stands beside duty_cycle, which drives both legs at once; valid: one of the two");
        }
        double dutyCycle = drive.quantity("duty_cycle");
        double frequency = drive.quantity("switching_frequency");
        boolean valid = Double.isFinite(dutyCycle) && Double.isFinite(frequency);
        return valid ? new FixedDuty(dutyCycle, frequency) : null;
    }

    /** Reads the table [protection]. */
    static final class ProtectionReader {
        private static final Map<String, Rectification> RECTIFICATIONS = new TreeMap<>(Map.of(
                "forced", Rectification.FORCED,
                "diode-emulation", Rectification.DIODE_EMULATION,
                "diode-emulation-at-start", Rectification.DIODE_EMULATION_AT_START));

        private final Section section;

        private ProtectionReader(Section section) {
            this.section = section;
        }

        static Protection read(Section root) {
            Section section = root.table("protection");
            return section == null ? Protection.none() : new ProtectionReader(section).read();
        }

        private Protection read() {
            Protection protection = Protection.none().withMinimumOnTime(section.quantity("minimum_on_time"));
            protection = currentLimit(protection);
            protection = hiccup(protection);
            protection = lockout(protection);
            if (section.has("skip_level")) {
                protection = protection.withPulseSkipping(section.quantity("skip_level"));
            }
            protection = rectification(protection);
            section.finish();
            return protection;
        }

        private Protection currentLimit(Protection protection) {
            double blanking = section.quantity("blanking_time");
            if (section.has("current_limit")) {
                return protection.withCurrentLimit(section.quantity("current_limit"), blanking);
            }
            requireCurrentLimit("blanking_time");
            requireCurrentLimit("hiccup");
            return protection;
        }

        private void requireCurrentLimit(String key) {
            if (section.has(key)) {
                section.fault(
                        key,
                        "is given without a current limit; valid: current_limit as well, for example "
                                + section.example("current_limit"));
            }
        }

        private Protection hiccup(Protection protection) {
            Section table = section.table("hiccup");
            if (table == null) {
                return protection;
            }
            int pulses = table.whole("pulses");
            double pause = table.quantity("pause");
            table.finish();
            return protection.withHiccup(pulses, pause);
        }

        private Protection lockout(Protection protection) {
            Section table = section.table("undervoltage_lockout");
            if (table == null) {
                return protection;
            }
            double stop = table.quantity("stop");
            double start = table.quantity("start");
            table.finish();
            return protection.withUndervoltageLockout(stop, start);
        }

        private Protection rectification(Protection protection) {
            Rectification how = section.choice("rectification", RECTIFICATIONS);
            double dead = section.quantity("dead_time");
            return how == null ? protection : protection.withSynchronousRectification(how, dead);
        }
    }
}
