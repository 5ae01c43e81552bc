package org.voltsecond.design;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.design.RailLoop.NoLoopException;
import org.voltsecond.design.StudyPlans.SizingReader;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.PartSeries;
import org.voltsecond.sizing.PracticalLimits;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.Specification;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageOption;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads a file that says what a rail is to do: the table [rail] in place of stage, values and drive. */
final class RailReader {
    static final String TABLE = "rail";

    private static final List<String> PROPOSED = List.of("stage", "input", "output_capacitor", "load", "drive");

    private final Section root;
    private final String defaultName;

    RailReader(Section root, String defaultName) {
        this.root = root;
        this.defaultName = defaultName;
    }

    /** Null if something is missing or wrong; the faults say what. */
    @Nullable
    RailPlan read() {
        String name = root.text("name", defaultName);
        DesignReader parts = new DesignReader(root, defaultName, DesignReader.LOSSES_ALONE);
        StageParts.Transistor transistor = parts.transistor();
        StageParts.Rectifier rectifier = parts.rectifier();
        double coil = coilResistance();
        for (String table : PROPOSED) {
            if (root.has(table)) {
                root.fault(table, "stands beside [rail], from which it is proposed; valid: one of the two");
            }
        }
        CarriedTables carried = CarriedTables.of(root);
        Section rail = root.table(TABLE);
        RailPlan plan = rail == null
                ? null
                : read(
                        rail,
                        name,
                        transistor,
                        rectifier,
                        carried,
                        new ConductingParts(
                                transistor.onResistance(),
                                coil,
                                rectifier.synchronous(),
                                rectifier.forwardDrop(),
                                rectifier.resistance(),
                                transistor.forwardDrop()));
        root.finish();
        return plan;
    }

    static void tellOfLoop(Section root, NoLoopException reason) {
        Section rail = root.peek(TABLE);
        Section regulator = rail == null ? null : rail.peek("regulator");
        String message = DesignFile.NONE_PROPOSED + reason.getMessage();
        if (regulator == null) {
            root.fault(TABLE, message);
        } else if (regulator.has("crossover")) {
            regulator.fault(
                    "crossover",
                    message
                            + "; valid: less of crossover or phase_margin, or no crossover for one that suits the stage");
        } else {
            regulator.fault("phase_margin", message + "; valid: a smaller one");
        }
    }

    private double coilResistance() {
        Section inductor = root.table("inductor");
        if (inductor == null) {
            return 0;
        }
        double resistance = inductor.quantity("resistance");
        inductor.finish();
        return resistance;
    }

    private static @Nullable RailPlan read(
            Section rail,
            String name,
            StageParts.Transistor transistor,
            StageParts.Rectifier rectifier,
            CarriedTables carried,
            ConductingParts parts) {
        Span input = SizingReader.range(rail, "input", "typical");
        Span load = SizingReader.range(rail, "load");
        double output = rail.quantity("output_voltage");
        double frequency = rail.quantity("switching_frequency");
        double inductorRipple = rail.quantity("inductor_ripple");
        double outputRipple = rail.quantity("output_ripple");
        double share = rail.quantity("capacitive_share");
        PartSeries series = SizingReader.series(rail);
        PracticalLimits limits = SizingReader.limits(rail);
        double startUp = rail.quantity("start_up_current");
        ordered(rail, "input", input, Unit.VOLT);
        ordered(rail, "load", load, Unit.AMPERE);
        double typical = typicalInput(rail, input);
        RailRegulator regulator = RailRegulator.read(rail);
        Topology asked = rail.has("topology") ? rail.choice("topology", DesignReader.TOPOLOGIES) : null;
        boolean isolated = rail.flag("isolated");
        rail.finish();
        if (rail.faultCount() > 0) {
            return null;
        }
        Topology topology = asked == null
                ? topology(rail, input, output, load, regulator != null, isolated)
                : StageChoice.wound(asked, input, output);
        if (topology == null) {
            return null;
        }
        try {
            Specification wanted = Specification.of(topology)
                    .input(input.low(), input.high())
                    .output(Math.abs(output))
                    .load(load.low(), load.high())
                    .switchingFrequency(frequency)
                    .inductorRipple(inductorRipple)
                    .outputRipple(outputRipple)
                    .capacitiveShare(share)
                    .series(series)
                    .limits(limits.upTo(topology.longestDutyCycle()))
                    .parts(parts)
                    .build();
            return new RailPlan(name, wanted, typical, transistor, rectifier, regulator, startUp, carried);
        } catch (SizingException e) {
            e.faults().forEach(rail::fault);
            return null;
        }
    }

    private static void ordered(Section rail, String key, Span range, Unit unit) {
        Section table = rail.peek(key);
        if (table != null && range.high() > 0 && range.low() > range.high()) {
            table.fault(
                    "from",
                    "lies above the other end, " + Quantity.brief(range.high(), unit) + "; valid: at most that, and "
                            + Quantity.brief(range.low(), unit) + " as to");
        }
    }

