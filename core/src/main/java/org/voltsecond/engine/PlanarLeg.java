package org.voltsecond.engine;

/** A {@link Leg} of two states with all its factors in fields, which is the quickest form. A named numeric kernel. */
final class PlanarLeg extends Leg {
    private final double c00;
    private final double c01;
    private final double c0;
    private final double c10;
    private final double c11;
    private final double c1;
    private final Bound[] bounds;

    /** One guard: its form and its slope, and the factors of the most by which it can sag below its chord. */
    private static final class Bound {
        final double form0;
        final double form1;
        final double constant;
        final double slope;
        final double sag0;
        final double sag1;
        final double sag;
        final double sagOfTime;

        Bound(Leg leg, int g) {
            int at = 3 * g;
            form0 = leg.form[at];
            form1 = leg.form[at + 1];
            constant = leg.form[at + 2];
            slope = leg.slope[g];
            sag0 = leg.sag[at];
            sag1 = leg.sag[at + 1];
            sag = leg.sag[at + 2];
            sagOfTime = Flow.TOLERANCE * Math.abs(slope);
        }
    }

    PlanarLeg(Flow flow, double duration) {
        super(flow, duration);
        c00 = change[0];
        c01 = change[1];
        c0 = change[2];
        c10 = change[3];
        c11 = change[4];
        c1 = change[5];
        bounds = new Bound[slope.length];
        for (int g = 0; g < bounds.length; g++) {
            bounds[g] = new Bound(this, g);
        }
    }

    @Override
    boolean advance(double[] z, double sinceTick, double[] into) {
        double z0 = z[0];
        double z1 = z[1];
        double end0 = z0 + (c00 * z0 + c01 * z1 + c0);
        double end1 = z1 + (c10 * z0 + c11 * z1 + c1);
        into[0] = end0;
        into[1] = end1;
        double last = sinceTick + duration;
        boolean clear = Math.abs(end0) + Math.abs(end1) < Double.POSITIVE_INFINITY;
        for (Bound guard : bounds) {
            double atStart = guard.form0 * z0 + guard.form1 * z1 + (guard.constant + guard.slope * sinceTick);
            double atEnd = guard.form0 * end0 + guard.form1 * end1 + (guard.constant + guard.slope * last);
            double bound = guard.sag0 * Math.abs(z0) + guard.sag1 * Math.abs(z1) + (guard.sag + guard.sagOfTime * last);
            if (!(atStart > bound && atEnd > bound)) {
                clear = false;
            }
        }
        return clear;
    }
}
