package org.voltsecond.design;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.Converter;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.losses.CoreLoss;
import org.voltsecond.losses.DeadTimeLoss;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.LossModel;
import org.voltsecond.losses.OutputCapacitanceLoss;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.losses.ReverseRecoveryLoss;
import org.voltsecond.losses.SteinmetzMaterial;
import org.voltsecond.losses.WoundCore;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Losses that the design file adds to those of conduction, and over which loads it wants the efficiency.
 *
 * <pre>{@code
 * LossPlan plan = design.studies().losses();
 * int models = plan.models().size(); // 2 of them, overlap and gate charge
 * int loads = plan.points(); // 27
 * }</pre>
 *
 * @param models the losses
 * @param cores of inductors and transformers, whose flux density is told
 * @param outputVoltage magnitude of the output voltage that is held over the loads, V; not a number for that of the design
 * @param lowestLoad A; not a number for a hundredth of the design's load
 * @param highestLoad A; not a number for the design's load
 * @param points how many loads, 2 or more
 */
public record LossPlan(
        List<LossModel> models,
        List<WoundCore> cores,
        double outputVoltage,
        double lowestLoad,
        double highestLoad,
        int points) {
    /**
     * Copies the list.
     *
     * @param models the losses
     * @param cores of inductors and transformers
     * @param outputVoltage magnitude of the output voltage that is held, V, or not a number
     * @param lowestLoad A, or not a number
     * @param highestLoad A, or not a number
     * @param points how many loads
     */
    public LossPlan {
        models = List.copyOf(models);
        cores = List.copyOf(cores);
    }

    /** Reads the table [losses]. */
    static final class Reader {

        private final Section table;
        private final @Nullable Design parts;
        private final @Nullable Converter converter;
        private final List<LossModel> models = new ArrayList<>();
        private final List<WoundCore> cores = new ArrayList<>();

        private Reader(Section table, @Nullable Design parts, @Nullable Converter converter) {
            this.table = table;
            this.parts = parts;
            this.converter = converter;
        }

        /** Null if there is no such table, or after faults. */
        static @Nullable LossPlan read(Section root, @Nullable Design parts, @Nullable Converter converter) {
            Section table = root.table("losses");
            return table == null ? null : new Reader(table, parts, converter).read();
        }

        private @Nullable LossPlan read() {
            int before = table.faultCount();
            double output = table.quantity("output_voltage");
            double[] loads = loads();
            int points = table.whole("points");
            if (parts != null && parts.drive() instanceof Regulated && !Double.isNaN(output)) {
                table.fault("output_voltage", "is held by the regulator already; valid: leave the key out");
            }
            Data all = Data.read(table);
            if (parts != null && table.has("output_capacitance") && hasCapacitance(parts)) {
                table.fault(
                        "output_capacitance",
                        "is an estimate beside the one of [transistor], which is a part of the circuit; valid: one of the two");
            }
            checkRecovery(table, "");
            Section deadTime = table.table("dead_time");
            DeadTimeLoss deadTimeLoss = deadTime == null ? null : deadTime(deadTime);
            Map<String, Data> own = own();
            table.finish();
            if (table.faultCount() > before || converter == null) {
                return null;
            }
            add(all, own);
            if (deadTimeLoss != null) {
                models.add(deadTimeLoss);
            }
            return new LossPlan(models, cores, output, loads[0], loads[1], points);
        }

        /** The estimate of a part, or of all where it is nameless, beside a recovery that is simulated. */
        private void checkRecovery(Section estimate, String name) {
            boolean simulated = converter != null
                    && converter.circuit().parts().stream()
                            .filter(part -> name.isEmpty() || part.name().equals(name))
                            .anyMatch(part -> part instanceof Part.Rectifier d
                                    && d.junction().recovery() != null);
            for (String key : List.of("recovered_charge", "recovery_time")) {
                if (simulated && estimate.has(key)) {
                    estimate.fault(
                            key,
                            "is an estimate beside the recovery of the rectifier, which is a part of the circuit; valid: one of the two");
                }
            }
        }

        private static boolean hasCapacitance(Design design) {
            return design.stage()
                    .filter(stage ->
                            stage.parts().transistor().outputCapacitance().value() > 0)
                    .isPresent();
        }

        /** What a table says of a switch, a rectifier or a core; 0 or null for what it does not say. */
        private record Data(
                double turnOn,
                double turnOff,
                double capacitance,
                double gateCharge,
                double gateVoltage,
                double recovered,
                double recovery,
                @Nullable Core core) {
            static Data read(Section table) {
                if (table.has("gate_charge") != table.has("gate_voltage")) {
                    table.fault(
                            table.has("gate_charge") ? "gate_voltage" : "gate_charge",
                            "missing beside its counterpart; valid: gate_charge and gate_voltage together");
                }
                Section core = table.table("core");
                return new Data(
                        table.quantity("turn_on_time"),
                        table.quantity("turn_off_time"),
                        table.quantity("output_capacitance"),
                        table.quantity("gate_charge"),
                        table.quantity("gate_voltage"),
                        table.quantity("recovered_charge"),
                        table.quantity("recovery_time"),
                        core == null ? null : Core.read(core));
            }

            boolean overlaps() {
                return turnOn + turnOff > 0;
            }

            boolean recovers() {
                return recovered + recovery > 0;
            }
        }

        /**
         * A core without the winding on it.
         *
         * @param material null where its flux density alone is asked for
         */
        private record Core(@Nullable SteinmetzMaterial material, double crossSection, double volume, double turns) {
            private static final List<String> OF_LOSS = List.of("k", "alpha", "beta", "volume");

            /** Null after a fault. */
            static @Nullable Core read(Section core) {
                int before = core.faultCount();
                double crossSection = core.quantity("cross_section");
                double turns = core.quantity("turns");
                if (OF_LOSS.stream().filter(core::has).count() == 0) {
                    core.finish();
                    return core.faultCount() > before ? null : new Core(null, crossSection, 0, turns);
                }
                double k = core.required("k");
                double alpha = core.required("alpha");
                double beta = core.required("beta");
                double volume = core.required("volume");
                core.finish();
                if (beta < alpha) {
                    core.fault(
                            "beta",
                            "must not be less than alpha = " + alpha + " but is " + beta + "; valid: usually 2 to 3");
                }
                return core.faultCount() > before
                        ? null
                        : new Core(new SteinmetzMaterial(k, alpha, beta), crossSection, volume, turns);
            }

            WoundCore on(String winding) {
                return new WoundCore(crossSection, turns, winding);
            }
        }

        /** The data that parts have of their own, by the name of the part, or of the winding that is meant by the turns of a core. */
        private Map<String, Data> own() {
            Map<String, Data> own = new LinkedHashMap<>();
            Section named = table.table("parts");
            if (named == null) {
                return own;
            }
            for (String name : named.keys()) {
                Section part = named.table(name);
                if (part != null) {
                    Data data = Data.read(part);
                    part.finish();
                    check(part, name);
                    own.put(name, data);
                }
            }
            return own;
        }

        /** Tells of data that are not those of such a part. */
        private void check(Section part, String name) {
            if (converter == null) {
                return;
            }
            Roles roles = converter.roles();
            List<String> switches = new ArrayList<>(roles.switches());
            switches.addAll(roles.synchronous());
            List<String> rectifiers = new ArrayList<>(roles.rectifiers());
            rectifiers.addAll(roles.synchronous());
            List<String> coils = converter.circuit().ports().stream()
                    .filter(port -> converter.circuit().part(port.part()) instanceof Part.Inductor
                            || converter.circuit().part(port.part()) instanceof Part.CoupledInductors
                            || converter.circuit().part(port.part()) instanceof Part.IdealTransformer)
                    .map(Port::name)
                    .toList();
            check(
                    part,
                    name,
                    "a switch",
                    switches,
                    "turn_on_time",
                    "turn_off_time",
                    "output_capacitance",
                    "gate_charge");
            check(part, name, "a rectifier", rectifiers, "recovered_charge", "recovery_time");
            checkRecovery(part, name);
            check(part, name, "an inductor or a winding", coils, "core");
        }

        private static void check(Section part, String name, String kind, List<String> valid, String... keys) {
            for (String key : keys) {
                if (part.has(key) && !valid.contains(name)) {
                    part.fault(
                            key,
                            "is of " + kind + ", which " + name + " is not; valid for: " + String.join(", ", valid));
                }
            }
        }

        private void add(Data all, Map<String, Data> own) {
            Converter of = Objects.requireNonNull(converter);
            List<String> switches = of.roles().switches();
            List<String> rectifiers = new ArrayList<>(of.roles().rectifiers());
            rectifiers.addAll(of.roles().synchronous());
            add(
                    all.overlaps(),
                    others(switches, own, Data::overlaps),
                    names -> new OverlapLoss(all.turnOn(), all.turnOff(), names));
            add(
                    all.capacitance() > 0,
                    others(switches, own, data -> data.capacitance() > 0),
                    names -> new OutputCapacitanceLoss(all.capacitance(), names));
            add(
                    all.recovers(),
                    others(rectifiers, own, Data::recovers),
                    names -> new ReverseRecoveryLoss(all.recovered(), all.recovery(), names));
            add(all.gateCharge() > 0, List.of(), names -> new GateChargeLoss(all.gateCharge(), all.gateVoltage()));
            own.forEach((name, data) -> {
                List<String> one = List.of(name);
                add(data.overlaps(), one, names -> new OverlapLoss(data.turnOn(), data.turnOff(), names));
                add(data.capacitance() > 0, one, names -> new OutputCapacitanceLoss(data.capacitance(), names));
                add(data.recovers(), one, names -> new ReverseRecoveryLoss(data.recovered(), data.recovery(), names));
                add(
                        data.gateCharge() > 0,
                        one,
                        names -> new GateChargeLoss(data.gateCharge(), data.gateVoltage(), names));
                addCore(data.core(), name);
            });
            addCore(all.core(), "");
        }

        private void addCore(@Nullable Core core, String winding) {
            if (core == null) {
                return;
            }
            cores.add(core.on(winding));
            SteinmetzMaterial material = core.material();
            if (material != null) {
                models.add(new CoreLoss(material, core.volume(), core.on(winding)));
            }
        }

        /** Those for which the data hold that are given for all; empty for all. */
        private static @Nullable List<String> others(List<String> all, Map<String, Data> own, Predicate<Data> says) {
            List<String> left = all.stream()
                    .filter(name -> !own.containsKey(name) || !says.test(own.get(name)))
                    .toList();
            return left.size() == all.size() ? List.of() : left.isEmpty() ? null : left;
        }

        private void add(boolean given, @Nullable List<String> names, Function<List<String>, LossModel> model) {
            if (given && names != null) {
                models.add(model.apply(names));
            }
        }

        private double[] loads() {
            Section load = table.table("load");
            if (load == null) {
                return new double[] {Double.NaN, Double.NaN};
            }
            double from = load.quantity("from");
            double to = load.quantity("to");
            load.finish();
            if (to <= from) {
                load.fault(
                        "to",
                        "must be above from = " + Quantity.brief(from, Unit.AMPERE) + " but is "
                                + Quantity.brief(to, Unit.AMPERE) + "; valid: a larger current");
            }
            return new double[] {from, to};
        }

        /** Null after a fault. */
        private @Nullable DeadTimeLoss deadTime(Section dead) {
            int before = dead.faultCount();
            double beforeTurnOn = dead.quantity("before_turn_on");
            double afterTurnOff = dead.quantity("after_turn_off");
            double drop = dead.quantity("forward_drop");
            double resistance = dead.quantity("resistance");
            dead.finish();
            if (converter != null && !converter.isSynchronous()) {
                dead.fault("is for a synchronous rectifier but a diode is given; valid: leave the table out");
            } else if (isSimulated()) {
                dead.fault("is simulated already, as dead_time of the protection or of the drive says; valid: leave the"
                        + " table out");
            }
            return dead.faultCount() > before ? null : new DeadTimeLoss(beforeTurnOn, afterTurnOff, drop, resistance);
        }

        private boolean isSimulated() {
            if (parts == null) {
                return false;
            }
            boolean byRegulator = parts.drive() instanceof Regulated regulated
                    && regulated.regulator().protection().synchronous().deadTime() > 0;
            return byRegulator
                    || (parts.power() instanceof CircuitPlan circuit
                            && circuit.switching().deadTime() > 0);
        }
    }
}
