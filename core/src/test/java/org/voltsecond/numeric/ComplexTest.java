package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Complex numbers, held against those of Hipparchus. */
class ComplexTest {
    /** A few units in the last place of the larger part. */
    private static final double ROUNDING = 1e-15;

    private static void same(Complex ours, org.hipparchus.complex.Complex theirs) {
        double scale = Math.max(theirs.norm(), Double.MIN_NORMAL);
        assertThat(Math.hypot(ours.real() - theirs.getReal(), ours.imaginary() - theirs.getImaginary()) / scale)
                .isLessThan(4 * ROUNDING);
    }

    @Test
    void everyOperationAgreesWithHipparchus() {
        Random random = new Random(20);
        for (int trial = 0; trial < 1000; trial++) {
            double size = StrictMath.pow(10, random.nextInt(200) - 100);
            double a = size * random.nextGaussian();
            double b = size * random.nextGaussian();
            double c = size * random.nextGaussian();
            double d = trial % 10 == 0 ? 0 : size * random.nextGaussian();
            Complex x = new Complex(a, b);
            Complex y = new Complex(c, d);
            var p = new org.hipparchus.complex.Complex(a, b);
            var q = new org.hipparchus.complex.Complex(c, d);
            same(x.add(y), p.add(q));
            same(x.subtract(y), p.subtract(q));
            same(x.multiply(y), p.multiply(q));
            same(x.divide(y), p.divide(q));
            same(y.reciprocal(), q.reciprocal());
            same(x.add(c), p.add(c));
            same(x.subtract(c), p.subtract(c));
            same(x.multiply(c), p.multiply(c));
            same(x.divide(c), p.divide(c));
            same(x.negate().conjugate(), p.negate().conjugate());
            same(x.divide(size).exp(), p.divide(size).exp());
            assertThat(x.magnitude()).isCloseTo(p.norm(), within(ROUNDING * p.norm()));
            assertThat(x.argument()).isCloseTo(p.getArgument(), within(4 * ROUNDING));
            same(Complex.polar(x.magnitude(), x.argument()), p);
        }
    }

    @Test
    void divisionSurvivesSquaresThatOverflow() {
        assertThat(new Complex(1e300, 1e300).divide(new Complex(1e300, 1e300))).isEqualTo(Complex.ONE);
        assertThat(Complex.I.divide(new Complex(0, 2))).isEqualTo(Complex.of(0.5));
        assertThat(Complex.ONE.divide(Complex.ZERO).isFinite()).isFalse();
    }
}
