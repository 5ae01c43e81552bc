package org.voltsecond.design;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.CornerRequirements;
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
 * @param sizing what the stage is to do, for a proposal of its parts; null of a circuit of one's own, for which there is none
 * @param corners what the design is to do with its own parts at the corners of input and load
 */
public record StudyPlans(
        @Nullable LossPlan losses,
        @Nullable MapPlan map,
        @Nullable TolerancePlan tolerance,
        @Nullable Specification sizing,
        @Nullable CornerRequirements corners) {
    /** Nothing asked for. */
    public static final StudyPlans NONE = new StudyPlans(null, null, null, null, null);

    /**
     * Reads all that a file asks beyond one operating point and a run, and tells which of its tables nobody asked for.
     *
     * @param folder where the files are sought that the design names
     */
    record Reader(Path folder) implements DesignReader.Beyond {
        @Override
        public @Nullable BenchPlan bench(Section root, @Nullable DrivePlan drive, @Nullable Converter converter) {
            return BenchPlan.Reader.read(root, drive, converter, folder);
        }

        @Override
        public StudyPlans studies(Section root, @Nullable Design parts) {
            boolean sound = root.faultCount() == 0;
            Converter converter = sound && parts != null ? parts.converter() : null;
            SizingReader sizing = SizingReader.read(root, sound ? parts : null);
            StudyPlans plans = new StudyPlans(
                    LossPlan.Reader.read(root, parts, converter),
                    MapPlan.Reader.read(root, parts, converter),
                    TolerancePlan.Reader.read(root, converter),
                    sizing.stage(),
                    sizing.corners());
            root.finish();
            return plans;
        }
    }

    /** Reads the table [sizing]: what the stage of the file is to do; its topology, frequency and drops are those of the file. */
    record SizingReader(
            @Nullable Specification stage, @Nullable CornerRequirements corners) {
        private static final SizingReader NONE = new SizingReader(null, null);

        /** Of nothing if there is no such table, or after faults; without sound parts faults are all that is found. */
        static SizingReader read(Section root, @Nullable Design parts) {
            Section table = root.table("sizing");
            if (table == null) {
                return NONE;
            }
            boolean own = CircuitReader.isMeant(root);
            int before = table.faultCount();
            Span input = range(table, "input");
            Span load = range(table, "load");
            double output = table.quantity("output_voltage");
            double inductorRipple = ripple(table, "inductor_ripple", own);
            double outputRipple = ripple(table, "output_ripple", own);
            double share = own ? Double.NaN : table.quantity("capacitive_share");
            PracticalLimits limits = limits(table);
            table.finish();
            if (parts == null || table.faultCount() > before) {
                return NONE;
            }
            try {
                CornerRequirements corners =
                        new CornerRequirements(input, output, load, inductorRipple, outputRipple, limits);
                return parts.stage()
                        .map(stage -> SizingReader.of(stage, parts, corners, share))
                        .orElse(new SizingReader(null, corners));
            } catch (SizingException e) {
                e.faults().forEach(table::fault);
                return NONE;
            }
        }

        /** Beside a circuit of one's own there is no formula that needs one. */
        private static double ripple(Section table, String key, boolean own) {
            return own && !table.has(key) ? Double.POSITIVE_INFINITY : table.quantity(key);
        }

        private static SizingReader of(StagePlan stage, Design parts, CornerRequirements corners, double share) {
            Span input = corners.input();
            Span load = corners.load();
            SpecificationBuilder wanted = Specification.of(stage.topology());
            stage.parts().further().values().forEach(wanted::with);
            return new SizingReader(
                    wanted.input(input.low(), input.high())
                            .output(corners.outputVoltage())
                            .load(load.low(), load.high())
                            .switchingFrequency(parts.drive().switchingFrequency())
                            .inductorRipple(corners.inductorRipple())
                            .outputRipple(corners.outputRipple())
                            .capacitiveShare(share)
                            .limits(corners.limits())
                            .loadedBy(parts.load())
                            .parts(drops(stage))
                            .build(),
                    corners);
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