    /** The middle of the range if the file does not say. */
    private static double typicalInput(Section rail, Span input) {
        double middle = (input.low() + input.high()) / 2;
        Section table = rail.peek("input");
        if (table == null) {
            return middle;
        }
        double typical = table.quantity("typical", middle);
        boolean given = table.has("typical");
        if (given && input.low() <= input.high() && (typical < input.low() || typical > input.high())) {
            table.fault(
                    "typical",
                    "lies outside the range; valid: from " + Quantity.brief(input.low(), Unit.VOLT) + " to "
                            + Quantity.brief(input.high(), Unit.VOLT));
        }
        return typical;
    }

    /** A regulator of voltage mode is not proposed for what rings with two inductors and states no zero. */
    private static @Nullable Topology topology(
            Section rail, Span input, double output, Span load, boolean regulated, boolean isolated) {
        try {
            StageChoice choice = StageChoice.of(input, output, load, isolated);
            Optional<StageOption> best = choice.options().stream()
                    .filter(StageOption::isPossible)
                    .filter(option ->
                            !regulated || !Double.isNaN(option.topology().rightHalfPlaneZero(0.5, 1, 1)))
                    .findFirst();
            if (best.isEmpty() && isolated) {
                rail.fault("output_voltage", "cannot be had from a stage with a transformer; valid: more than 0 V");
            } else if (best.isEmpty()) {
                rail.fault("output_voltage", choice + "; valid: any other voltage than 0 V");
            }
            return best.map(StageOption::topology).orElse(null);
        } catch (SizingException e) {
            e.faults().forEach(rail::fault);
            return null;
        }
    }

    /**
     * What a rail is to do, from which a design is proposed.
     *
     * @param name what the user calls it; any text
     * @param wanted with the stage that gives the output
     * @param typicalInput the input of the proposed design, V
     * @param transistor the transistor
     * @param rectifier the rectifier
     * @param regulator what is to hold the output; null for a fixed duty cycle
     * @param startUpCurrent how many times the peak of full load the inductor current may reach in a start-up
     * @param carried tables that go into the proposed design as they are
     */
    record RailPlan(
            String name,
            Specification wanted,
            double typicalInput,
            StageParts.Transistor transistor,
            StageParts.Rectifier rectifier,
            @Nullable RailRegulator regulator,
            double startUpCurrent,
            CarriedTables carried) {}

    /**
     * Requirements for the regulator of a rail.
     *
     * @param crossover Hz; not a number for one that suits the stage
     * @param phaseMargin degrees
     * @param reference V
     * @param ramp height of the ramp, V
     * @param softStart s; not a number for one that suits the stage
     * @param slow whether the loop gain may be below one before the crossover
     */
    record RailRegulator(
            double crossover, double phaseMargin, double reference, double ramp, double softStart, boolean slow) {
        /** Null if the file does not ask for one. */
        static @Nullable RailRegulator read(Section rail) {
            Section table = rail.table("regulator");
            if (table == null) {
                return null;
            }
            RailRegulator read = new RailRegulator(
                    table.quantity("crossover"),
                    table.quantity("phase_margin"),
                    table.quantity("reference"),
                    table.quantity("ramp"),
                    table.quantity("soft_start"),
                    table.flag("slow_loop"));
            table.finish();
            return read;
        }
    }

    /** Tables beside [rail] that ask for more of the proposed design, and are carried over into it: their text by their names. */
    record CarriedTables(Map<String, String> texts) {
        private static final List<String> NAMES = List.of(
                "limits",
                "transient",
                "frequency_response",
                "losses",
                HeatReader.TABLE,
                "tolerance",
                StudyPlans.EmissionReader.TABLE,
                StudyPlans.ReviewReader.RATINGS);

        /** What is wrong with the tables is told where they stand. */
        static CarriedTables of(Section root) {
            LimitsReader.read(root);
            TransientPlan.Reader.read(root, null, null, new LineInput(Double.NaN, LineRipple.NONE), null);
            FrequencyPlan.Reader.read(root);
            LossPlan.Reader.read(root, null, null);
            TolerancePlan.Reader.read(root, null);
            StudyPlans.EmissionReader.read(root, null, null);
            HeatReader.read(root, null, null);
            new StudyPlans.ReviewReader(root, null, null).read(null, null, null);
            Map<String, String> texts = new LinkedHashMap<>();
            for (String name : NAMES) {
                if (root.has(name) && root.given(name) instanceof DesignTree.Table table) {
                    texts.put(name, String.join("\n\n", TreeText.tables(name, table)));
                }
            }
            return new CarriedTables(texts);
        }

        boolean has(String name) {
            return texts.containsKey(name);
        }

        /** The table as text, or another in its place. */
        String or(String name, String otherwise) {
            return texts.getOrDefault(name, otherwise);
        }
    }
}
