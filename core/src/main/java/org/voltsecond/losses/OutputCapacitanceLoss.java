package org.voltsecond.losses;

import org.voltsecond.converter.ConverterSteadyState;

/**
 * The transistor shorts what its output capacitance, and that of whatever else hangs on the switch node, holds when it
 * closes: C V^2 / 2 with the exact voltage just before. In the idle interval of discontinuous conduction that voltage is
 * where the switch node rests; the ringing of a real one about it is not in the model.
 *
 * <p>Source: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, the section on switching loss (W = C V^2 /
 * 2); from memory.
 *
 * <pre>{@code
 * double power = new OutputCapacitanceLoss(pico(250)).power(steady); // 5.799 mW
 * }</pre>
 *
 * @param capacitance energy-related output capacitance at the blocked voltage, F; 0 or more
 */
public record OutputCapacitanceLoss(double capacitance) implements LossModel {
    /**
     * Creates the model.
     *
     * @param capacitance energy-related output capacitance at the blocked voltage, F; 0 or more
     * @throws IllegalArgumentException if the capacitance is negative or not finite
     */
    public OutputCapacitanceLoss {
        LossChecks.notNegative("output capacitance loss", "capacitance", capacitance, "F");
    }

    @Override
    public LossPart part() {
        return LossPart.TRANSISTOR;
    }

    @Override
    public String cause() {
        return "capacitance";
    }

    @Override
    public double power(ConverterSteadyState steady) {
        double squares = 0;
        for (SwitchingInstant instant : SwitchingInstant.of(steady)) {
            double voltage = instant.turnsOn() ? Math.max(0, instant.voltageBefore()) : 0;
            squares += voltage * voltage;
        }
        return 0.5 * capacitance * squares / steady.period();
    }
}
