package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.converter.Change;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The transient that a design file asks for.
 *
 * <pre>{@code
 * TransientPlan plan = design.transientPlan();
 * Converter converter = design.converter();
 * double peak = converter
 *         .startUp(plan.duration(), plan.changes().toArray(new Change[0]))
 *         .of(converter.outputVoltage())
 *         .maximum(); // 7.729 V
 * }</pre>
 *
 * @param duration how long, s; more than 0
 * @param fromSteadyState true to start from the periodic steady state, false to start from rest
 * @param changes steps on the way, in order of time
 * @param settlingBand half the width of the band in which the output has settled after a change, as a share of its level
 */
public record TransientPlan(double duration, boolean fromSteadyState, List<Change> changes, double settlingBand) {
    /**
     * Copies the list.
     *
     * @param duration how long, s; more than 0
     * @param fromSteadyState true to start from the periodic steady state, false to start from rest
     * @param changes steps on the way, in order of time
     * @param settlingBand half the width of the band in which the output has settled after a change
     */
    public TransientPlan {
        changes = List.copyOf(changes);
    }

    /** Reads the table [transient] with its changes. */
    static final class Reader {
        /** Up to so many periods their intervals can be numbered; the command takes some seconds a million where none comes back. */
        static final long MOST_PERIODS = 100_000_000;

        private static final Map<String, Boolean> STARTS = new TreeMap<>(Map.of("rest", false, "steady-state", true));

        private static final String DUTY_CYCLE = "duty_cycle";
        private static final String REFERENCE = "reference";
        private static final String CURRENT_COMMAND = "current_command";
        private static final List<String> AIMS = List.of(DUTY_CYCLE, REFERENCE, CURRENT_COMMAND);
        private static final List<String> CONTENTS =
                List.of("load", "short_circuit", "input", DUTY_CYCLE, REFERENCE, CURRENT_COMMAND);

        private final Section section;
        private final @Nullable DrivePlan drive;
        private final @Nullable Load load;
        private final LineInput line;
        private final @Nullable Circuit own;
        private final double duration;

        private Reader(
                Section section,
                @Nullable DrivePlan drive,
                @Nullable Load load,
                LineInput line,
                @Nullable Circuit own) {
            this.section = section;
            this.drive = drive;
            this.load = load;
            this.line = line;
            this.own = own;
            this.duration = section.quantity("duration");
        }

        /** Null if there is no such table, or after faults. Drive and load are null if they could not be read, the circuit if it is
         * that of a ready-made stage. */
        static @Nullable TransientPlan read(
                Section root, @Nullable DrivePlan drive, @Nullable Load load, LineInput line, @Nullable Circuit own) {
            Section section = root.table("transient");
            return section == null ? null : new Reader(section, drive, load, line, own).read();
        }

        private TransientPlan read() {
            boolean fromSteadyState = Boolean.TRUE.equals(section.choice("start", STARTS));
            double band = section.quantity("settling_band");
            List<Change> changes = changes();
            section.finish();
            return new TransientPlan(duration, fromSteadyState, changes, band);
        }

        private void checkPeriods() {
            double periods = drive == null ? 0 : duration * drive.switchingFrequency();
            if (drive != null && periods > MOST_PERIODS) {
                section.fault(
                        "duration",
                        String.format(
                                java.util.Locale.ROOT,
                                "too long: %s are %.0f switching periods; valid: at most %d periods, that is %s here",
                                Quantity.brief(duration, Unit.SECOND),
                                periods,
                                MOST_PERIODS,
                                Quantity.brief(MOST_PERIODS / drive.switchingFrequency(), Unit.SECOND)));
            }
        }

        private List<Change> changes() {
            List<Change> changes = new ArrayList<>();
            List<LoadStep> loads = new ArrayList<>();
            List<LineStep> lines = new ArrayList<>();
            for (Section one : section.tables("change")) {
                double time = time(one);
                boolean valid = Double.isFinite(time);
                Change change = change(one, valid ? time : 0, loads, lines);
                one.finish();
                if (!valid) {
                    continue;
                }
                if (changes.stream().anyMatch(other -> other.time() == change.time())) {
                    one.fault(
                            "time",
                            "another change is at the same time, " + Quantity.brief(change.time(), Unit.SECOND)
                                    + "; valid: one change with all values that change then");
                }
                changes.add(change);
            }
            changes.sort(Comparator.comparingDouble(Change::time));
            checkSlewRates(loads);
            checkRipples(lines);
            checkPeriods();
            return changes;
        }

        /** A step of the load, with the table that it stands in. */
        private record LoadStep(double time, Load load, boolean ramps, Section section) {}

        private void checkSlewRates(List<LoadStep> loads) {
            Load before = load;
            loads.sort(Comparator.comparingDouble(LoadStep::time));
            for (LoadStep step : loads) {
                if (step.ramps() && before != null && !before.hasCurrent()) {
                    step.section()
                            .fault(
                                    "load",
                                    "slew_rate needs a load of constant current before as well, but it was " + before
                                            + "; valid: current in place of resistance");
                }
                before = step.load();
            }
        }

