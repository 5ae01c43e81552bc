package org.voltsecond.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import org.junit.jupiter.api.Test;

class ProvenanceTest {
    private static final Instant NOW = Instant.parse("2026-11-27T23:59:59Z");

    /** The value of the standard (FIPS 180-4, example of one block): SHA-256 of "abc". */
    @Test
    void theHashIsThatOfTheText() {
        assertThat(Provenance.of("abc", null, NOW).designHash().get())
                .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assertThat(Provenance.of("", null, NOW).designHash().reason()).isEqualTo("there is no design file");
    }

    @Test
    void theDayIsThatOfTheRunUnlessTheEnvironmentSaysAnother() {
        assertThat(Provenance.of("", null, NOW).date().get()).isEqualTo(LocalDate.of(2026, 11, 27));
        assertThat(Provenance.of("", "0", NOW).date().get()).isEqualTo(LocalDate.of(1970, 1, 1));
        assertThat(Provenance.of("", " 1700000000\n", NOW).date().get()).isEqualTo(LocalDate.of(2023, 11, 14));
        assertThat(Provenance.of("", "yesterday", NOW).date().reason()).contains("not a number of seconds");
        assertThat(Provenance.of("", "999999999999999999", NOW).date().exists()).isFalse();
    }
}
