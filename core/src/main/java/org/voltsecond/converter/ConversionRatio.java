package org.voltsecond.converter;

import org.voltsecond.stage.Topology;

/**
 * The ratio of output to input voltage in closed form, for ideal parts and a small output ripple. The ratio of the
 * inverting stage is negative. An exact simulation differs from it by the effect of the ripple.
 *
 * <p>Sources: continuous conduction: any textbook, for example D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 6;
 * discontinuous: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, table 5.2,
 * p. 153.
 *
 * <pre>{@code
 * double ratio = ConversionRatio.continuous(Topology.BOOST, 0.5); // 2.0
 * double light = ConversionRatio.discontinuous(Topology.BUCK, 0.45, 0.1); // 0.7340
 * double k = ConversionRatio.parameterK(micro(22), 2.5, 1 / kilo(300)); // 5.28
 * double critical = ConversionRatio.criticalK(Topology.BUCK, 0.45); // 0.550, so that conduction is continuous
 * }</pre>
 */
public final class ConversionRatio {
    private ConversionRatio() {}

    /**
     * Returns the ratio in whichever mode of conduction the stage is.
     *
     * @param topology the stage
     * @param dutyCycle D, from 0 to 1
     * @param k the parameter K = 2 L / (R T), more than 0; see {@link #parameterK}
     * @return output voltage over input voltage
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static double of(Topology topology, double dutyCycle, double k) {
        return k < criticalK(topology, dutyCycle)
                ? discontinuous(topology, dutyCycle, k)
                : continuous(topology, dutyCycle);
    }

    /**
     * Returns the ratio in continuous conduction.
     *
     * @param topology the stage
     * @param dutyCycle D, from 0 to 1
     * @return D for a buck stage, 1 / (1 - D) for a boost stage, -D / (1 - D) for an inverting one; infinite for the
     *     latter two at D = 1
     * @throws IllegalArgumentException if the duty cycle is not from 0 to 1
     */
    public static double continuous(Topology topology, double dutyCycle) {
        return topology.continuousRatio(requireDutyCycle(dutyCycle));
    }

    /**
     * Returns the ratio in discontinuous conduction. Only meaningful where K is less than {@link #criticalK}.
     *
     * @param topology the stage
     * @param dutyCycle D, from 0 to 1
     * @param k the parameter K = 2 L / (R T), more than 0
     * @return output voltage over input voltage
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static double discontinuous(Topology topology, double dutyCycle, double k) {
        double d = requireDutyCycle(dutyCycle);
        if (!(k > 0)) {
            throw new IllegalArgumentException("K = 2 L / (R T) must be more than 0 but was " + k);
        }
        return topology.discontinuousRatio(d, k);
    }

    /**
     * Returns the parameter K = 2 L / (R T) of a stage.
     *
     * @param inductance L, H; more than 0
     * @param loadResistance R, Ω; more than 0
     * @param period T, s; more than 0
     * @return K, without unit
     * @throws IllegalArgumentException if an argument is not more than 0
     */
    public static double parameterK(double inductance, double loadResistance, double period) {
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
    public static double criticalK(Topology topology, double dutyCycle) {
        return topology.criticalK(requireDutyCycle(dutyCycle));
    }

    static double requireDutyCycle(double dutyCycle) {
        if (!(dutyCycle >= 0 && dutyCycle <= 1)) {
            throw new IllegalArgumentException("a duty cycle must be from 0 to 1 but was " + dutyCycle);
        }
        return dutyCycle;
    }
}
