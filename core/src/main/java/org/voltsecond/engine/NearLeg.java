package org.voltsecond.engine;

/**
 * The flow over durations close to one that was worked out before: first over the fixed part, then by a short Taylor
 * polynomial over the small rest. In a periodic regime the time of an event hardly moves from one period to the next,
 * and this takes a fraction of the time of the full polynomial. A named numeric kernel.
 */
final class NearLeg {
    private static final int DEGREE = 4;
    /**
     * Largest norm of A times the rest: the first term left out, this to the fifth over 120, is then below 1e-17 of the
     * state.
     */
    private static final double NEAR = 1e-3;

    private final Flow flow;
    private final int n;
    /** The fixed part, in bases of the flow. */
    final double reference;

    private final Leg leg;
    private final double reach;
    private final double[] middle;

    NearLeg(Flow flow, double reference) {
        this.flow = flow;
        this.reference = reference;
        n = flow.n;
        leg = Leg.of(flow, reference * flow.base);
        reach = flow.norm == 0 ? Double.POSITIVE_INFINITY : NEAR / (flow.norm * flow.base);
        middle = new double[n];
    }

    boolean reaches(double u) {
        return Math.abs(u - reference) <= reach;
    }

    /** Writes the state at fraction {@code u} of the base, which must be within reach. */
    void stateAt(double[] z, double u, double[] into) {
        leg.move(z, middle);
        flow.shortStep(middle, u - reference, DEGREE, into);
    }

    /**
     * Finds where a guard that falls steadily crosses zero, and the state there.
     *
     * @return the place in bases of the flow; NaN if it is out of reach or not found at once
     */
    double crossing(GuardRows guard, double[] z, double sinceTick, double[] into) {
        leg.move(z, middle);
        int width = n + 1;
        double c0 = guard.at(0, middle) + guard.slope * (sinceTick + reference * flow.base);
        double c1 = guard.at(width, middle) + guard.slope * flow.base;
        int terms = guard.rows.length / width;
        double c2 = terms > 2 ? guard.at(2 * width, middle) : 0;
        double c3 = terms > 3 ? guard.at(3 * width, middle) : 0;
        double c4 = terms > 4 ? guard.at(4 * width, middle) : 0;
        double d = -c0 / c1;
        if (!(Math.abs(d) <= reach)) {
            return Double.NaN;
        }
        for (int i = 0; i < 3; i++) {
            double value = c0 + d * (c1 + d * (c2 + d * (c3 + d * c4)));
            double step = value / (c1 + d * (2 * c2 + d * (3 * c3 + d * 4 * c4)));
            d -= step;
            if (Math.abs(step) <= 0x1p-28 * Math.abs(d) || Math.abs(step) <= 0x1p-54 * reference) {
                flow.shortStep(middle, d, DEGREE, into);
                return Math.abs(d) <= reach ? reference + d : Double.NaN;
            }
        }
        return Double.NaN;
    }
}
