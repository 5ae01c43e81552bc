package org.voltsecond.losses;

import org.voltsecond.converter.ConverterSteadyState;

/**
 * A junction that conducts when the transistor closes must first be cleared: while it still conducts the transistor
 * carries inductor current and recovered charge at full voltage, and becomes hot by V (I t_r + Q_r) each time. In
 * discontinuous conduction the rectifier carries nothing then, and there is no loss.
 *
 * <p>Source: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, the section on diode reverse recovery
 * (W = V_g (i_L t_r + Q_r)); from memory.
 *
 * <pre>{@code
 * LossModel junction = new ReverseRecoveryLoss(nano(30), nano(20)); // 30 nC in 20 ns
 * double loaded = junction.power(steady); // 244.7 mW
 * double idle = junction.power(rail.withLoad(Load.resistor(100)).steadyState()); // 0
 * }</pre>
 *
 * @param charge recovered charge Q_r, C; 0 or more, and 0 for a Schottky diode
 * @param time recovery time t_r, s; 0 or more, and 0 if the turn-on time of the overlap model includes it
 */
public record ReverseRecoveryLoss(double charge, double time) implements LossModel {
    /**
     * Creates the model.
     *
     * @param charge recovered charge Q_r, C; 0 or more, and 0 for a Schottky diode
     * @param time recovery time t_r, s; 0 or more, and 0 if the turn-on time of the overlap model includes it
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public ReverseRecoveryLoss {
        LossChecks.notNegative("reverse recovery loss", "recovered charge", charge, "C");
        LossChecks.notNegative("reverse recovery loss", "recovery time", time, "s");
    }

    @Override
    public LossPart part() {
        return LossPart.TRANSISTOR;
    }

    @Override
    public String cause() {
        return "reverse recovery";
    }

    @Override
    public double power(ConverterSteadyState steady) {
        double energy = 0;
        for (SwitchingInstant instant : SwitchingInstant.of(steady)) {
            if (instant.turnsOn() && instant.rectifierCurrentBefore() > 0) {
                energy += Math.max(0, instant.voltageBefore()) * (instant.currentAfter() * time + charge);
            }
        }
        return energy / steady.period();
    }
}
