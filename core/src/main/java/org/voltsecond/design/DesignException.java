package org.voltsecond.design;

import java.util.List;
import java.util.stream.Collectors;

/** A design file is wrong; carries every fault that was found in it. */
public final class DesignException extends Exception {
    private static final long serialVersionUID = 1L;

    /** Transient because it is for the program that catches it, which runs in the same machine. */
    private final transient List<Fault> faults;

    /**
     * Creates the exception.
     *
     * @param faults all faults in the order of their lines, at least one
     */
    public DesignException(List<Fault> faults) {
        super(faults.stream().map(Fault::toString).collect(Collectors.joining("\n")));
        this.faults = List.copyOf(faults);
    }

    /**
     * Returns what is wrong.
     *
     * @return all faults, at least one
     */
    public List<Fault> faults() {
        return faults;
    }
}
