package org.voltsecond.design;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.losses.CoreLoss;
import org.voltsecond.losses.DeadTimeLoss;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.LossModel;
import org.voltsecond.losses.OutputCapacitanceLoss;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.losses.ReverseRecoveryLoss;
import org.voltsecond.losses.SteinmetzMaterial;
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
 * @param outputVoltage magnitude of the output voltage that is held over the loads, V; not a number for that of the design
 * @param lowestLoad A; not a number for a hundredth of the design's load
 * @param highestLoad A; not a number for the design's load
 * @param points how many loads, 2 or more
 */
public record LossPlan(
        List<LossModel> models, double outputVoltage, double lowestLoad, double highestLoad, int points) {
    /**
     * Copies the list.
     *
     * @param models the losses
     * @param outputVoltage magnitude of the output voltage that is held, V, or not a number
     * @param lowestLoad A, or not a number
     * @param highestLoad A, or not a number
     * @param points how many loads
     */
    public LossPlan {
        models = List.copyOf(models);
    }

    /** Reads the table [losses]. */
    static final class Reader {

        private final Section table;
        private final @Nullable Design parts;
        private final List<LossModel> models = new ArrayList<>();

        private Reader(Section table, @Nullable Design parts) {
            this.table = table;
            this.parts = parts;
        }

        /** Null if there is no such table, or after faults. */
        static @Nullable LossPlan read(Section root, @Nullable Design parts) {
            Section table = root.table("losses");
            return table == null ? null : new Reader(table, parts).read();
        }

        private @Nullable LossPlan read() {
            int before = table.faultCount();
            double output = table.quantity("output_voltage");
            double[] loads = loads();
            int points = table.whole("points");
            if (parts != null && parts.drive() instanceof Regulated && !Double.isNaN(output)) {
                table.fault("output_voltage", "is held by the regulator already; valid: leave the key out");
            }
            double turnOn = table.quantity("turn_on_time");
            double turnOff = table.quantity("turn_off_time");
            double gateCharge = table.quantity("gate_charge");
            double gateVoltage = table.quantity("gate_voltage");
            double capacitance = table.quantity("output_capacitance");
            if (parts != null && table.has("output_capacitance") && hasCapacitance(parts)) {
                table.fault(
                        "output_capacitance",
                        "is an estimate beside the one of [transistor], which is a part of the circuit; valid: one of the two");
            }
            double recovered = table.quantity("recovered_charge");
            double recovery = table.quantity("recovery_time");
            if (table.has("gate_charge") != table.has("gate_voltage")) {
                table.fault(
                        table.has("gate_charge") ? "gate_voltage" : "gate_charge",
                        "missing beside its other half; valid: gate_charge and gate_voltage together");
            }
            Section core = table.table("core");
            Section deadTime = table.table("dead_time");
            CoreLoss coreLoss = core == null ? null : core(core);
            DeadTimeLoss deadTimeLoss = deadTime == null ? null : deadTime(deadTime);
            table.finish();
            if (table.faultCount() > before) {
                return null;
            }
            add(turnOn + turnOff > 0, new OverlapLoss(turnOn, turnOff));
            add(capacitance > 0, new OutputCapacitanceLoss(capacitance));
            add(recovered + recovery > 0, new ReverseRecoveryLoss(recovered, recovery));
            add(gateCharge > 0, new GateChargeLoss(gateCharge, gateVoltage));
            add(deadTimeLoss != null, deadTimeLoss);
            add(coreLoss != null, coreLoss);
            return new LossPlan(models, output, loads[0], loads[1], points);
        }

        private static boolean hasCapacitance(Design design) {
            return design.stage()
                    .filter(stage -> stage.parts().transistor().outputCapacitance() > 0)
                    .isPresent();
        }

        private void add(boolean given, @Nullable LossModel model) {
            if (given && model != null) {
                models.add(model);
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
        private static @Nullable CoreLoss core(Section core) {
            int before = core.faultCount();
            double k = core.quantity("k");
            double alpha = core.quantity("alpha");
            double beta = core.quantity("beta");
            double crossSection = core.quantity("cross_section");
            double volume = core.quantity("volume");
            double turns = core.quantity("turns");
            core.finish();
            if (beta < alpha) {
                core.fault(
                        "beta",
                        "must not be less than alpha = " + alpha + " but is " + beta + "; valid: usually 2 to 3");
            }
            return core.faultCount() > before
                    ? null
                    : new CoreLoss(new SteinmetzMaterial(k, alpha, beta), crossSection, volume, turns);
        }

        /** Null after a fault. */
        private @Nullable DeadTimeLoss deadTime(Section dead) {
            int before = dead.faultCount();
            double beforeTurnOn = dead.quantity("before_turn_on");
            double afterTurnOff = dead.quantity("after_turn_off");
            double drop = dead.quantity("forward_drop");
            double resistance = dead.quantity("resistance");
            dead.finish();
            if (parts != null
                    && parts.stage()
                            .filter(stage -> !stage.parts().rectifier().synchronous())
                            .isPresent()) {
                dead.fault("is for a synchronous rectifier but a diode is given; valid: leave the table out");
            } else if (parts != null
                    && parts.drive() instanceof Regulated regulated
                    && regulated.regulator().protection().synchronous().deadTime() > 0) {
                dead.fault("is simulated already, as dead_time of the protection says; valid: leave the table out");
            }
            return dead.faultCount() > before ? null : new DeadTimeLoss(beforeTurnOn, afterTurnOff, drop, resistance);
        }
    }
}
