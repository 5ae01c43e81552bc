package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The bounds of polynomials by which the kernel decides what is certain. */
class UnitPolynomialTest {
    private static final int DEGREE = 5;

    @Test
    void boundsHoldEverywhere() {
        Random random = new Random(3);
        for (int trial = 0; trial < 2000; trial++) {
            double[] curve = new double[DEGREE + 1];
            for (int k = 0; k <= DEGREE; k++) {
                curve[k] = (2 * random.nextDouble() - 1) / (1 + k * k);
            }
            double least = UnitPolynomial.least(curve, DEGREE);
            double reach = UnitPolynomial.reach(curve, DEGREE);
            boolean rises = UnitPolynomial.rises(curve, DEGREE);
            for (int k = 0; k <= 100; k++) {
                double value = UnitPolynomial.at(curve, DEGREE, k / 100.0);
                assertThat(value).isBetween(least - 1e-15, reach + 1e-15);
                assertThat(Math.abs(value)).isLessThanOrEqualTo(reach + 1e-15);
                assertThat(!rises || UnitPolynomial.slopeAt(curve, DEGREE, k / 100.0) > 0)
                        .isTrue();
            }
        }
    }

    @Test
    void aParabolaReachesItsBounds() {
        assertThat(UnitPolynomial.least(new double[] {0, -1, 1}, 2)).isEqualTo(-0.25);
        assertThat(UnitPolynomial.rises(new double[] {0, 1, -0.6}, 2)).isFalse();
        assertThat(UnitPolynomial.rises(new double[] {0, 1, -0.4}, 2)).isTrue();
    }

    @Test
    void aChangeKeepsItsDigitsBesideALargeStart() {
        double[] curve = {1e6, 1e-12, 2e-12};
        assertThat(UnitPolynomial.change(curve, 2, 1)).isCloseTo(3e-12, within(1e-26));
        assertThat(UnitPolynomial.change(curve, 2, 0.5)).isCloseTo(1e-12, within(1e-26));
    }
}
