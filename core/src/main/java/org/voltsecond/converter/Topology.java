package org.voltsecond.converter;

/**
 * How transistor, rectifier and inductor are arranged between input and output.
 *
 * <pre>{@code
 * for (Topology topology : Topology.values()) { // the output voltages from 12 V at a duty cycle of 0.4
 *     System.out.println(topology + ": " + 12 * ConversionRatio.continuous(topology, 0.4) + " V"); // 4.8, 20, -8
 * }
 * }</pre>
 */
public enum Topology {
    /** Steps down: the transistor stands between input and switch node, the rectifier between ground and switch node. */
    BUCK("buck"),
    /** Steps up: the inductor stands between input and switch node, the rectifier between switch node and output. */
    BOOST("boost"),
    /**
     * Inverts: the transistor stands between input and switch node, the inductor between switch node and ground, the
     * rectifier between output and switch node. The output voltage is negative.
     */
    INVERTING_BUCK_BOOST("inverting buck-boost");

    private final String words;

    Topology(String words) {
        this.words = words;
    }

    /**
     * Returns the name as the trade writes it.
     *
     * @return for example "buck"
     */
    @Override
    public String toString() {
        return words;
    }
}
