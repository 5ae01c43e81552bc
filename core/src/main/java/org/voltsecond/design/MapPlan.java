package org.voltsecond.design;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.study.Axis;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The operating map that a design file asks for.
 *
 * <pre>{@code
 * MapPlan plan = design.studies().map();
 * int columns = plan.across().size(); // 61
 * boolean held = plan.outputVoltage() > 0; // true
 * }</pre>
 *
 * @param across the quantity from left to right
 * @param up the quantity from bottom to top
 * @param outputVoltage magnitude of the output voltage that is held at each point, V; not a number if the drive stays
 * @param figures what to show, by the names of the file, in its order
 */
public record MapPlan(Axis across, Axis up, double outputVoltage, Map<String, StageFigure> figures) {

    /** Reads the table [map]. */
    static final class Reader {
        private static final int MOST_POINTS = 250_000;
        /** Where each point takes a search of the engine. */
        private static final int MOST_SEARCHES = 2500;
        /** Where each point takes the waveforms, for its losses: half a minute on one processor. */
        private static final int MOST_WITH_LOSSES = 40_000;

        private static final List<String> USUAL_FIGURES = List.of("output_ripple", "inductor_peak", "efficiency");
        private static final Map<String, Boolean> SPACINGS = new TreeMap<>(Map.of("factors", true, "steps", false));

        private final Section table;
        private final @Nullable Design parts;
        private final boolean losses;
        private final @Nullable Converter converter;

        private Reader(Section table, @Nullable Design parts, @Nullable Converter converter, boolean losses) {
            this.table = table;
            this.parts = parts;
            this.losses = losses;
            this.converter = converter;
        }

        /** Null if there is no such table, or after faults. */
        static @Nullable MapPlan read(Section root, @Nullable Design parts, @Nullable Converter converter) {
            Section table = root.table("map");
            return table == null ? null : new Reader(table, parts, converter, root.has("losses")).read();
        }

        private @Nullable MapPlan read() {
            int before = table.faultCount();
            Axis across = axis("across");
            Axis up = axis("up");
            double output = table.quantity("output_voltage");
            Map<String, StageFigure> figures = figures();
            checkFigures(figures.keySet());
            table.finish();
            if (across == null || up == null || table.faultCount() > before) {
                return null;
            }
            checkTogether(across, up, output);
            return table.faultCount() > before ? null : new MapPlan(across, up, output, figures);
        }

        /** Some figures are of parts that a custom circuit need not have. */
        private void checkFigures(Set<String> figures) {
            if (converter == null) {
                return;
            }
            boolean rectifies = !converter.roles().rectifiers().isEmpty()
                    || !converter.roles().synchronous().isEmpty();
            if (figures.contains("rectifier_mean") && !rectifies) {
                table.fault("figures", "rectifier_mean: nothing rectifies in this circuit; valid: the others");
            }
            if (figures.contains("capacitor_rms")
                    && converter.roles().outputCapacitor().isEmpty()) {
                table.fault("figures", "capacitor_rms: this circuit has no output capacitor; valid: the others");
            }
        }

        private @Nullable Axis axis(String key) {
            Section axis = table.requiredTable(key, "quantity, from and to, for example " + table.example(key));
            if (axis == null) {
                return null;
            }
            int before = axis.faultCount();
            StageValue value = quantity(axis);
            double from = end(axis, "from", value);
            double to = end(axis, "to", value);
            if (value != null && from >= to) {
                axis.fault(
                        "to",
                        "must be above from = "
                                + Quantity.brief(from, StageNames.kind(value).unit()) + " but is "
                                + Quantity.brief(to, StageNames.kind(value).unit()) + "; valid: a larger value");
            }
            int points = axis.whole("points");
            boolean usual = value != null && isLoad(value);
            boolean factors = Boolean.TRUE.equals(axis.choice("spacing", SPACINGS, usual));
            axis.finish();
            if (value == null || axis.faultCount() > before) {
                return null;
            }
            checkAxis(axis, value, from, factors);
            if (axis.faultCount() > before) {
                return null;
            }
            List<Double> values = factors
                    ? Axis.logarithmic(value.toString(), from, to, points)
                    : Axis.linear(value.toString(), from, to, points);
            return Axis.of(value, values, factors);
        }

