package org.voltsecond.characteristic;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.RootSearch;

/**
 * What a rectifier has beyond a forward drop and a resistance: a forward curve of several segments, and a charge that has to leave
 * before it blocks. Immutable.
 *
 * <pre>{@code
 * Junction curved = Junction.ofCurve(new Junction.Point(0.1, 0.45), new Junction.Point(1, 0.6), new Junction.Point(3, 0.75));
 * double volt = curved.voltageAt(0.45, 2); // 0.675 V: half the way between the last two points
 * Junction slow = curved.withRecovery(new Junction.Recovery(nano(60), nano(15))); // lifetime and transit time, s
 * Junction.Recovery fromDataSheet = Junction.Recovery.ofDataSheet(10, mega(100), 2.5, nano(60)); // A, A/s, A, C
 * double peak = fromDataSheet.peakCurrent(10, mega(100)); // 2.5 A
 * }</pre>
 *
 * @param forwardCurve points of the data sheet's forward curve by ascending current, none for a straight line: at no current the
 *     voltage is the forward drop, from there on it goes straight from point to point, and beyond the last as before it; the
 *     rectifier's resistance comes on top
 * @param recovery its stored charge; null if it blocks at once
 */
public record Junction(List<Point> forwardCurve, @Nullable Recovery recovery) {
    /** Neither: forward drop and resistance are all. */
    public static final Junction IDEAL = new Junction(List.of(), null);

    /**
     * Copies the list.
     *
     * @param forwardCurve points of the forward curve by ascending current
     * @param recovery its stored charge; null if it blocks at once
     */
    public Junction {
        forwardCurve = List.copyOf(forwardCurve);
    }

    /**
     * A point of a forward curve.
     *
     * @param current A; more than 0
     * @param voltage V; not less than that of the point before
     */
    public record Point(double current, double voltage) {}

    /**
     * A stored charge, by the lumped-charge model: charge comes into the junction with the current, is swept to a store and
     * recombines there. While the junction conducts, the stored charge q follows {@code dq/dt = i - q / lifetime}; it goes on
     * conducting, with a current that flows backwards, until that current is {@code q / transit time}. From there on the current is
     * what the store gives, and dies out with the {@link #timeConstant()}.
     *
     * <p>Source: P. O. Lauritzen and C. L. Ma, "A simple diode model with reverse recovery", IEEE Transactions on Power
     * Electronics 6(2), 1991 (from memory); the junction's law is piecewise linear here, in place of an exponential.
     *
     * @param lifetime for which a charge lasts, s; more than 0. A steady forward current stores the charge current times lifetime
     * @param transitTime for which a charge is on its way, s; more than 0
     */
    public record Recovery(double lifetime, double transitTime) {
        /** Beyond these ratios of lifetime to transit time a rectifier does not recover, or does nothing else. */
        private static final double LEAST_SHARE = 1e-6;

        private static final double LARGEST_SHARE = 1e6;

        /**
         * The one that a data sheet's recovery tells.
         *
         * @param forwardCurrent from which the current falls, A; more than 0
         * @param slope at which it falls, A/s; more than 0
         * @param peakCurrent largest current backwards, A; more than 0
         * @param charge what flows backwards in all, C; more than that which has flowed when the current is at its peak,
         *     {@code peakCurrent^2 / (2 slope)}
         * @return the recovery that has this peak and charge
         * @throws IllegalArgumentException if a value is out of its range, or no lifetime gives that peak
         */
        public static Recovery ofDataSheet(double forwardCurrent, double slope, double peakCurrent, double charge) {
            double tail = (charge - peakCurrent * peakCurrent / (2 * slope)) / peakCurrent;
            double ramp = (forwardCurrent + peakCurrent) / slope;
            if (!(forwardCurrent > 0 && slope > 0 && peakCurrent > 0 && tail > 0 && Double.isFinite(tail + ramp))) {
                throw new IllegalArgumentException(
                        "a recovery needs a forward current, a slope and a peak current above 0, and "
                                + "a charge above peak^2 / (2 slope) = " + peakCurrent * peakCurrent / (2 * slope)
                                + " C, but was "
                                + forwardCurrent + " A, " + slope + " A/s, " + peakCurrent + " A and " + charge + " C");
            }
            if (!(missing(LARGEST_SHARE, tail, ramp, slope, peakCurrent) > 0)) {
                throw new IllegalArgumentException("no stored charge gives a peak of " + peakCurrent + " A at " + slope
                        + " A/s with such a tail: a longer tail, that is more charge than " + charge
                        + " C, or a smaller peak is possible");
            }
            double share = RootSearch.between(
                    x -> missing(x, tail, ramp, slope, peakCurrent), LEAST_SHARE, LARGEST_SHARE, 1e-15 * LEAST_SHARE);
            return new Recovery(tail * (1 + share), tail * (1 + 1 / share));
        }

