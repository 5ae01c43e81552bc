package org.hipparchus.exception;

import java.util.Arrays;
import java.util.Locale;

/** {@link MathRuntimeException} in a page: its message is the name of the message with what would stand in it. */
class MathRuntimeExceptionOfPage extends RuntimeException {
    private static final long serialVersionUID = 1L;

    MathRuntimeExceptionOfPage(Localizable specifier, Object... parts) {
        this(null, specifier, parts);
    }

    MathRuntimeExceptionOfPage(Throwable cause, Localizable specifier, Object... parts) {
        super(specifier + " " + Arrays.toString(parts), cause);
    }

    public static MathRuntimeException createInternalError() {
        throw new IllegalStateException("an algorithm has gone wrong");
    }

    public static MathRuntimeException createInternalError(Throwable cause) {
        throw new IllegalStateException("an algorithm has gone wrong", cause);
    }

    public String getMessage(Locale locale) {
        return getMessage();
    }
}
