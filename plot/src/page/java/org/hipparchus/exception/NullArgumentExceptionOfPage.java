package org.hipparchus.exception;

/** {@link NullArgumentException} in a page: without the formats of messages. */
class NullArgumentExceptionOfPage extends NullPointerException {
    private static final long serialVersionUID = 1L;

    NullArgumentExceptionOfPage() {
        super("a value is missing");
    }

    NullArgumentExceptionOfPage(Localizable specifier, Object... parts) {
        super(specifier.toString());
    }
}