        /** By how much the peak is larger than wanted, for a ratio of lifetime to transit time. */
        private static double missing(double share, double tail, double ramp, double slope, double peakCurrent) {
            double lifetime = tail * (1 + share);
            return slope * (lifetime - tail) * -StrictMath.expm1(-ramp / lifetime) - peakCurrent;
        }

        /** {@return lifetime over transit time: the current backwards, at most, of a junction over the current that has filled it} */
        public double share() {
            return lifetime / transitTime;
        }

        /** {@return with which the current dies out once the junction blocks, s} */
        public double timeConstant() {
            return lifetime * transitTime / (lifetime + transitTime);
        }

        /**
         * Returns the largest current backwards after a current that has flowed for long falls at a constant slope (eq. from the
         * model's equations by hand: the charge at a ramp, held against transit time times current).
         *
         * @param forwardCurrent from which it falls, A; 0 or more
         * @param slope A/s; more than 0
         * @return A
         */
        public double peakCurrent(double forwardCurrent, double slope) {
            double tail = timeConstant();
            double rise = slope * (lifetime - tail);
            return RootSearch.between(
                    x -> x + rise * StrictMath.expm1(-(forwardCurrent + x) / (slope * lifetime)),
                    0,
                    rise,
                    1e-16 * rise);
        }

        /**
         * Returns the charge that flows backwards then.
         *
         * @param forwardCurrent from which the current falls, A; 0 or more
         * @param slope A/s; more than 0
         * @return C
         */
        public double charge(double forwardCurrent, double slope) {
            double peak = peakCurrent(forwardCurrent, slope);
            return peak * peak / (2 * slope) + peak * timeConstant();
        }
    }

    /**
     * Returns a junction with a forward curve.
     *
     * @param points by ascending current
     * @return a junction without stored charge
     */
    public static Junction ofCurve(Point... points) {
        return new Junction(List.of(points), null);
    }

    /**
     * Returns this junction with a stored charge.
     *
     * @param to the recovery
     * @return the junction
     */
    public Junction withRecovery(Recovery to) {
        return new Junction(forwardCurve, to);
    }

    /** {@return in how many straight lines the forward curve lies; the first begins at no current} */
    public int segments() {
        return Math.max(1, forwardCurve.size());
    }

    /**
     * Returns where a segment ends and the next begins.
     *
     * @param segment from 0 to two less than the number of segments
     * @return A
     */
    public double knee(int segment) {
        return forwardCurve.get(segment).current();
    }

    /**
     * Returns the slope dv/di of a segment.
     *
     * @param segment from 0 to one less than the number of segments
     * @param forwardDrop voltage at no current, V
     * @return Ω
     */
    public double slope(int segment, double forwardDrop) {
        if (forwardCurve.isEmpty()) {
            return 0;
        }
        Point from = point(segment - 1, forwardDrop);
        Point to = point(segment, forwardDrop);
        return (to.voltage - from.voltage) / (to.current - from.current);
    }

    /**
     * Returns where the line of a segment meets no current.
     *
     * @param segment from 0 to one less than the number of segments
     * @param forwardDrop voltage at no current, V
     * @return V
     */
    public double voltageAtNoCurrent(int segment, double forwardDrop) {
        Point from = point(segment - 1, forwardDrop);
        return from.voltage - slope(segment, forwardDrop) * from.current;
    }

