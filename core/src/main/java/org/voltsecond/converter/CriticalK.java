package org.voltsecond.converter;

/**
 * The dimensionless parameter of discontinuous conduction, K = 2 L / (R T), and the value that it must exceed for
 * continuous conduction. For ideal parts and a small output ripple.
 *
 * <p>Source: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, table 5.2, p. 153.
 *
 * <pre>{@code
 * double k = CriticalK.parameter(micro(22), 2.5, 1 / kilo(300)); // 5.28
 * double critical = CriticalK.of(Topology.BUCK, 0.45); // 0.550
 * Conduction expected = k > critical ? Conduction.CONTINUOUS : Conduction.DISCONTINUOUS; // CONTINUOUS
 * }</pre>
 */
public final class CriticalK {
    private CriticalK() {}

    /**
     * Returns the parameter K = 2 L / (R T) of a stage.
     *
     * @param inductance L, H; more than 0
     * @param loadResistance R, Ω; more than 0
     * @param period T, s; more than 0
     * @return K, without unit
     * @throws IllegalArgumentException if an argument is not more than 0
     */
    public static double parameter(double inductance, double loadResistance, double period) {
        if (!(inductance > 0) || !(loadResistance > 0) || !(period > 0)) {
            throw new IllegalArgumentException("K = 2 L / (R T) needs L, R and T of more than 0 but got L = "
                    + inductance + " H, R = " + loadResistance + " Ω, T = " + period + " s");
        }
        return 2 * inductance / (loadResistance * period);
    }

    /**
     * Returns the critical value: conduction is continuous above it, discontinuous below, at the boundary when equal.
     *
     * @param topology the stage
     * @param dutyCycle D, from 0 to 1
     * @return 1 - D for a buck stage, D (1 - D)<sup>2</sup> for a boost stage, (1 - D)<sup>2</sup> for an inverting one
     * @throws IllegalArgumentException if the duty cycle is not from 0 to 1
     */
    public static double of(Topology topology, double dutyCycle) {
        return topology.criticalK(ConversionRatio.requireDutyCycle(dutyCycle));
    }
}
