package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.figures.Limit;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SourceImpedance;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads the whole of a design file, table by table. Faults go to the section; what is read then is of no use. */
final class DesignReader {
    static final Map<String, Topology> TOPOLOGIES = Topology.all().stream()
            .collect(Collectors.toMap(Topology::key, stage -> stage, (first, second) -> first, TreeMap::new));

    private static final Map<String, Boolean> RECTIFIERS = new TreeMap<>(Map.of("diode", false, "synchronous", true));

    private final Section root;
    private final String defaultName;
    private final Beyond beyond;
    private @Nullable SourceImpedance sourceImpedance;

    DesignReader(Section root, String defaultName, Beyond beyond) {
        this.root = root;
        this.defaultName = defaultName;
        this.beyond = beyond;
    }

    /** Reads what a file asks beyond one operating point and a run. */
    interface Beyond {
        /** The capture to compare with; null for none. */
        @Nullable
        BenchPlan bench(Section root, @Nullable DrivePlan drive, @Nullable Converter converter);

        /** What else is asked; the design is null if there is not enough for one. */
        StudyPlans studies(Section root, @Nullable Design design);
    }

    /** For a tree that was read whole as a file: what is not asked here was found sound there. */
    static final Beyond LOSSES_ALONE = new Beyond() {
        @Override
        public @Nullable BenchPlan bench(Section root, @Nullable DrivePlan drive, @Nullable Converter converter) {
            return null;
        }

        @Override
        public StudyPlans studies(Section root, @Nullable Design design) {
            Converter converter = root.faultCount() == 0 && design != null ? design.converter() : null;
            LossPlan losses = LossPlan.Reader.read(root, design, converter);
            return StudyPlans.of(losses, HeatReader.read(root, converter, losses));
        }
    };

    /** Null if something without which there is no design is missing or wrong; the faults say what. */
    @Nullable
    Design read() {
        String name = root.text("name", defaultName);
        PowerPlan power = null;
        DrivePlan drive = null;
        LineInput input = new LineInput(Double.NaN, LineRipple.NONE);
        Load load = null;
        Circuit own = null;
        if (CircuitReader.isMeant(root)) {
            CircuitReader.Read read = new CircuitReader(root).read();
            power = read == null ? null : read.plan();
            drive = read == null ? null : read.drive();
            own = read == null ? null : read.plan().drivenBy(read.drive()).circuit();
        } else {
            power = stage();
            drive = DriveReader.read(root);
            if (power instanceof StagePlan stage) {
                checkRectifier(stage.parts().rectifier(), drive);
                checkLegs(stage);
            }
        }
        if (power != null) {
            input = power.input();
            load = power.load();
        }
        Converter converter = power != null && drive != null && root.faultCount() == 0 ? driven(power, drive) : null;
        TransientPlan plan = TransientPlan.Reader.read(root, drive, load, input, own);
        FrequencyPlan frequencies = FrequencyPlan.Reader.read(root);
        Map<Limit, Double> limits = LimitsReader.read(root);
        BenchPlan bench = beyond.bench(root, drive, converter);
        Design design = null;
        if (power != null && drive != null) {
            design = new Design(name, power, drive, plan, frequencies, limits, bench, StudyPlans.NONE, root.notes());
        }
        StudyPlans studies = beyond.studies(root, design);
        return design == null ? null : design.withStudies(studies);
    }

    /** Null where the drive does not fit the stage, as one of more than half the period for each of two halves. */
    private @Nullable Converter driven(PowerPlan power, DrivePlan drive) {
        try {
            return power.drivenBy(drive);
        } catch (InvalidStageException e) {
            e.faults().forEach(fault -> root.fault("drive", fault));
            return null;
        }
    }

    /** Null without a topology or a load, or after a fault. */
    private @Nullable StagePlan stage() {
        int before = root.faultCount();
        Section stage = root.requiredTable("stage", "topology");
        Topology topology = stage == null ? null : stage.choice("topology", TOPOLOGIES);
        LineInput input = input();
        StageParts parts = usualParts(input);
        Load load = load();
        if (topology == null || topology.hasInductor() || root.has("inductor")) {
            parts = parts.withInductor(seriesPart("inductor", "inductance"));
        }
        if (stage != null && topology != null) {
            parts = new FurtherParts(root, stage, topology).read(parts);
        } else if (stage != null) {
            stage.has("phases"); // of whichever stage it will be
        }
        if (stage != null) {
            stage.finish();
        }
        if (topology == null || load == null) {
            return null;
        }
        StageParts all = parts.withLoad(load);
        if (root.faultCount() == before) {
            all.faults(topology).forEach(fault -> root.fault("stage", fault));
        }
        return new StagePlan(topology, input, all);
    }

    /** Those that every stage has, without its load. */
    private StageParts usualParts(LineInput input) {
        StageParts usual = StageParts.none()
                .withInput(new StageParts.Input(
                        input.voltage(),
                        input.ripple().amplitude(),
                        input.ripple().frequency()))
                .withOutputCapacitor(seriesPart("output_capacitor", "capacitance"))
                .withTransistor(transistor())
                .withRectifier(rectifier());
        return sourceImpedance == null ? usual : usual.with(sourceImpedance);
    }

    private LineInput input() {
        Section input = root.requiredTable("input", "voltage");
        if (input == null) {
            return new LineInput(Double.NaN, LineRipple.NONE);
        }
        double voltage = input.quantity("voltage");
        LineRipple ripple = LineRipple.read(input);
        if (ripple != null) {
            ripple.check(input, voltage);
        }
        if (input.has("source_resistance") || input.has("source_inductance")) {
            sourceImpedance =
                    new SourceImpedance(input.quantity("source_resistance"), input.quantity("source_inductance"));
        }
        input.finish();
        return new LineInput(voltage, ripple == null ? LineRipple.NONE : ripple);
    }

