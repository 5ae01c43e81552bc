package org.voltsecond.examples.design;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Load;

/** Reads the table [transient] with its changes. */
final class TransientReader {
    /** What fits into the memory that a Java machine takes by default on a computer of today. */
    static final long MOST_PERIODS = 1_000_000;

    private static final Map<String, Boolean> STARTS = new TreeMap<>(Map.of("rest", false, "steady-state", true));

    private final Section section;
    private final @Nullable DrivePlan drive;
    private final double duration;

    private TransientReader(Section section, @Nullable DrivePlan drive) {
        this.section = section;
        this.drive = drive;
        this.duration = section.quantity("duration", Kind.DURATION);
    }

    /** Null if there is no such table, or after faults. The drive is null if it could not be read. */
    static @Nullable TransientPlan read(Section root, @Nullable DrivePlan drive) {
        Section section = root.table("transient");
        return section == null ? null : new TransientReader(section, drive).read();
    }

    private TransientPlan read() {
        checkPeriods();
        boolean fromSteadyState = Boolean.TRUE.equals(section.choice("start", STARTS, false));
        List<Change> changes = changes();
        section.finish();
        return new TransientPlan(duration, fromSteadyState, changes);
    }

    private void checkPeriods() {
        double periods = drive == null ? 0 : duration * drive.switchingFrequency();
        if (periods > MOST_PERIODS) {
            section.fault(
                    "duration",
                    String.format(
                            java.util.Locale.ROOT,
                            "too long: %s s are %.0f switching periods; valid: at most %d periods, that is %s s here",
                            duration,
                            periods,
                            MOST_PERIODS,
                            drive == null ? "" : MOST_PERIODS / drive.switchingFrequency()));
        }
    }

    private List<Change> changes() {
        List<Change> changes = new ArrayList<>();
        for (Section one : section.tables("change")) {
            Change change = change(one);
            if (change == null) {
                continue;
            }
            if (changes.stream().anyMatch(other -> other.time() == change.time())) {
                one.fault(
                        "time",
                        "another change is at the same time, " + change.time()
                                + " s; valid: one change that names everything that changes then");
            }
            changes.add(change);
        }
        changes.sort(Comparator.comparingDouble(Change::time));
        return changes;
    }

    private @Nullable Change change(Section one) {
        double time = time(one);
        Change change = Kind.INSTANT.range().contains(time) ? Change.at(time) : Change.at(0);
        Section load = one.table("load");
        Load newLoad = load == null ? null : LoadReader.read(load);
        change = newLoad == null ? change : change.load(newLoad);
        Section input = one.table("input");
        double voltage = input == null ? Double.NaN : input.quantity("voltage", Kind.VOLTAGE);
        if (input != null) {
            input.finish();
        }
        change = Kind.VOLTAGE.range().contains(voltage) ? change.input(voltage) : change;
        double duty = one.quantity("duty_cycle", Kind.DUTY_CYCLE, Double.NaN);
        change = Kind.DUTY_CYCLE.range().contains(duty) ? change.dutyCycle(duty) : change;
        checkContent(one);
        one.finish();
        return Kind.INSTANT.range().contains(time) ? change : null;
    }

    private double time(Section one) {
        double time = one.quantity("time", Kind.INSTANT);
        if (time >= duration) {
            one.fault(
                    "time",
                    "outside the transient: " + time + " s; valid: from 0 s to less than the duration of " + duration
                            + " s");
        }
        return time;
    }

    private void checkContent(Section one) {
        if (!one.has("load") && !one.has("input") && !one.has("duty_cycle")) {
            one.fault("changes nothing; valid: load, input or duty_cycle beside the time");
        }
    }
}
