package org.voltsecond.losses;

import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;

/**
 * The charge that the driver moves into the gates and out again: gate charge times drive voltage each time. It becomes
 * heat in the driver and in the gate resistance, whatever their size.
 *
 * <p>Source: usual practice of transistor data sheets (P = Q_g V_g f); from memory.
 *
 * <pre>{@code
 * double power = new GateChargeLoss(nano(9), 5).power(steady); // 13.5 mW
 * }</pre>
 *
 * @param charge total gate charge at the drive voltage, C; 0 or more; of all transistors together, or of each that is named
 * @param driveVoltage supply of the driver, V; 0 or more
 * @param switches reference designators of the switches that it is of; empty for all together, as often as the first one closes
 */
public record GateChargeLoss(double charge, double driveVoltage, List<String> switches) implements LossModel {
    /**
     * Creates the model of all transistors together.
     *
     * @param charge total gate charge at the drive voltage, C; 0 or more; of all transistors together, or of each that is named
     * @param driveVoltage supply of the driver, V; 0 or more
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public GateChargeLoss(double charge, double driveVoltage) {
        this(charge, driveVoltage, List.of());
    }

    /**
     * Creates the model.
     *
     * @param charge total gate charge at the drive voltage, C; 0 or more; of all transistors together, or of each that is named
     * @param driveVoltage supply of the driver, V; 0 or more
     * @param switches reference designators; empty for all together, as often as the first one closes
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public GateChargeLoss {
        switches = List.copyOf(switches);
        LossChecks.notNegative("gate charge loss", "gate charge", charge, "C");
        LossChecks.notNegative("gate charge loss", "drive voltage", driveVoltage, "V");
    }

    @Override
    public String cause() {
        return "gate charge";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        LossChecks.requireSwitches(switches, steady);
        double power = 0;
        for (String name : switches.isEmpty() ? List.of(steady.converter().transistorName()) : switches) {
            long turnOns = SwitchingInstant.of(steady, name, List.of()).stream()
                    .filter(SwitchingInstant::turnsOn)
                    .count();
            power += turnOns * charge * driveVoltage / steady.period();
        }
        return Map.of(LossEntry.GATE_DRIVE, power);
    }
}
