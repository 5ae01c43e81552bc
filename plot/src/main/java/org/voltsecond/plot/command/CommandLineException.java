package org.voltsecond.plot.command;

import java.util.List;

/** The command line is wrong; carries every fault. */
final class CommandLineException extends Exception {
    private static final long serialVersionUID = 1L;

    private final transient List<String> faults;

    CommandLineException(List<String> faults) {
        super(String.join("\n", faults));
        this.faults = List.copyOf(faults);
    }

    List<String> faults() {
        return faults;
    }
}