    /** A point of the curve; the one before the first is that of no current. */
    private Point point(int index, double forwardDrop) {
        return index < 0 ? new Point(0, forwardDrop) : forwardCurve.get(index);
    }

    /**
     * Returns how the line of a segment changes with a point: by so much of its change in voltage, as a form of the current.
     *
     * @param segment from 0 to one less than the number of segments
     * @param point index of the point; -1 for the forward drop
     * @return the share at no current, then by how much it grows with each ampere; zero for a point that the line does not pass
     */
    public double[] shareOf(int segment, int point) {
        if (forwardCurve.isEmpty()) {
            return new double[] {point < 0 ? 1 : 0, 0};
        }
        double from = segment == 0 ? 0 : knee(segment - 1);
        double width = forwardCurve.get(segment).current - from;
        if (point == segment - 1) {
            return new double[] {1 + from / width, -1 / width};
        }
        return point == segment ? new double[] {-from / width, 1 / width} : new double[2];
    }

    /**
     * Returns the voltage of the forward curve.
     *
     * @param forwardDrop voltage at no current, V
     * @param current A; 0 or more
     * @return V
     */
    public double voltageAt(double forwardDrop, double current) {
        int segment = 0;
        while (segment < segments() - 1 && current > knee(segment)) {
            segment++;
        }
        return voltageAtNoCurrent(segment, forwardDrop) + slope(segment, forwardDrop) * current;
    }

    /**
     * Returns this junction with another point of its curve.
     *
     * @param index which
     * @param to the point
     * @return the junction
     */
    public Junction withPoint(int index, Point to) {
        List<Point> points = new ArrayList<>(forwardCurve);
        points.set(index, to);
        return new Junction(points, recovery);
    }

    /**
     * Returns where the straight line through the first two points of the forward curve meets no current.
     *
     * @return V, at least 0; of a single point its voltage, without a curve 0
     */
    public double dropAtNoCurrent() {
        if (forwardCurve.isEmpty()) {
            return 0;
        }
        Point first = forwardCurve.get(0);
        Point second = forwardCurve.get(Math.min(1, forwardCurve.size() - 1));
        double slope = second.current > first.current
                ? (second.voltage - first.voltage) / (second.current - first.current)
                : 0;
        return Math.max(0, first.voltage - Math.max(0, slope) * first.current);
    }

    /**
     * Returns whether the voltage stays the forward drop up to the first point, and goes on from there: a capacitance beside such a
     * rectifier has no way from blocking to what follows, unless a resistance comes on top.
     *
     * @param forwardDrop of the rectifier, V
     * @return true if the curve begins upright
     */
    public boolean beginsUpright(double forwardDrop) {
        return forwardCurve.size() > 1
                && forwardCurve.get(0).voltage == forwardDrop
                && forwardCurve.get(1).voltage > forwardDrop;
    }

    /**
     * Checks the values.
     *
     * @param faults where what is wrong is added
     * @param forwardDrop of the rectifier, V
     */
    public void check(Faults faults, double forwardDrop) {
        Point last = new Point(0, forwardDrop);
        for (int k = 0; k < forwardCurve.size(); k++) {
            Point point = forwardCurve.get(k);
            String what = "forward_curve[" + k + "].";
            faults.positive(what + "current", point.current, "A").notNegative(what + "voltage", point.voltage, "V");
            if (k > 0 && point.current <= last.current) {
                faults.add(what + "current must be more than that of the point before it, " + last.current
                        + " A, but was " + point.current + " A");
            }
            if (point.voltage < last.voltage) {
                faults.add(what + "voltage must not be below "
                        + (k == 0 ? "the forward drop of " : "that of the point before it, ") + last.voltage
                        + " V, but was " + point.voltage + " V");
            }
            last = point;
        }
        if (recovery != null) {
            faults.positive("lifetime", recovery.lifetime, "s").positive("transit time", recovery.transitTime, "s");
        }
    }
}
