package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** The Java compiler rounds a literal correctly (Java Language Specification 3.10.2): it is the reference here. */
class SiTest {

    @Test
    void isTheLiteralBitForBit() {
        assertThat(Si.femto(3)).isEqualTo(3e-15);
        assertThat(Si.pico(470)).isEqualTo(470e-12);
        assertThat(Si.nano(33)).isEqualTo(33e-9);
        assertThat(Si.micro(22)).isEqualTo(22e-6);
        assertThat(Si.milli(80)).isEqualTo(80e-3);
        assertThat(Si.kilo(300)).isEqualTo(300e3);
        assertThat(Si.mega(2.2)).isEqualTo(2.2e6);
        assertThat(Si.giga(1)).isEqualTo(1e9);
    }

    /** Why the small prefixes divide: 1e-6 is not exact, and its error shows. */
    @Test
    void multiplyingByTheReciprocalWouldNotDo() {
        assertThat(33 * 1e-6).isNotEqualTo(33e-6);
        assertThat(Si.micro(33)).isEqualTo(33e-6);
    }

    @Property
    void wholeNumbersAreCorrectlyRounded(@ForAll @IntRange(min = -1_000_000, max = 1_000_000) int number) {
        assertThat(Si.femto(number)).isEqualTo(literal(number, -15));
        assertThat(Si.pico(number)).isEqualTo(literal(number, -12));
        assertThat(Si.nano(number)).isEqualTo(literal(number, -9));
        assertThat(Si.micro(number)).isEqualTo(literal(number, -6));
        assertThat(Si.milli(number)).isEqualTo(literal(number, -3));
        assertThat(Si.kilo(number)).isEqualTo(literal(number, 3));
        assertThat(Si.mega(number)).isEqualTo(literal(number, 6));
        assertThat(Si.giga(number)).isEqualTo(literal(number, 9));
    }

    private static double literal(int number, int exponent) {
        return Double.parseDouble(number + "e" + exponent);
    }
}
