package org.voltsecond.design;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.Converter;
import org.voltsecond.emission.ArtificialNetwork;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.review.OperatingCorners;
import org.voltsecond.review.Rating;
import org.voltsecond.review.ReviewPlan;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.CornerRequirements;
import org.voltsecond.sizing.PartSeries;
import org.voltsecond.sizing.PracticalLimits;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.Specification;
import org.voltsecond.sizing.SpecificationBuilder;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

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
 * @param sizing what the stage is to do, for a proposal of its parts; null of a custom circuit, for which there is none
 * @param corners what the design is to do with its own parts at the corners of input and load
 * @param emissions how the emissions into the supply are looked at
 * @param heat how hot parts become
 * @param review ratings of the parts, and the range of input and load over which the design works with its own
 */
public record StudyPlans(
        @Nullable LossPlan losses,
        @Nullable MapPlan map,
        @Nullable TolerancePlan tolerance,
        @Nullable Specification sizing,
        @Nullable CornerRequirements corners,
        @Nullable EmissionEstimate emissions,
        @Nullable HeatModel heat,
        @Nullable ReviewPlan review) {
    /** Nothing asked for. */
    public static final StudyPlans NONE = of(null, null);

    /** Nothing but losses and temperatures, if these. */
    static StudyPlans of(@Nullable LossPlan losses, @Nullable HeatModel heat) {
        return new StudyPlans(losses, null, null, null, null, null, heat, null);
    }

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
            LossPlan losses = LossPlan.Reader.read(root, parts, converter);
            TolerancePlan tolerance = TolerancePlan.Reader.read(root, converter);
            HeatModel heat = HeatReader.read(root, converter, losses);
            StudyPlans plans = new StudyPlans(
                    losses,
                    MapPlan.Reader.read(root, parts, converter),
                    tolerance,
                    sizing.stage(),
                    sizing.corners(),
                    EmissionReader.read(root, parts, converter),
                    heat,
                    new ReviewReader(root, converter, heat).read(sizing.corners(), tolerance, losses));
            root.finish();
            return plans;
        }
    }

    /** Reads the table [emissions]. */
    static final class EmissionReader {
        static final String TABLE = "emissions";
        private static final Map<String, EmissionLimits> CLASSES =
                new TreeMap<>(Map.of("class-a", EmissionLimits.CLASS_A, "class-b", EmissionLimits.CLASS_B));

        private EmissionReader() {}

        /** Null if there is no such table, or after faults. */
        static @Nullable EmissionEstimate read(Section root, @Nullable Design parts, @Nullable Converter converter) {
            Section table = root.table(TABLE);
            if (table == null) {
                return null;
            }
            int before = table.faultCount();
            double inductance = table.quantity("network");
            if (Stream.of(ArtificialNetwork.FIFTY_MICROHENRY, ArtificialNetwork.FIVE_MICROHENRY)
                            .noneMatch(each -> Math.abs(each.inductance() / inductance - 1) < ROUNDING)
                    && Double.isFinite(inductance)) {
                table.fault(
                        "network",
                        "there is no artificial network of " + Quantity.brief(inductance, Unit.HENRY)
                                + "; valid: \"50 µH\" or \"5 µH\"");
            }
            EmissionLimits limits = limits(table);
            double to = table.quantity("to");
            double switching = parts == null ? Double.NaN : parts.drive().switchingFrequency();
            if (to < switching) {
                table.fault(
                        "to",
                        "must reach the switching frequency, " + Quantity.brief(switching, Unit.HERTZ) + ", but is "
                                + Quantity.brief(to, Unit.HERTZ) + "; valid: " + table.example("to") + " for instance");
            }
            double rise = table.quantity("rise_time");
            double fall = table.quantity("fall_time");
            double earth = table.quantity("earth_capacitance");
            if (earth > 0 && converter != null && converter.roles().switchNode().isEmpty()) {
                table.fault(
                        "earth_capacitance",
                        "lies between switch node and earth, but which node is the switch node is not known; valid: leave the "
                                + "key out");
            }
            table.finish();
            if (converter == null || table.faultCount() > before) {
                return null;
            }
            EmissionEstimate estimate = EmissionEstimate.of(converter)
                    .network(inductance)
                    .upTo(to)
                    .edges(rise, fall)
                    .earthCapacitance(earth);
            return limits == null ? estimate : estimate.limits(limits);
        }

        /** Null for none, or after a fault. */
        private static @Nullable EmissionLimits limits(Section table) {
            if (!(table.given("limits") instanceof DesignTree.Items)) {
                return table.choice("limits", CLASSES);
            }
            List<EmissionLimits.Band> bands = new ArrayList<>();
            for (Section band : table.tables("limits")) {
                double from = band.quantity("from");
                double to = band.quantity("to");
                double level = band.quantity("level");
                double atEnd = band.quantity("level_at_end", level);
                if (to <= from) {
                    band.fault(
                            "to",
                            "must be above from = " + Quantity.brief(from, Unit.HERTZ) + " but is "
                                    + Quantity.brief(to, Unit.HERTZ) + "; valid: a higher frequency");
                } else if (Double.isFinite(from + to + level + atEnd)) {
                    bands.add(new EmissionLimits.Band(from, to, level, atEnd));
                }
                band.finish();
            }
            if (bands.isEmpty()) {
                table.fault("limits", "is an array without a band; valid: " + BANDS + ", or \"class-a\", \"class-b\"");
                return null;
            }
            return EmissionLimits.of(bands.toArray(EmissionLimits.Band[]::new));
        }

        private static final String BANDS = "[ { from = \"150 kHz\", to = \"500 kHz\", level = 46 } ]";

        /** A text such as "50 µH" is read to the last bit; a product of two numbers may not be. */
        private static final double ROUNDING = 1e-9;
    }

    /**
     * Reads the tables [ratings] and [corners]: what the parts stand, and over which input and load the design works.
     *
     * @param root the file
     * @param converter of the design; null if there is not enough for one
     * @param heat its thermal model; null for none
     */
    record ReviewReader(
            Section root,
            @Nullable Converter converter,
            @Nullable HeatModel heat) {
        static final String RATINGS = "ratings";
        private static final String CORNERS = "corners";
        private static final String DERATING = "derating";

        /** Null if nothing of that kind is asked, or after faults. */
        @Nullable
        ReviewPlan read(
                @Nullable CornerRequirements sizing, @Nullable TolerancePlan tolerance, @Nullable LossPlan losses) {
            int before = root.faultCount();
            OperatingCorners own = corners();
            List<Rating> ratings = ratings();
            OperatingCorners range = sizing != null ? OperatingCorners.of(sizing) : own;
            return root.faultCount() > before || (range == null && !root.has(RATINGS))
                    ? null
                    : new ReviewPlan(
                            range,
                            ratings,
                            tolerance == null ? List.of() : tolerance.tolerances(),
                            losses == null ? List.of() : losses.models(),
                            heat);
        }

        /** Null if there is no such table, or after faults. */
        private @Nullable OperatingCorners corners() {
            Section table = root.table(CORNERS);
            if (table == null) {
                return null;
            }
            int before = table.faultCount();
            if (root.has("sizing")) {
                table.fault("stands beside [sizing], which has the ranges of input and load; valid: one of the two");
            }
            Span input = SizingReader.range(table, "input");
            Span load = SizingReader.range(table, "load");
            double output = table.quantity("output_voltage");
            if (table.has("output_voltage") && converter != null && converter.isRegulated()) {
                table.fault("output_voltage", "is held by the regulator already; valid: leave the key out");
            }
            table.finish();
            if (table.faultCount() > before) {
                return null;
            }
            try {
                return new OperatingCorners(input, load, output);
            } catch (SizingException e) {
                e.faults().forEach(table::fault);
                return null;
            }
        }

        private List<Rating> ratings() {
            List<Rating> ratings = new ArrayList<>();
            Section table = root.table(RATINGS);
            if (table == null) {
                return ratings;
            }
            double derating = table.quantity(DERATING);
            Section parts =
                    table.requiredTable("parts", "a table for each part, for example " + table.example("parts"));
            HeatReader.each(parts, (part, name) -> ratings.addAll(of(part, name, derating)));
            table.finish();
            return ratings;
        }

        /** Those of one part, or of all that do the same. */
        private List<Rating> of(Section part, String name, double derating) {
            List<Rating> ratings = new ArrayList<>();
            List<String> parts = meant(part, name);
            double usual = part.quantity(DERATING, derating);
            for (Rating.Measure measure : Rating.Measure.values()) {
                boolean hot = measure == Rating.Measure.TEMPERATURE;
                double value = part.quantity(measure.key());
                double share = part.quantity(measure.key() + "_" + DERATING, hot ? 1 : usual);
                if (hot && part.has(measure.key())) {
                    checkHeat(part, parts);
                }
                if (!parts.isEmpty() && value > 0 && share > 0) {
                    ratings.add(new Rating(name, measure, parts, value, share));
                }
            }
            if (Arrays.stream(Rating.Measure.values()).noneMatch(measure -> part.has(measure.key()))) {
                part.fault("has no rating; valid: voltage, current, rms, mean or temperature");
            }
            return ratings;
        }

        /** A part of several windings is each of them. */
        private List<String> meant(Section part, String name) {
            if (converter == null) {
                return List.of();
            }
            boolean winding = converter.circuit().ports().stream()
                    .anyMatch(port -> port.name().equals(name));
            return winding
                    ? List.of(name)
                    : HeatReader.meant(part, name, converter).stream()
                            .flatMap(each -> converter.circuit().part(each).ports().stream())
                            .map(Port::name)
                            .toList();
        }

        /** Of a table [heat] with faults nobody knows what it would tell. */
        private void checkHeat(Section part, List<String> parts) {
            for (String each : parts) {
                String whole = each.replaceFirst("[.].*", "");
                boolean told = heat == null
                        ? root.has(HeatReader.TABLE)
                        : heat.bodies().stream().anyMatch(body -> body.name().equals(whole));
                if (!told) {
                    part.fault(
                            "temperature",
                            "is not known of " + whole + ", for which no thermal resistance is given; valid: with ["
                                    + HeatReader.TABLE + ".parts." + whole + "], or leave the key out");
                }
            }
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
            PartSeries series = own ? PartSeries.USUAL : series(table);
            PracticalLimits limits = limits(table);
            table.finish();
            if (parts == null || table.faultCount() > before) {
                return NONE;
            }
            try {
                CornerRequirements corners =
                        new CornerRequirements(input, output, load, inductorRipple, outputRipple, limits);
                return parts.stage()
                        .map(stage -> SizingReader.of(stage, parts, corners, share, series))
                        .orElse(new SizingReader(null, corners));
            } catch (SizingException e) {
                e.faults().forEach(table::fault);
                return NONE;
            }
        }

        /** Beside a custom circuit there is no formula that needs one. */
        private static double ripple(Section table, String key, boolean own) {
            return own && !table.has(key) ? Double.POSITIVE_INFINITY : table.quantity(key);
        }

        private static SizingReader of(
                StagePlan stage, Design parts, CornerRequirements corners, double share, PartSeries series) {
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
                            .series(series)
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

        /** The usual ones, with output capacitors that fade as the file says. */
        static PartSeries series(Section table) {
            return PartSeries.USUAL.fading(table.tables("capacitor_bias").stream()
                    .map(bend -> {
                        Bend read = new Bend(bend.quantity("above"), bend.quantity("left"));
                        bend.finish();
                        return read;
                    })
                    .toList());
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