        private @Nullable StageValue quantity(Section axis) {
            if (axis.given("quantity") instanceof String name && name.contains(".")) {
                axis.has("quantity");
                return StageNames.ofPart(axis, "quantity", name, converter);
            }
            return axis.choice("quantity", StageNames.VALUES);
        }

        /** Of an unknown quantity nobody knows what is valid. */
        private static double end(Section axis, String key, @Nullable StageValue value) {
            return value == null && axis.has(key)
                    ? Double.NaN
                    : axis.required(
                            key, value == null ? new Kind(Unit.ONE, Kind.Range.FINITE, "0.5") : StageNames.kind(value));
        }

        private void checkAxis(Section axis, StageValue value, double from, boolean factors) {
            if (factors && !(from > 0)) {
                axis.fault(
                        "from",
                        "must be more than 0 where values go by factors; valid: more than 0, or spacing = \"steps\"");
            }
            boolean drive = value.equals(StageValue.DUTY_CYCLE) || value.equals(StageValue.FREQUENCY);
            if (drive && isRegulated()) {
                axis.fault("quantity", "the regulator sets the " + value + " itself; valid: a quantity of the stage");
            } else if (value.equals(StageValue.FORWARD_DROP) && converter != null && converter.isSynchronous()) {
                axis.fault("quantity", "a synchronous rectifier has no forward drop; valid: rectifier_resistance");
            } else if (converter != null && !isLoad(value) && !value.appliesTo(converter)) {
                axis.fault(
                        "quantity",
                        "this design has no " + value + "; valid: "
                                + StageValue.of(converter).stream()
                                        .map(StageNames::of)
                                        .collect(Collectors.joining(", "))
                                + ", or the value of a part, for example \"L1.inductance\"");
            }
        }

        private static boolean isLoad(StageValue value) {
            return value.equals(StageValue.LOAD_CURRENT) || value.equals(StageValue.LOAD_RESISTANCE);
        }

        private void checkTogether(Axis across, Axis up, double output) {
            if (across.name().equals(up.name()) || (isLoad(across) && isLoad(up))) {
                table.fault(
                        "up",
                        "changes what [map.across] changes, " + across.name()
                                + "; valid: another quantity, for example " + "\"input_voltage\"");
            }
            boolean regulated = isRegulated();
            boolean holds = !Double.isNaN(output);
            if (holds && regulated) {
                table.fault("output_voltage", "is held by the regulator already; valid: leave the key out");
            }
            if (holds && (isDuty(across) || isDuty(up))) {
                table.fault("output_voltage", "cannot be held where duty_cycle is an axis; valid: one of the two");
            }
            boolean searched = converter != null && !StageSampler.isQuickFor(converter);
            int most = searched ? MOST_SEARCHES : losses ? MOST_WITH_LOSSES : MOST_POINTS;
            if ((long) across.size() * up.size() > most) {
                table.fault(
                        "across",
                        "asks, with up, for " + across.size() + " x " + up.size() + " points, more than " + most
                                + (searched
                                        ? " where each takes a search of its own"
                                        : losses ? " where each counts all losses" : "")
                                + "; valid: fewer points");
            }
        }

        private boolean isRegulated() {
            return parts != null && parts.drive() instanceof Regulated;
        }

        private static boolean isLoad(Axis axis) {
            return axis.name().equals(StageValue.LOAD_CURRENT.toString())
                    || axis.name().equals(StageValue.LOAD_RESISTANCE.toString());
        }

        private static boolean isDuty(Axis axis) {
            return axis.name().equals(StageValue.DUTY_CYCLE.toString());
        }

        private Map<String, StageFigure> figures() {
            List<String> names = table.words("figures", StageNames.FIGURES.keySet(), USUAL_FIGURES);
            Map<String, StageFigure> figures = new LinkedHashMap<>();
            for (String name : names) {
                StageFigure figure = StageNames.FIGURES.get(name);
                if (figure != null) {
                    figures.put(name, figure);
                }
            }
            return figures;
        }
    }
}
