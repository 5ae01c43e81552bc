package org.voltsecond.stage;

import java.util.List;

/**
 * A power stage cannot be built: carries everything that is wrong with it.
 *
 * <pre>{@code
 * try {
 *     stage.input(-12).inductor(0).drive(Drive.fixedDuty(0.45, kilo(300)));
 * } catch (InvalidStageException refused) {
 *     int count = refused.faults().size(); // 2
 *     String first = refused.faults().get(0); // "input: voltage must be more than 0 V ..."
 * }
 * }</pre>
 */
public final class InvalidStageException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    /** The list of {@link List#of} is serializable; the declared type is not. */
    private final transient List<String> faults;

    /**
     * Carries faults.
     *
     * @param stage what cannot be built
     * @param faults one line each
     */
    public InvalidStageException(String stage, List<String> faults) {
        super(stage + ": " + String.join("; ", faults));
        this.faults = List.copyOf(faults);
    }

    /**
     * Returns what is wrong.
     *
     * @return one line for each fault: the part, the value given, what is valid
     */
    public List<String> faults() {
        return faults;
    }
}
