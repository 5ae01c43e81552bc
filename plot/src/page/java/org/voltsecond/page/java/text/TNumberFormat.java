package org.voltsecond.page.java.text;

import java.text.FieldPosition;
import java.util.Locale;

/**
 * In place of the number formats of the compiler's class library, which bring along the names of all currencies and languages: Hipparchus
 * makes some for its matrices' texts, which a page never shows.
 */
public final class TNumberFormat {
    public static TNumberFormat getInstance(Locale locale) {
        return new TNumberFormat();
    }

    public void setMinimumFractionDigits(int digits) {}

    public void setMaximumFractionDigits(int digits) {}

    public void setGroupingUsed(boolean used) {}

    public StringBuffer format(double value, StringBuffer into, FieldPosition place) {
        return into.append(value);
    }
}