    private StageParts.Series seriesPart(String table, String key) {
        Section part = root.requiredTable(table, key);
        if (part == null) {
            return new StageParts.Series(Double.NaN, 0);
        }
        PartReader.Storing stored = PartReader.Storing.read(part, key);
        StageParts.Series read = new StageParts.Series(stored.value(), part.quantity("resistance"), stored.bends());
        part.finish();
        return read;
    }

    StageParts.Transistor transistor() {
        Section transistor = root.table("transistor");
        if (transistor == null) {
            return StageParts.Transistor.ideal();
        }
        double resistance = transistor.quantity("on_resistance");
        double drop = transistor.quantity("forward_drop");
        StageParts.Series loop =
                new StageParts.Series(transistor.quantity("loop_inductance"), transistor.quantity("loop_resistance"));
        StageParts.Transistor read = new StageParts.Transistor(
                resistance, drop, bodyDiode(transistor), capacitance(transistor, "output_capacitance"), loop);
        transistor.finish();
        return read;
    }

    private static StageParts.Series capacitance(Section device, String key) {
        PartReader.Storing read = PartReader.Storing.read(device, key);
        return new StageParts.Series(read.value(), 0, read.bends());
    }

    private static StageParts.@Nullable Diode bodyDiode(Section transistor) {
        Junction junction = PartReader.junction(transistor, "body_diode_curve", "body_diode_recovery");
        double drop = transistor.quantity("body_diode_drop");
        double resistance = transistor.quantity("body_diode_resistance");
        for (String key : List.of("body_diode_resistance", "body_diode_curve", "body_diode_recovery")) {
            if (transistor.has(key) && !transistor.has("body_diode_drop")) {
                transistor.fault(
                        key,
                        "is given for a body diode without a drop; valid: body_diode_drop as well, for example "
                                + transistor.example("body_diode_drop"));
            }
        }
        return transistor.has("body_diode_drop") ? new StageParts.Diode(drop, resistance, junction) : null;
    }

    StageParts.Rectifier rectifier() {
        Section rectifier = root.table("rectifier");
        if (rectifier == null) {
            return StageParts.Rectifier.diode(0, 0);
        }
        boolean synchronous = Boolean.TRUE.equals(rectifier.choice("kind", RECTIFIERS));
        Junction junction = PartReader.junction(rectifier, "forward_curve", "recovery");
        double drop = PartReader.drop(rectifier, junction);
        double resistance = rectifier.quantity("resistance");
        if (synchronous && drop > 0 && !rectifier.has("forward_curve")) {
            rectifier.fault(
                    "forward_drop",
                    "a synchronous rectifier has no forward drop but " + Quantity.brief(drop, Unit.VOLT)
                            + " is given; valid: leave the key out, and give its on-resistance as resistance");
        }
        for (String key : List.of("forward_curve", "recovery")) {
            if (synchronous && rectifier.has(key)) {
                rectifier.fault(
                        key,
                        "is of a diode but a transistor is given; valid: body_diode_" + key.replace("forward_", ""));
            }
        }
        StageParts.Diode bodyDiode = bodyDiode(rectifier);
        if (!synchronous && bodyDiode != null) {
            rectifier.fault(
                    "body_diode_drop",
                    "a diode has no body diode; valid: leave the key out, or kind = \"synchronous\"");
        }
        Junction own = bodyDiode == null ? junction : bodyDiode.junction();
        StageParts.Rectifier read = new StageParts.Rectifier(
                synchronous, drop, resistance, bodyDiode, own, capacitance(rectifier, "junction_capacitance"));
        rectifier.finish();
        return read;
    }

    private @Nullable Load load() {
        Section load = root.requiredTable("load", "resistance or current");
        return load == null ? null : LoadReader.read(load);
    }

    /** Duty cycles of its own for each leg are for a stage of two legs. */
    private void checkLegs(StagePlan stage) {
        Section drive = root.peek("drive");
        if (drive == null || !drive.has("duty_cycles") || root.faultCount() > 0) {
            return;
        }
        SwitchPattern pattern = stage.drivenBy(new FixedDuty(0, 1)).roles().pattern();
        if (pattern.timing() != SwitchPattern.Timing.FOUR_SWITCH) {
            root.fault(
                    "drive",
                    "duty_cycles are those of the legs of a four-switch stage, and a " + stage.topology()
                            + " stage has none; valid: duty_cycle");
        }
    }

    /** What the protection asks of the rectifier. */
    private void checkRectifier(StageParts.Rectifier rectifier, @Nullable DrivePlan drive) {
        if (!(drive instanceof Regulated regulated)) {
            return;
        }
        Protection protection = regulated.regulator().protection();
        boolean asksForTransistor = protection.synchronous().deadTime() > 0
                || protection.synchronous().rectification() != Rectification.FORCED;
        if (asksForTransistor && !rectifier.synchronous()) {
            root.fault(
                    "protection",
                    "dead_time and rectification are for a synchronous rectifier but a diode is given; valid: leave them "
                            + "out, or kind = \"synchronous\" in [rectifier]");
        }
        if (protection.opensBothTransistors() && rectifier.synchronous() && rectifier.bodyDiode() == null) {
            root.fault(
                    "rectifier",
                    "both transistors are open at times (dead time, diode emulation, hiccup or lock-out) and the inductor "
                            + "current then needs a path; valid: body_diode_drop in this table, for example "
                            + DesignKeys.of("rectifier", "body_diode_drop").example());
        }
    }
}
