package org.voltsecond.design;

import org.voltsecond.sizing.SizingException;

/** There is no regulator that does what the table [rail.regulator] asks for. */
final class NoLoopException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    NoLoopException(SizingException reason) {
        super(String.join("; ", reason.faults()), reason);
    }
}
