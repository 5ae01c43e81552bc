package org.voltsecond.examples.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/** Reads the table [drive]. A further kind of drive is a further reader in {@link #READERS}. */
final class DriveReader {
    /** What can be read today; a reader returns null after it has told of faults. */
    private static final Map<String, Function<Section, @Nullable DrivePlan>> READERS =
            Map.of("fixed-duty", DriveReader::fixedDuty);

    /** What the format knows of and this command cannot do yet. */
    private static final List<String> NOT_BUILT = List.of(
            "voltage-mode", "peak-current-mode", "valley-current-mode", "hysteretic", "constant-on-time", "sampled");

    private DriveReader() {}

    static @Nullable DrivePlan read(Section root) {
        Section drive = root.requiredTable("drive", "kind, and the keys of that kind");
        if (drive == null) {
            return null;
        }
        String kind = drive.text("kind", "");
        Function<Section, @Nullable DrivePlan> reader = READERS.get(kind);
        if (reader == null) {
            drive.fault("kind", fault(kind) + "; valid: " + String.join(", ", READERS.keySet()));
            return null;
        }
        DrivePlan plan = reader.apply(drive);
        drive.finish();
        return plan;
    }

    private static String fault(String kind) {
        if (kind.isEmpty()) {
            return "missing or not a text";
        }
        if (NOT_BUILT.contains(kind)) {
            return "not built yet: " + kind;
        }
        List<String> kinds = new ArrayList<>(NOT_BUILT);
        kinds.addAll(READERS.keySet());
        return "unknown kind \"" + Printable.of(kind) + "\", nearest: " + Spelling.nearest(kind, kinds);
    }

    private static @Nullable DrivePlan fixedDuty(Section drive) {
        double dutyCycle = drive.quantity("duty_cycle", Kind.DUTY_CYCLE);
        double frequency = drive.quantity("switching_frequency", Kind.FREQUENCY);
        boolean valid = Kind.DUTY_CYCLE.range().contains(dutyCycle)
                && Kind.FREQUENCY.range().contains(frequency);
        return valid ? new FixedDuty(dutyCycle, frequency) : null;
    }
}
