package org.voltsecond.sizing;

import java.util.List;

/**
 * A stage cannot be sized: carries everything that is wrong with what was asked for.
 *
 * <pre>{@code
 * try {
 *     Specification.of(Topology.BUCK).input(9, 15).output(18).load(2, 0.5).build();
 * } catch (SizingException refused) {
 *     int count = refused.faults().size(); // 4
 *     String first = refused.faults().get(0); // "lowest load current of 2.0 A must not be above ..."
 * }
 * }</pre>
 */
public final class SizingException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    /** The list of {@link List#of} is serializable; the declared type is not. */
    private final transient List<String> faults;

    /**
     * Says what stands in the way.
     *
     * @param faults one text for each fault, with what would be valid or possible; at least one
     */
    public SizingException(List<String> faults) {
        super("sizing: " + String.join("; ", faults));
        this.faults = List.copyOf(faults);
    }

    /**
     * Returns what is wrong.
     *
     * @return one line for each fault: the quantity, the value given, what is valid
     */
    public List<String> faults() {
        return faults;
    }
}
