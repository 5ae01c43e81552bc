package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Expected values are Java literals, which the compiler rounds correctly (Java Language Specification 3.10.2). */
class QuantityParsingTest {

    @ParameterizedTest
    @CsvSource({
        "22 \u00B5H, HENRY, 22e-6",
        "22 \u03BCH, HENRY, 22e-6",
        "22uH, HENRY, 22e-6",
        "33 \u00B5H, HENRY, 33e-6",
        "80 m\u03A9, OHM, 80e-3",
        "80 m\u2126, OHM, 80e-3",
        "80 mohm, OHM, 80e-3",
        "4.7 kOhm, OHM, 4700",
        "2.5 \u03A9, OHM, 2.5",
        "47 \u00B5F, FARAD, 47e-6",
        "470pF, FARAD, 470e-12",
        "10 fF, FARAD, 10e-15",
        "300 kHz, HERTZ, 300e3",
        "2.2 MHz, HERTZ, 2.2e6",
        "1 GHz, HERTZ, 1e9",
        "1 THz, HERTZ, 1e12",
        "1e-3 s, SECOND, 1e-3",
        "5ms, SECOND, 5e-3",
        "33 ns, SECOND, 33e-9",
        "-5 V, VOLT, -5",
        "\u22125 V, VOLT, -5",
        "+.5 V, VOLT, 0.5",
        "5. V, VOLT, 5",
        "0 V, VOLT, 0",
        "10 W, WATT, 10",
        "40 \u00B5J, JOULE, 40e-6",
        "3 nC, COULOMB, 3e-9",
        "12 \u00B5Vs, VOLT_SECOND, 12e-6",
        "12 \u00B5V\u00B7s, VOLT_SECOND, 12e-6",
        "0.1 V/A, VOLT_PER_AMPERE, 0.1",
        "100 mV/A, VOLT_PER_AMPERE, 0.1",
        "50 mA/\u00B5s, AMPERE_PER_SECOND, 50e3",
        "50 mA/us, AMPERE_PER_SECOND, 50e3",
        "0.3 V/\u00B5s, VOLT_PER_SECOND, 0.3e6",
        "1500 1/s, PER_SECOND, 1500",
        "1.5/ms, PER_SECOND, 1500",
        "0.45, ONE, 0.45",
    })
    void readsWhatPeopleWrite(String text, Unit unit, double expected) {
        assertThat(Quantity.parse(text, unit)).isEqualTo(expected);
    }

    @ParameterizedTest
    @ValueSource(strings = {" 22 \u00B5H ", "22\u00A0\u00B5H", "22\u202F\u00B5H", "22\u2009\u00B5H", "22\t\u00B5H"})
    void takesAnySpaceBeforeTheUnit(String text) {
        assertThat(Quantity.parse(text, Unit.HENRY)).isEqualTo(22e-6);
    }

    /** 0.1 + 0.2 style: many digits, one rounding. The literal has the same digits. */
    @Test
    void roundsOnce() {
        assertThat(Quantity.parse("1234567.89012345678901 \u00B5H", Unit.HENRY)).isEqualTo(1.23456789012345678901);
        assertThat(Quantity.parse("9007199254740993 mV", Unit.VOLT)).isEqualTo(9007199254740.993);
    }

    @Test
    void namesWhatWasGivenWhereAnotherUnitIsWanted() {
        assertFault(
                "22 mF",
                Unit.HENRY,
                "\"22 mF\" is a capacitance; valid is an inductance: a number with the unit H,"
                        + " for example \"22 \u00B5H\"");
        assertFault("0.1 V/A", Unit.OHM, "\"0.1 V/A\" is a sensing gain; valid is a resistance");
        assertFault("0.45 V", Unit.ONE, "\"0.45 V\" is a voltage; valid is a plain number: a number without a unit");
    }

    @Test
    void tellsMilliFromMega() {
        assertThat(Quantity.parse("22 mH", Unit.HENRY)).isEqualTo(22e-3);
        assertThat(Quantity.parse("22 MH", Unit.HENRY)).isEqualTo(22e6);
    }

    @Test
    void hintsAtCapitals() {
        assertFault("300 Khz", Unit.HERTZ, "\"300 Khz\" has an unknown unit (did you mean \"kHz\"?");
        assertFault("22 \u03BCh", Unit.HENRY, "(did you mean \"\u00B5H\"?");
    }

    @Test
    void saysWhenTheUnitIsMissingOrUnknown() {
        assertFault("22", Unit.HENRY, "\"22\" has no unit");
        assertFault("22 furlong", Unit.HENRY, "\"22 furlong\" has an unknown unit; valid");
        assertFault("22 \u00B5", Unit.HENRY, "has an unknown unit");
        assertFault("22 mmH", Unit.HENRY, "has an unknown unit");
        assertFault("22 V/A/s", Unit.HENRY, "has an unknown unit");
        assertFault("1 k1/s", Unit.PER_SECOND, "has an unknown unit");
        assertFault("2,2 \u00B5H", Unit.HENRY, "decimal comma");
    }

    @ParameterizedTest
    @ValueSource(strings = {"NaN", "nan H", "Infinity", "-inf H", "\u221E H", "-\u221E"})
    void refusesWhatIsNotFinite(String text) {
        assertFault(text, Unit.HENRY, "is not a finite number");
    }

    @Test
    void refusesWhatADoubleCannotHold() {
        assertFault("1e400 H", Unit.HENRY, "\"1e400 H\" is too large");
        assertFault("-1e306 kH", Unit.HENRY, "is too large");
        assertFault("1e-400 H", Unit.HENRY, "is too small to be distinguished from zero");
        assertFault("1e-999999 fH", Unit.HENRY, "is too small to be distinguished from zero");
        assertThat(Quantity.parse("0e-400 H", Unit.HENRY)).isZero();
    }

    @ParameterizedTest
    @ValueSource(strings = {"H", "abc", "\u00B5H 22", "e5 H", ". H", "--5 H", "+ 5 H", "5\nH", "information"})
    void refusesWhatIsNoNumber(String text) {
        assertFault(text, Unit.HENRY, "does not read as a number followed by a unit");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", " ", "\t\n"})
    void refusesNothing(String text) {
        assertFault(text, Unit.HENRY, "nothing is written; valid is an inductance");
    }

    @Test
    void keepsTheMessageShortAndOnOneLine() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Quantity.parse("7\u0000\n".repeat(10_000), Unit.HENRY))
                .satisfies(fault -> assertThat(fault.getMessage())
                        .hasSizeLessThan(200)
                        .doesNotContain("\n")
                        .contains("is longer than 100 characters"));
    }

    private static void assertFault(String text, Unit unit, String message) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Quantity.parse(text, unit))
                .withMessageContaining(message)
                .withMessageContaining("for example");
    }
}
