package org.voltsecond.design;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.design.Key.Kind.Range;
import org.voltsecond.study.Tolerance;
import org.voltsecond.study.Tolerance.Distribution;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The tolerances that a design file states.
 *
 * <pre>{@code
 * TolerancePlan plan = design.studies().tolerance();
 * int designs = plan.designs(); // 1000
 * double share = plan.tolerances().get(0).halfWidth(); // 4.4e-6 a fifth of 22 µH
 * }</pre>
 *
 * @param tolerances one for each value that may lie off its nominal one
 * @param designs how many designs to draw at random
 * @param seed chooses them
 */
public record TolerancePlan(List<Tolerance> tolerances, int designs, long seed) {
    /**
     * Copies the list.
     *
     * @param tolerances one for each value
     * @param designs how many designs to draw
     * @param seed chooses them
     */
    public TolerancePlan {
        tolerances = List.copyOf(tolerances);
    }

    /** Reads the table [tolerance]. */
    static final class Reader {
        private static final int USUAL_DESIGNS = 10_000;
        private static final int MOST_DESIGNS = 1_000_000;
        /** Where each design takes a search of the engine. */
        private static final int MOST_SEARCHES = 2000;

        private static final Map<String, Distribution> DISTRIBUTIONS =
                new TreeMap<>(Map.of("uniform", Distribution.UNIFORM, "normal", Distribution.NORMAL));

        private final Section table;
        private final @Nullable Converter converter;
        private final boolean searched;

        private Reader(Section table, @Nullable Converter converter) {
            this.table = table;
            this.converter = converter;
            searched = converter != null && !StageSampler.isQuickFor(converter);
        }

        /** Null if there is no such table, or after faults; without sound parts faults are all that is found. */
        static @Nullable TolerancePlan read(Section root, @Nullable Converter converter) {
            Section table = root.table("tolerance");
            return table == null ? null : new Reader(table, converter).read();
        }

        private @Nullable TolerancePlan read() {
            int before = table.faultCount();
            int designs = table.whole("designs", searched ? MOST_SEARCHES / 4 : USUAL_DESIGNS);
            int most = searched ? MOST_SEARCHES : MOST_DESIGNS;
            if (designs > most) {
                table.fault(
                        "designs",
                        "must be at most " + most + (searched ? " where each takes a search of its own" : "")
                                + " but is " + designs);
            }
            int seed = table.whole("seed");
            Distribution usual = table.choice("distribution", DISTRIBUTIONS);
            List<Tolerance> tolerances = new ArrayList<>();
            Section values = table.requiredTable("values", "a share for each value, for example inductance = 0.2");
            if (values != null) {
                tolerances.addAll(tolerances(values, usual));
            }
            table.finish();
            return converter == null || table.faultCount() > before
                    ? null
                    : new TolerancePlan(tolerances, designs, seed);
        }

        private List<Tolerance> tolerances(Section values, @Nullable Distribution usual) {
            List<Tolerance> tolerances = new ArrayList<>();
            int before = values.faultCount();
            StageNames.VALUES.forEach((name, value) -> {
                if ((converter == null || value.appliesTo(converter)) && values.has(name)) {
                    tolerances.add(tolerance(values, name, value, usual == null ? Distribution.UNIFORM : usual));
                }
            });
            for (String name : values.partValues()) {
                values.has(name);
                StageValue value = StageNames.ofPart(values, name, name, converter);
                if (value != null) {
                    Tolerance read = tolerance(values, name, value, usual == null ? Distribution.UNIFORM : usual);
                    tolerances.add(read);
                    checkEnds(values, name, read);
                }
            }
            checkTwice(values, tolerances);
            values.finish();
            if (tolerances.isEmpty() && values.faultCount() == before) {
                values.fault("names no value; valid: a share for one value or more, for example inductance = 0.2");
            }
            return tolerances;
        }

        private Tolerance tolerance(Section values, String name, StageValue value, Distribution usual) {
            Section own = values.peek(name);
            if (own == null) {
                double share = values.required(
                        name, DesignKeys.of("tolerance.values.*", "share").kind());
                return share(value, share, usual);
            }
            Distribution spread = own.choice("distribution", DISTRIBUTIONS, usual);
            Distribution distribution = spread == null ? usual : spread;
            Tolerance read;
            if (own.has("half_width")) {
                Kind kind = new Kind(
                        value.unit(), Range.NOT_NEGATIVE, StageNames.kind(value).example());
                read = new Tolerance(value, finite(own.required("half_width", kind)), distribution);
                checkReach(own, read);
                if (own.has("share")) {
                    own.fault("share", "is given beside half_width; valid: one of the two");
                }
            } else {
                read = share(value, own.quantity("share"), distribution);
            }
            own.finish();
            return read;
        }

        private void checkEnds(Section values, String name, Tolerance read) {
            if (converter != null) {
                double nominal = read.value().in(converter);
                StageNames.check(values, name, converter, read.value(), nominal + read.halfWidth());
                StageNames.check(values, name, converter, read.value(), nominal - read.halfWidth());
            }
        }

        /** The same value may go by what it does and by its part. */
        private void checkTwice(Section values, List<Tolerance> tolerances) {
            Map<String, StageValue> seen = new HashMap<>();
            for (Tolerance tolerance : tolerances) {
                StageValue value = tolerance.value();
                StageValue before = converter == null
                        ? null
                        : seen.put(value.partValue(converter).orElse(value.toString()), value);
                if (before != null) {
                    values.fault(
                            value.toString(), "is the " + before + " that is given as well; valid: one of the two");
                }
            }
        }

        /** No value of a stage may be below zero. */
        private void checkReach(Section own, Tolerance tolerance) {
            if (converter == null) {
                return;
            }
            double nominal = Tolerance.relative(converter, tolerance.value(), 1).halfWidth();
            if (tolerance.halfWidth() > nominal) {
                Unit unit = tolerance.value().unit();
                own.fault(
                        "half_width",
                        Quantity.brief(tolerance.halfWidth(), unit) + " to either side takes a nominal value of "
                                + Quantity.brief(nominal, unit) + " below zero; valid: at most "
                                + Quantity.brief(nominal, unit));
            }
        }

        private Tolerance share(StageValue value, double share, Distribution distribution) {
            Tolerance relative = converter == null
                    ? new Tolerance(value, 0, distribution)
                    : Tolerance.relative(converter, value, finite(share));
            return relative.withDistribution(distribution);
        }

        /** After a fault some harmless number. */
        private static double finite(double width) {
            return width >= 0 && width < Double.POSITIVE_INFINITY ? width : 0;
        }
    }
}
