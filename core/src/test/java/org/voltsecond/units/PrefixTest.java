package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PrefixTest {

    @ParameterizedTest
    @CsvSource({
        "22e-6, MICRO", "1e-6, MICRO", "999e-9, NANO", "-0.03, MILLI", "1, NONE", "999, NONE", "1000, KILO",
        "1e6, MEGA", "3e9, GIGA", "1e30, TERA", "1e-30, FEMTO", "0, NONE", "NaN, NONE", "-Infinity, NONE",
    })
    void fitsTheMagnitude(double magnitude, Prefix expected) {
        assertThat(Prefix.of(magnitude)).isEqualTo(expected);
    }

    @Test
    void goesBothWays() {
        assertThat(Prefix.MICRO.in(22e-6)).isEqualTo(22);
        assertThat(Prefix.MICRO.times(22)).isEqualTo(22e-6);
        assertThat(Prefix.KILO.in(300e3)).isEqualTo(300);
        assertThat(Prefix.MICRO.symbol()).isEqualTo("\u00B5");
    }
}
