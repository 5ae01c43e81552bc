package org.voltsecond.engine;

/**
 * One step of a walk through a long interval, kept so that any form can be read off it without walking again.
 *
 * @param offset start of the segment, s since the start of the interval
 * @param length length of the segment, s
 * @param interpolated whether the states are those at the nodes of an interpolation polynomial, not the one at the start
 * @param states scaled states, never written after construction
 */
record Segment(double offset, double length, boolean interpolated, double[] states) {
    /** A form over the segment of an interval that starts at {@code start}, {@code sinceTick} after a clock edge. */
    Piece piece(GuardRows form, double start, double sinceTick) {
        double unit = interpolated ? length : form.flow.base;
        double[] coefficients;
        if (interpolated) {
            coefficients = new double[Ladder.DEGREE + 1];
            Walk.interpolate(form, states, sinceTick + offset, length, new double[Ladder.DEGREE + 1], coefficients);
        } else {
            coefficients = new double[Math.max(2, form.flow.degree + 1)];
            form.polynomial(states, sinceTick + offset, unit, coefficients);
        }
        if (length != unit) {
            rescale(coefficients, length / unit);
        }
        return Piece.ofUnsafe(start + offset, length, coefficients);
    }

    private static void rescale(double[] coefficients, double ratio) {
        double power = 1;
        for (int k = 0; k < coefficients.length; k++) {
            coefficients[k] *= power;
            power *= ratio;
        }
    }
}
