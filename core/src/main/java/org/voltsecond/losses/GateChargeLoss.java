package org.voltsecond.losses;

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
 * @param charge total gate charge at the drive voltage, of all transistors of the stage together, C; 0 or more
 * @param driveVoltage supply of the driver, V; 0 or more
 */
public record GateChargeLoss(double charge, double driveVoltage) implements LossModel {
    /**
     * Creates the model.
     *
     * @param charge total gate charge at the drive voltage, of all transistors of the stage together, C; 0 or more
     * @param driveVoltage supply of the driver, V; 0 or more
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public GateChargeLoss {
        LossChecks.notNegative("gate charge loss", "gate charge", charge, "C");
        LossChecks.notNegative("gate charge loss", "drive voltage", driveVoltage, "V");
    }

    @Override
    public LossPart part() {
        return LossPart.GATE_DRIVE;
    }

    @Override
    public String cause() {
        return "gate charge";
    }

    @Override
    public double power(ConverterSteadyState steady) {
        long turnOns = SwitchingInstant.of(steady).stream()
                .filter(SwitchingInstant::turnsOn)
                .count();
        return turnOns * charge * driveVoltage / steady.period();
    }
}
