package org.hipparchus.exception;

import java.io.Serializable;
import java.util.Locale;

/** {@link Localizable} in a page: messages stay in their own language. */
interface LocalizableOfPage extends Serializable {
    String getSourceString();

    String getLocalizedString(Locale locale);

    default String getLocalizedString(String baseName, String key, Locale locale) {
        return getSourceString();
    }
}
