package org.voltsecond.circuit;

/** A position of switches and rectifiers in which the circuit has no sound solution; the message names the parts. */
final class RefusedException extends Exception {
    private static final long serialVersionUID = 1L;

    private final String reason;

    RefusedException(String reason) {
        super(reason, null, false, false);
        this.reason = reason;
    }

    String reason() {
        return reason;
    }
}
