package org.voltsecond.converter;

import java.util.List;

/** A power stage cannot be built: carries everything that is wrong with it. */
public final class InvalidStageException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    /** The list of {@link List#of} is serializable; the declared type is not. */
    private final transient List<String> faults;

    InvalidStageException(String stage, List<String> faults) {
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
