package org.hipparchus.exception;

import java.util.Locale;

/** {@link LocalizedCoreFormats} in a page: those that the code of a page can meet, by their names. The compiler tells which one is missing. */
enum LocalizedCoreFormatsOfPage implements Localizable {
    AT_LEAST_ONE_COLUMN,
    AT_LEAST_ONE_ROW,
    COLUMN_INDEX,
    DIMENSIONS_MISMATCH,
    ENDPOINTS_NOT_AN_INTERVAL,
    FIRST_COLUMNS_NOT_INITIALIZED_YET,
    FIRST_ROWS_NOT_INITIALIZED_YET,
    MAX_COUNT_EXCEEDED,
    NOT_BRACKETING_INTERVAL,
    NOT_DECREASING_SEQUENCE,
    NOT_INCREASING_SEQUENCE,
    NOT_STRICTLY_DECREASING_SEQUENCE,
    NOT_STRICTLY_INCREASING_SEQUENCE,
    NULL_NOT_ALLOWED,
    NUMBER_TOO_SMALL,
    ROW_INDEX,
    START_POINT_NOT_IN_INTERVAL;

    @Override
    public String getSourceString() {
        return name();
    }

    @Override
    public String getLocalizedString(Locale locale) {
        return name();
    }
}
