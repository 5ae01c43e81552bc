package org.voltsecond.circuit;

import java.util.List;

/**
 * A circuit cannot be built: every fault, one a line, with the part or node, the value given and what is valid.
 *
 * <pre>{@code
 * try {
 *     Circuit.builder().resistor("R1", "out", Circuit.GROUND, -2.5).build();
 * } catch (InvalidCircuitException refused) {
 *     String first = refused.faults().get(0); // "R1: resistance must be >= 0 Ω ..."
 * }
 * }</pre>
 */
public class InvalidCircuitException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    /** What is wrong. */
    private final transient List<String> faults;

    /**
     * Creates an exception.
     *
     * @param faults what is wrong, one line each
     */
    public InvalidCircuitException(List<String> faults) {
        super("the circuit cannot be built:\n" + String.join("\n", faults));
        this.faults = List.copyOf(faults);
    }

    /**
     * Returns what is wrong.
     *
     * @return one line for each fault
     */
    public List<String> faults() {
        return faults;
    }
}
