package org.voltsecond.losses;

import java.util.List;
import java.util.Map;
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
 * @param switches reference designators of the switches that it is of; empty for all that begin the on interval
 */
public record OutputCapacitanceLoss(double capacitance, List<String> switches) implements LossModel {
    /**
     * Creates the model of all switches that begin the on interval.
     *
     * @param capacitance energy-related output capacitance at the blocked voltage, F; 0 or more
     * @throws IllegalArgumentException if a capacitance is negative or not finite
     */
    public OutputCapacitanceLoss(double capacitance) {
        this(capacitance, List.of());
    }

    /**
     * Creates the model.
     *
     * @param capacitance energy-related output capacitance at the blocked voltage, F; 0 or more
     * @param switches reference designators; empty for all that begin the on interval
     * @throws IllegalArgumentException if a capacitance is negative or not finite
     */
    public OutputCapacitanceLoss {
        switches = List.copyOf(switches);
        LossChecks.notNegative("output capacitance loss", "capacitance", capacitance, "F");
    }

    @Override
    public String cause() {
        return "capacitance";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        return LossModel.each(LossChecks.switches(switches, steady), name -> power(name, steady));
    }

    private double power(String name, ConverterSteadyState steady) {
        double squares = 0;
        for (SwitchingInstant instant : SwitchingInstant.of(steady, name, List.of())) {
            double voltage = instant.turnsOn() ? Math.max(0, instant.voltageBefore()) : 0;
            squares += voltage * voltage;
        }
        return 0.5 * capacitance * squares / steady.period();
    }
}
