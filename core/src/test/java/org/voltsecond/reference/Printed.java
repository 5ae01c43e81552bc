package org.voltsecond.reference;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;

/**
 * A number with the digits that a source prints, so that a test can ask for agreement to exactly those digits.
 *
 * <p>Letters beside the tests say where a number comes from: S = seen in the published document or in open companion code
 * of the book; S-p = partly seen, the rest from memory; M = from memory of the literature; C = computed for this project
 * in double precision, not published.
 */
public final class Printed {
    private final BigDecimal digits;

    private Printed(String digits) {
        this.digits = new BigDecimal(digits);
    }

    /** The number with the digits as printed, for example "0.480" or "1.5e-6". */
    public static Printed of(String digits) {
        return new Printed(digits);
    }

    public double value() {
        return digits.doubleValue();
    }

    /** Half a unit in the last printed digit, and the rounding of the doubles around it. */
    public double halfUnit() {
        return 0.5 * digits.ulp().doubleValue() * (1 + 1e-9);
    }

    /** Asks for agreement to the printed digits. */
    public static void assertPrinted(String what, double actual, String digits) {
        Printed printed = of(digits);
        assertThat(actual).as(what).isCloseTo(printed.value(), within(printed.halfUnit()));
    }

    /**
     * Asks for agreement with a published number that rests on a small-ripple formula: as close as the exact value itself
     * is to the formula, and the digits that were printed.
     *
     * @param what what is compared
     * @param actual the simulated value
     * @param published the digits that the source prints
     * @param formula value of the textbook's formula
     * @param exact value of the exact steady state
     */
    public static void assertPublished(String what, double actual, String published, double formula, double exact) {
        Printed printed = of(published);
        assertThat(actual)
                .as(what + ", published " + published)
                .isCloseTo(printed.value(), within(Math.abs(exact - formula) * (1 + 1e-9) + printed.halfUnit()));
    }
}
