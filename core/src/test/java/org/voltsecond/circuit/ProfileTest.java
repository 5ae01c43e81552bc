package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** Sources over time. */
class ProfileTest {
    private static final Profile PROFILE =
            Profile.constant(12).stepTo(1, 15).rampTo(2, 4, 9).rampTo(4, 5, 10);

    @Test
    void valuesJustAfter() {
        assertThat(PROFILE.valueAt(0)).isEqualTo(12);
        assertThat(PROFILE.valueAt(0.999)).isEqualTo(12);
        assertThat(PROFILE.valueAt(1)).isEqualTo(15);
        assertThat(PROFILE.valueAt(2)).isEqualTo(15);
        assertThat(PROFILE.valueAt(3)).isEqualTo(12);
        assertThat(PROFILE.valueAt(4)).isEqualTo(9);
        assertThat(PROFILE.valueAt(4.5)).isEqualTo(9.5);
        assertThat(PROFILE.valueAt(100)).isEqualTo(10);
    }

    @Test
    void slopesJustAfter() {
        assertThat(PROFILE.slopeAt(1)).isZero();
        assertThat(PROFILE.slopeAt(2)).isEqualTo(-3);
        assertThat(PROFILE.slopeAt(4)).isEqualTo(1);
        assertThat(PROFILE.slopeAt(5)).isZero();
    }

    @Test
    void changesAndRamps() {
        assertThat(PROFILE.changes()).containsExactly(1.0, 2.0, 4.0, 5.0);
        assertThat(PROFILE.ramps()).isTrue();
        assertThat(Profile.constant(3).stepTo(0, 4).changes()).isEmpty();
        assertThat(Profile.constant(3).stepTo(0, 4).valueAt(0)).isEqualTo(4);
        assertThat(Profile.constant(3).stepTo(1, 4).ramps()).isFalse();
    }

    @Test
    void equalByValue() {
        assertThat(Profile.constant(3).stepTo(1, 4))
                .isEqualTo(Profile.constant(3).stepTo(1, 4))
                .isNotEqualTo(PROFILE);
    }
}