        /** A change of the line: what it does not name is NaN or null and stays. */
        private record LineStep(
                double time, double voltage, @Nullable LineRipple ripple, Section section) {}

        private void checkRipples(List<LineStep> lines) {
            double voltage = line.voltage();
            LineRipple ripple = line.ripple();
            lines.sort(Comparator.comparingDouble(LineStep::time));
            for (LineStep step : lines) {
                voltage = Double.isNaN(step.voltage()) ? voltage : step.voltage();
                ripple = step.ripple() == null ? ripple : step.ripple();
                ripple.check(step.section(), voltage);
            }
        }

        private Change change(Section one, double time, List<LoadStep> loads, List<LineStep> lines) {
            Change change = withLoad(one, Change.at(time), loads);
            change = withLine(one, change, lines);
            change = withAim(one, change);
            change = withParts(one, change);
            checkContent(one);
            return change;
        }

        private static Change withLine(Section one, Change change, List<LineStep> lines) {
            Section input = one.table("input");
            if (input == null) {
                return change;
            }
            // without a ripple the voltage is what a change of the input is about
            double voltage = input.has("ripple") && !input.has("voltage") ? Double.NaN : input.quantity("voltage");
            LineRipple ripple = LineRipple.read(input);
            input.finish();
            boolean steps = Double.isFinite(voltage);
            lines.add(new LineStep(change.time(), steps ? voltage : Double.NaN, ripple, input));
            Change stepped = steps ? change.input(voltage) : change;
            return ripple == null ? stepped : stepped.inputRipple(ripple.amplitude(), ripple.frequency());
        }

        private static Change withLoad(Section one, Change change, List<LoadStep> loads) {
            Section table = one.table("load");
            double slewRate = table == null ? Double.POSITIVE_INFINITY : LoadReader.slewRate(table);
            Load newLoad = table == null ? null : LoadReader.read(table);
            double ohm = one.quantity("short_circuit");
            if (one.has("load") && one.has("short_circuit")) {
                one.fault("short_circuit", "both load and short_circuit are given; valid: one of the two");
            }
            if (Double.isFinite(ohm)) {
                loads.add(new LoadStep(change.time(), Load.resistor(ohm), false, one));
                return change.shortCircuit(ohm);
            }
            if (newLoad == null) {
                return change;
            }
            boolean ramps = Double.isFinite(slewRate) && newLoad.hasCurrent();
            loads.add(new LoadStep(change.time(), newLoad, ramps, one));
            return ramps ? change.load(newLoad, slewRate) : change.load(newLoad);
        }

        /** Other values of parts of a custom circuit. */
        private Change withParts(Section one, Change change) {
            Change changed = change;
            Circuit circuit = own;
            if (circuit == null) {
                return change;
            }
            for (String name : one.partValues()) {
                try {
                    PartValue value = PartValue.of(circuit, name);
                    double read = one.required(name, new Kind(value.unit(), range(value.unit()), "1"));
                    changed = Double.isFinite(read) ? changed.part(name, read) : changed;
                } catch (IllegalArgumentException e) {
                    one.has(name);
                    one.fault(name, String.valueOf(e.getMessage()));
                }
            }
            return changed;
        }

        private static Kind.Range range(Unit unit) {
            return unit == Unit.VOLT || unit == Unit.AMPERE ? Kind.Range.FINITE : Kind.Range.NOT_NEGATIVE;
        }

        /** What the drive aims at: duty cycle, reference or current command. Only one of them fits the drive. */
        private Change withAim(Section one, Change change) {
            String fits = drive instanceof FixedDuty ? DUTY_CYCLE : aimOfRegulator();
            for (String key : AIMS) {
                if (drive != null && one.has(key) && !key.equals(fits)) {
                    one.fault(key, "does not apply to this drive; valid: " + fits);
                }
            }
            double duty = one.quantity(DUTY_CYCLE);
            double volt = one.quantity(REFERENCE);
            double ampere = one.quantity(CURRENT_COMMAND);
            Change aimed = Double.isFinite(duty) ? change.dutyCycle(duty) : change;
            double aim = one.has(REFERENCE) ? volt : ampere;
            return Double.isFinite(aim) ? aimed.reference(aim) : aimed;
        }

        private String aimOfRegulator() {
            return drive instanceof Regulated regulated && regulated.commanded() ? CURRENT_COMMAND : REFERENCE;
        }

        private double time(Section one) {
            double time = one.quantity("time");
            if (time >= duration) {
                one.fault(
                        "time",
                        "outside the transient: " + Quantity.brief(time, Unit.SECOND)
                                + "; valid: from 0 s to less than the duration of "
                                + Quantity.brief(duration, Unit.SECOND));
            }
            return time;
        }

        private static void checkContent(Section one) {
            if (CONTENTS.stream().noneMatch(one::has) && one.partValues().isEmpty()) {
                one.fault("changes nothing; valid: " + String.join(", ", CONTENTS) + " beside the time");
            }
        }
    }
}
