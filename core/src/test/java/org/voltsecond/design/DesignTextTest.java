package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.design.RailDesign.DesignText;
import org.voltsecond.sizing.Span;
import org.voltsecond.units.Unit;

class DesignTextTest {
    @ParameterizedTest
    @CsvSource({"0.00123, 0.002", "0.002, 0.002", "0.00951, 0.01", "31.4, 40", "1e-9, 1e-9"})
    void durationsAreRoundedUpToOneDigit(double value, double expected) {
        assertThat(DesignText.roundedUp(value)).isEqualTo(expected);
    }

    @ParameterizedTest
    @CsvSource({"6694.49, 6694", "6694.51, 6695", "134512, 134500", "0.000123456, 0.0001235", "28240, 28240"})
    void valuesAreRoundedToFourDigits(double value, double expected) {
        assertThat(DesignText.rounded(value)).isEqualTo(expected);
    }

    @Test
    void rangesAreWrittenFromTheLowEnd() {
        Span range = new Span(9, 15);
        assertThat(DesignText.range(range, Unit.VOLT)).isEqualTo("9 V to 15 V");
        assertThat(DesignText.ends(range, Unit.VOLT)).isEqualTo("from = \"9 V\", to = \"15 V\"");
    }
}
