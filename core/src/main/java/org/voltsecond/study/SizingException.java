package org.voltsecond.study;

import java.util.List;

/** A stage cannot be sized: carries everything that is wrong with what was asked for. */
public final class SizingException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    /** The list of {@link List#of} is serializable; the declared type is not. */
    private final transient List<String> faults;

    SizingException(List<String> faults) {
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
