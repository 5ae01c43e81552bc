package org.voltsecond.converter;

/**
 * A linear series regulator, to compare a switching converter with. Its pass element carries the load current and drops
 * the difference of input and output voltage, so that its efficiency cannot exceed V_out / V_in. Immutable.
 *
 * <p>Source: S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., McGraw-Hill, Ex. 11.20.
 *
 * <pre>{@code
 * LinearRegulator linear = LinearRegulator.of(12, 5).withGroundCurrent(milli(2));
 * double efficiency = linear.efficiency(2); // 41.63 %
 * double heat = linear.loss(2); // 14.02 W
 * }</pre>
 */
public final class LinearRegulator {
    private final double inputVoltage;
    private final double outputVoltage;
    private final double groundCurrent;

    private LinearRegulator(double inputVoltage, double outputVoltage, double groundCurrent) {
        this.inputVoltage = inputVoltage;
        this.outputVoltage = outputVoltage;
        this.groundCurrent = groundCurrent;
    }

    /**
     * Returns a regulator that takes no current for itself.
     *
     * @param inputVoltage V_in, V; finite
     * @param outputVoltage V_out, V; more than 0 and not more than the input voltage, for a linear regulator can neither
     *     step up nor invert
     * @return the regulator
     * @throws IllegalArgumentException if a voltage is out of its range
     */
    public static LinearRegulator of(double inputVoltage, double outputVoltage) {
        if (!(outputVoltage > 0 && outputVoltage <= inputVoltage && inputVoltage < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "linear regulator: the output voltage must be more than 0 V and at most the "
                            + "input voltage, but was " + outputVoltage + " V at an input of " + inputVoltage
                            + " V; a linear regulator can neither step up nor invert");
        }
        return new LinearRegulator(inputVoltage, outputVoltage, 0);
    }

    /**
     * Returns the regulator with a current that it takes for itself and that flows to ground.
     *
     * @param newGroundCurrent the current, A; 0 or more
     * @return a new regulator
     * @throws IllegalArgumentException if the current is negative or not finite
     */
    public LinearRegulator withGroundCurrent(double newGroundCurrent) {
        requireCurrent("ground current", newGroundCurrent);
        return new LinearRegulator(inputVoltage, outputVoltage, newGroundCurrent);
    }

    /**
     * Returns the efficiency that no load current can exceed.
     *
     * @return V_out / V_in, more than 0 and at most 1
     */
    public double efficiencyLimit() {
        return outputVoltage / inputVoltage;
    }

    /**
     * Returns the efficiency at one load.
     *
     * @param loadCurrent the current drawn from the output, A; 0 or more
     * @return output power over input power; 0 if nothing is drawn
     * @throws IllegalArgumentException if the current is negative or not finite
     */
    public double efficiency(double loadCurrent) {
        requireCurrent("load current", loadCurrent);
        return loadCurrent == 0 ? 0 : outputVoltage * loadCurrent / inputPower(loadCurrent);
    }

    /**
     * Returns what is turned into heat at one load.
     *
     * @param loadCurrent the current drawn from the output, A; 0 or more
     * @return the loss, W
     * @throws IllegalArgumentException if the current is negative or not finite
     */
    public double loss(double loadCurrent) {
        requireCurrent("load current", loadCurrent);
        return (inputVoltage - outputVoltage) * loadCurrent + inputVoltage * groundCurrent;
    }

    /**
     * Returns what the source delivers at one load.
     *
     * @param loadCurrent the current drawn from the output, A; 0 or more
     * @return the power, W
     * @throws IllegalArgumentException if the current is negative or not finite
     */
    public double inputPower(double loadCurrent) {
        requireCurrent("load current", loadCurrent);
        return inputVoltage * (loadCurrent + groundCurrent);
    }

    private static void requireCurrent(String what, double current) {
        if (!(current >= 0 && current < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "linear regulator: the " + what + " must be 0 A or more and finite but was " + current + " A");
        }
    }

    @Override
    public String toString() {
        return "linear regulator from " + inputVoltage + " V to " + outputVoltage + " V";
    }
}
