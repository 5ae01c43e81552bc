package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.PracticalLimits;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.Specification;
import org.voltsecond.sizing.SpecificationBuilder;

/**
 * What a design file asks beyond one operating point; null for what it does not ask. Immutable.
 *
 * <pre>{@code
 * boolean map = design.studies().map() != null; // true
 * boolean losses = StudyPlans.NONE.losses() != null; // false
 * }</pre>
 *
 * @param losses losses beyond conduction, and the efficiency over load
 * @param map figures over two quantities
 * @param tolerance what the tolerances of the parts do
 * @param sizing what the stage is to do, for a proposal of its parts
 */
public record StudyPlans(
        @Nullable LossPlan losses,
        @Nullable MapPlan map,
        @Nullable TolerancePlan tolerance,
        @Nullable Specification sizing) {
    /** Nothing asked for. */
    public static final StudyPlans NONE = new StudyPlans(null, null, null, null);

    /**
     * Reads the four tables.
     *
     * @param root the whole file
     * @param parts what was read so far; null if there is not enough for a design
     */
    static StudyPlans read(Section root, @Nullable Design parts) {
        boolean sound = root.faultCount() == 0;
        Converter converter = sound && parts != null ? parts.converter() : null;
        return new StudyPlans(
                LossPlan.Reader.read(root, parts, converter),
                MapPlan.Reader.read(root, parts, converter),
                TolerancePlan.Reader.read(root, converter),
                SizingReader.read(root, sound ? parts : null));
    }

    /** Reads the table [sizing]: what the stage of the file is to do; its topology, frequency and drops are those of the file. */
    static final class SizingReader {
        private SizingReader() {}

        /** Null if there is no such table, or after faults; without sound parts faults are all that is found. */
        static @Nullable Specification read(Section root, @Nullable Design parts) {
            Section table = root.table("sizing");
            if (table == null) {
                return null;
            }
            int before = table.faultCount();
            Span input = range(table, "input");
            Span load = range(table, "load");
            double output = table.quantity("output_voltage");
            double inductorRipple = table.quantity("inductor_ripple");
            double outputRipple = table.quantity("output_ripple");
            double share = table.quantity("capacitive_share");
            PracticalLimits limits = limits(table);
            table.finish();
            StagePlan stage = parts == null ? null : parts.stage().orElse(null);
            if (parts == null || stage == null || table.faultCount() > before) {
                return null;
            }
            try {
                SpecificationBuilder wanted = Specification.of(stage.topology());
                stage.parts().further().values().forEach(wanted::with);
                return wanted.input(input.low(), input.high())
                        .output(output)
                        .load(load.low(), load.high())
                        .switchingFrequency(parts.drive().switchingFrequency())
                        .inductorRipple(inductorRipple)
                        .outputRipple(outputRipple)
                        .capacitiveShare(share)
                        .limits(limits)
                        .loadedBy(parts.load())
                        .parts(drops(stage))
                        .build();
            } catch (SizingException e) {
                e.faults().forEach(table::fault);
                return null;
            }
        }

        private static ConductingParts drops(StagePlan parts) {
            return new ConductingParts(
                    parts.parts().transistor().onResistance(),
                    parts.parts().inductor().resistance(),
                    parts.parts().rectifier().synchronous(),
                    parts.parts().rectifier().forwardDrop(),
                    parts.parts().rectifier().resistance(),
                    parts.parts().transistor().forwardDrop());
        }

        static PracticalLimits limits(Section table) {
            return new PracticalLimits(
                    table.quantity("minimum_duty_cycle"),
                    table.quantity("maximum_duty_cycle"),
                    table.quantity("shortest_on_time"),
                    table.quantity("shortest_off_time"),
                    table.quantity("inductor_peak", Double.POSITIVE_INFINITY));
        }

        /** A table with the keys from and to; others are for somebody else to read. */
        static Span range(Section table, String key, String... others) {
            Section range = table.requiredTable(key, "from and to, for example " + table.example(key));
            if (range == null) {
                return new Span(Double.NaN, Double.NaN);
            }
            Span ends = new Span(range.quantity("from"), range.quantity("to"));
            for (String other : others) {
                range.has(other);
            }
            range.finish();
            return ends;
        }
    }
}
