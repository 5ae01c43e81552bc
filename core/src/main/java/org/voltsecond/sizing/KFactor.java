package org.voltsecond.sizing;

import org.voltsecond.control.Compensator;
import org.voltsecond.numeric.Complex;

/**
 * A compensator whose phase is highest at one frequency: its zeros lie as far below as its poles lie above. By the K factor
 * of H. D. Venable, The K factor: a new mathematical tool for stability analysis and synthesis, Powercon 10, 1983 (from
 * memory): type I has K = 1, type II K = tan(B/2 + 45 degrees), type III K = tan(B/4 + 45 degrees)^2 for a phase of B above
 * that of an integrator.
 *
 * @param type 1, 2 or 3: one more than the pairs of a zero and a pole
 * @param integratorGain 1/s
 * @param zero of each pair, Hz; not a number for none
 * @param pole of each pair, Hz; not a number for none
 */
record KFactor(int type, double integratorGain, double zero, double pole) {
    /** One pair reaches 90 degrees with a pole at infinity only; common practice, no source. */
    private static final double MOST_OF_ONE_PAIR = 65;

    /** The same of two pairs. */
    static final double MOST_BOOST = 160;

    /**
     * Returns the compensator.
     *
     * @param frequency where its phase is highest, Hz
     * @param boost phase there above that of an integrator, degrees; at most {@link #MOST_BOOST}, 0 or less for type I
     * @param magnitude there
     */
    static KFactor of(double frequency, double boost, double magnitude) {
        double angular = 2 * StrictMath.PI * frequency;
        if (!(boost > 0)) {
            return new KFactor(1, magnitude * angular, Double.NaN, Double.NaN);
        }
        int pairs = boost <= MOST_OF_ONE_PAIR ? 1 : 2;
        // a pair from zero f/r to pole f r has the magnitude r at f, and the phase 2 atan(r) - 90 degrees
        double ratio = StrictMath.tan(StrictMath.toRadians(boost / (2 * pairs) + 45));
        double gain = magnitude * angular / (pairs == 1 ? ratio : ratio * ratio);
        return new KFactor(1 + pairs, gain, frequency / ratio, frequency * ratio);
    }

    Compensator compensator() {
        return switch (type) {
            case 1 -> Compensator.type1(integratorGain);
            case 2 -> Compensator.type2(integratorGain, zero, pole);
            default -> Compensator.type3(integratorGain, zero, zero, pole, pole);
        };
    }

    Complex at(double frequency) {
        Complex value = new Complex(0, -integratorGain / (2 * StrictMath.PI * frequency));
        Complex pair = new Complex(1, frequency / zero).divide(new Complex(1, frequency / pole));
        for (int k = 1; k < type; k++) {
            value = value.multiply(pair);
        }
        return value;
    }
}
