package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class QuantityFormattingTest {

    /** Expected texts by hand; the prefix leaves one to three digits before the point. */
    @ParameterizedTest
    @CsvSource({
        "22e-6, HENRY, 3, 22.0 \u00B5H",
        "22e-6, HENRY, 2, 22 \u00B5H",
        "22e-6, HENRY, 1, 20 \u00B5H",
        "4.7e-6, FARAD, 2, 4.7 \u00B5F",
        "5.0249308720340644, VOLT, 5, 5.0249 V",
        "0.08, OHM, 2, 80 m\u03A9",
        "999.95, HERTZ, 3, 1.00 kHz",
        "999.95, HERTZ, 4, 1.000 kHz",
        "999.94, HERTZ, 4, 999.9 Hz",
        "0.99996, VOLT, 4, 1.000 V",
        "-999.95, VOLT, 3, -1.00 kV",
        "-0.005, AMPERE, 3, -5.00 mA",
        "0, VOLT, 3, 0 V",
        "-0.0, VOLT, 3, 0 V",
        "1, SECOND, 1, 1 s",
        "1e-15, FARAD, 3, 1.00 fF",
        "9.999e14, HERTZ, 4, 999.9 THz",
        "1e15, HERTZ, 3, 1.00e15 Hz",
        "1e-18, VOLT, 3, 1.00e-18 V",
        "50e3, AMPERE_PER_SECOND, 3, 50.0 kA/s",
        "1500, PER_SECOND, 3, 1500 1/s",
        "1500000, PER_SECOND, 3, 1.50e6 1/s",
        "0.45, ONE, 3, 0.450",
        "1234, ONE, 3, 1230",
        "1e-5, ONE, 2, 10e-6",
        "NaN, HENRY, 3, NaN H",
        "-Infinity, HENRY, 3, -Infinity H",
    })
    void writesSignificantDigits(double value, Unit unit, int digits, String expected) {
        assertThat(Quantity.format(value, unit, digits)).isEqualTo(expected);
    }

    /** 0.125 and 0.375 are exact in binary: true ties. 0.15 is not: the double lies below. */
    @Test
    void roundsTheExactValueAndTiesToEven() {
        assertThat(Quantity.format(0.125, Unit.ONE, 2)).isEqualTo("0.12");
        assertThat(Quantity.format(0.375, Unit.ONE, 2)).isEqualTo("0.38");
        assertThat(Quantity.format(0.15, Unit.ONE, 1)).isEqualTo("0.1");
    }

    @ParameterizedTest
    @CsvSource({
        "22e-6, HENRY, 22 \u00B5H",
        "-1e-6, HENRY, -1 \u00B5H",
        "300e3, HERTZ, 300 kHz",
        "0.1, VOLT_PER_AMPERE, 100 mV/A",
        "0.30000000000000004, VOLT, 300.00000000000004 mV",
        "2e23, ONE, 200e21",
        "NaN, VOLT, NaN V",
    })
    void writesNoMoreDigitsThanNeeded(double value, Unit unit, String expected) {
        assertThat(Quantity.format(value, unit)).isEqualTo(expected);
    }

    @Test
    void refusesDigitsThatMeanNothing() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Quantity.format(1, Unit.VOLT, 0))
                .withMessage("significant digits: 0 given, valid are 1 to 17");
        assertThatIllegalArgumentException().isThrownBy(() -> Quantity.format(1, Unit.VOLT, 18));
    }

    @Test
    void doesNotDependOnTheLocale() {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            assertThat(Quantity.format(2.5e-6, Unit.SECOND, 2)).isEqualTo("2.5 \u00B5s");
            assertThat(Quantity.parse("2.5 \u00B5s", Unit.SECOND)).isEqualTo(2.5e-6);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void aSentenceGetsSixDigitsAtMost() {
        assertThat(Quantity.brief(3.3333333333333333e-6, Unit.SECOND)).isEqualTo("3.33333 µs");
        assertThat(Quantity.brief(1.8750000000000002e-5, Unit.SECOND)).isEqualTo("18.75 µs");
        assertThat(Quantity.brief(999.9999999, Unit.HERTZ)).isEqualTo("1 kHz");
        assertThat(Quantity.brief(0, Unit.VOLT)).isEqualTo("0 V");
        assertThat(Quantity.brief(Double.NaN, Unit.VOLT)).isEqualTo("NaN V");
    }
}
