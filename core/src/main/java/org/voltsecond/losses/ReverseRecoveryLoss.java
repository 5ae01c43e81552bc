package org.voltsecond.losses;

import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;

/**
 * A junction that conducts when the transistor closes must first be cleared: while it still conducts the transistor
 * carries inductor current and recovered charge at full voltage, and becomes hot by V (I t_r + Q_r) each time. In
 * discontinuous conduction the rectifier carries nothing then, and there is no loss. Of several rectifiers those count that a
 * closing switch relieves; behind a transformer the charge is as the switch sees it, by the current that it takes over.
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
 * @param rectifiers reference designators of the rectifiers that it is of; empty for all
 */
public record ReverseRecoveryLoss(double charge, double time, List<String> rectifiers) implements LossModel {
    /** A current that falls to less than this part of itself ends. */
    private static final double ROUND_OFF = 1e-9;

    /**
     * Creates the model of all rectifiers.
     *
     * @param charge recovered charge Q_r, C; 0 or more, and 0 for a Schottky diode
     * @param time recovery time t_r, s; 0 or more, and 0 if the turn-on time of the overlap model includes it
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public ReverseRecoveryLoss(double charge, double time) {
        this(charge, time, List.of());
    }

    /**
     * Creates the model.
     *
     * @param charge recovered charge Q_r, C; 0 or more, and 0 for a Schottky diode
     * @param time recovery time t_r, s; 0 or more, and 0 if the turn-on time of the overlap model includes it
     * @param rectifiers reference designators; empty for all
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public ReverseRecoveryLoss {
        rectifiers = List.copyOf(rectifiers);
        LossChecks.notNegative("reverse recovery loss", "recovered charge", charge, "C");
        LossChecks.notNegative("reverse recovery loss", "recovery time", time, "s");
    }

    @Override
    public String cause() {
        return "reverse recovery";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        List<String> all = LossChecks.rectifiers(List.of(), steady);
        List<String> own = LossChecks.rectifiers(rectifiers, steady);
        return LossModel.each(LossChecks.switches(List.of(), steady), name -> {
            double energy = 0;
            for (SwitchingInstant instant : SwitchingInstant.of(steady, name, all)) {
                energy += instant.turnsOn() ? energy(instant, all, own) : 0;
            }
            return energy / steady.period();
        });
    }

    /** What clearing its own rectifiers costs a switch that relieves these and perhaps others. */
    private double energy(SwitchingInstant instant, List<String> all, List<String> own) {
        double relieved = 0;
        double relievedOfOwn = 0;
        double charges = 0;
        for (int k = 0; k < all.size(); k++) {
            SwitchingInstant.Carried carried = instant.others().get(k);
            if (carried.before() > 0 && carried.after() <= ROUND_OFF * carried.before()) {
                relieved += carried.before();
                relievedOfOwn += own.contains(all.get(k)) ? carried.before() : 0;
                charges += own.contains(all.get(k)) ? charge : 0;
            }
        }
        if (relieved == 0) {
            return 0;
        }
        double takenOver = Math.max(0, instant.currentAfter() - Math.max(0, instant.currentBefore()));
        double share = relievedOfOwn / relieved;
        return Math.max(0, instant.voltageBefore())
                * (share * instant.currentAfter() * time + takenOver / relieved * charges);
    }
}
