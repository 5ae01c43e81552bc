package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.numeric.UnitPolynomial;

/** What a compensator makes of an error that repeats itself, against closed forms. */
class CompensatorRippleTest {
    private static final double HALF = 2e-6;
    private static final double GAIN = 3000;
    private static final double ZERO = 4000;
    private static final double POLE = 90e3;

    private static double[][] square() {
        double[][] curve = new double[2][Regulator.SensedPeriod.HIGHEST_DEGREE + 2];
        curve[0][0] = 1;
        curve[1][0] = -1;
        return curve;
    }

    /** Of a square wave of 1 V a lag makes 1 - (1 + tanh(p h / 2)) exp(-p t), over the half period h, and the same downwards. */
    private static double lag(double pole, double t) {
        double p = 2 * Math.PI * pole;
        return 1 - (1 + Math.tanh(p * HALF / 2)) * Math.exp(-p * t);
    }

    @Test
    void aSquareWaveThroughOneLagIsThatOfTheClosedForm() {
        double[][] curve = square();
        int[] degree = new int[2];
        Compensator type2 = Compensator.type2(GAIN, ZERO, POLE);
        assertThat(type2.rateOf(new double[] {HALF, HALF}, curve, degree)).isTrue();
        double direct = POLE / ZERO;
        for (double u : new double[] {0, 0.1, 0.5, 1}) {
            double expected = GAIN * (direct + (1 - direct) * lag(POLE, u * HALF));
            assertThat(UnitPolynomial.at(curve[0], degree[0], u)).isCloseTo(expected, within(1e-9 * GAIN));
            assertThat(UnitPolynomial.at(curve[1], degree[1], u)).isCloseTo(-expected, within(1e-9 * GAIN));
        }
    }

    /** Two lags of different poles: by partial fractions of the product of (d + (1 - d) p / (s + p)). */
    @Test
    void aSquareWaveThroughTwoLagsIsTheSumOfTheirs() {
        double second = 40e3;
        double[][] curve = square();
        int[] degree = new int[2];
        Compensator type3 = Compensator.type3(GAIN, ZERO, ZERO, POLE, second);
        assertThat(type3.rateOf(new double[] {HALF, HALF}, curve, degree)).isTrue();
        double a = POLE / ZERO;
        double b = second / ZERO;
        double ofFirst = b * (1 - a) - (1 - a) * (1 - b) * second / (POLE - second);
        double ofSecond = a * (1 - b) + (1 - a) * (1 - b) * POLE / (POLE - second);
        for (double u : new double[] {0, 0.3, 1}) {
            double t = u * HALF;
            double expected = GAIN * (a * b + ofFirst * lag(POLE, t) + ofSecond * lag(second, t));
            assertThat(UnitPolynomial.at(curve[0], degree[0], u)).isCloseTo(expected, within(1e-9 * GAIN));
        }
    }

    @Test
    void whatCannotBeToldIsNotTold() {
        double[] long4 = {HALF * 4, HALF * 4};
        assertThat(Compensator.type2(GAIN, ZERO, POLE).rateOf(long4, square(), new int[2]))
                .isTrue();
        double[] long8 = {HALF * 8, HALF * 8};
        assertThat(Compensator.type2(GAIN, ZERO, POLE).rateOf(long8, square(), new int[2]))
                .as("too many time constants for one polynomial")
                .isFalse();
        assertThat(Compensator.type2(GAIN, ZERO, 1e-3).rateOf(long4, square(), new int[2]))
                .as("a lag that a period hardly brings back")
                .isFalse();
        assertThat(Compensator.proportional(2).rateOf(long4, square(), new int[2]))
                .as("no integrator")
                .isFalse();
    }
}
