package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.RootSearch;

/**
 * Where the curve of a loop gain passes the magnitude one, and where it passes the negative real axis. The curve is followed in
 * the logarithm of the frequency, through its samples and as many places between as it takes until a straight line from one to
 * the next, in the logarithm of the gain, is nearly the curve; each crossing is then the root of the law itself.
 *
 * <p>A pole or a zero makes itself felt as its distance grows no faster than one over it, so a resonance between two samples bends
 * the curve at both of them, and is seen. What is not seen is a pole that a zero nearly cancels, both nearer to each other
 * than a thousandth of their distance from the next sample.
 */
final class LoopCurve {
    /** A straight line may miss the curve by this much, nepers and rad, where no crossing is near. */
    private static final double BEND = 0.05;

    /** Pairs of crossings closer than this touch, nepers and rad: the accuracy of a response is not better by far. */
    private static final double TOUCH = 1e-9;

    /** From one place to the next the phase turns by less than this, rad, so that no turn is missed. */
    private static final double TURN = 1;

    /** A spacing of samples divided so often is some millionth of the frequency; an undamped resonance is narrower. */
    private static final int DEEPEST = 18;

    private static final double HALF_TURN = Math.PI;

    /** One crossing of the negative real axis; {@code falling}: with rising frequency its phase falls through -180 degrees. */
    record Turn(double frequency, double magnitude, boolean falling) {}

    private record Place(double logarithm, double gain, double phase, boolean above) {}

    private final DoubleFunction<Complex> law;
    private final List<Margins.Crossover> crossovers = new ArrayList<>();
    private final List<Turn> turns = new ArrayList<>();

    LoopCurve(double[] frequencies, Complex[] values, DoubleFunction<Complex> law) {
        this.law = law;
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < frequencies.length; i++) {
            if (values[i].isFinite() && values[i].magnitude() > 0) {
                places.add(place(Math.log(frequencies[i]), values[i]));
            }
        }
        for (int i = 0; i + 1 < places.size(); i++) {
            follow(places.get(i), places.get(i + 1), bend(places, i), 0);
        }
    }

    List<Margins.Crossover> crossovers() {
        return crossovers;
    }

    List<Turn> turns() {
        return turns;
    }

    private static Place place(double logarithm, Complex value) {
        // the axis itself counts as above it, though the sign of a zero may say otherwise
        boolean above = value.imaginary() >= 0;
        double phase = above ? Math.abs(value.argument()) : value.argument();
        return new Place(logarithm, Math.log(value.magnitude()), phase, above);
    }

    /** How far the curve bends near an interval between two samples; a single interval may bend as it likes. */
    private static double bend(List<Place> places, int index) {
        double before = index == 0 ? 0 : bend(places.get(index - 1), places.get(index), places.get(index + 1));
        double after =
                index + 2 >= places.size() ? 0 : bend(places.get(index), places.get(index + 1), places.get(index + 2));
        return places.size() == 2 ? Double.POSITIVE_INFINITY : Math.max(before, after);
    }

    /** By how much the middle place lies off the straight line between the outer ones. */
    private static double bend(Place left, Place middle, Place right) {
        double share = (middle.logarithm - left.logarithm) / (right.logarithm - left.logarithm);
        double gain = middle.gain - left.gain - share * (right.gain - left.gain);
        double first = change(left, middle);
        double phase = first - share * (first + change(middle, right));
        return Math.max(Math.abs(gain), Math.abs(phase));
    }

    private static double change(Place from, Place to) {
        return Math.IEEEremainder(to.phase - from.phase, 2 * HALF_TURN);
    }

    private void follow(Place left, Place right, double bend, int depth) {
        boolean coarse = bend > BEND || Math.abs(change(left, right)) > TURN || mayTouch(left, right, bend);
        double middle = 0.5 * (left.logarithm + right.logarithm);
        if (!coarse || depth == DEEPEST || !(middle > left.logarithm && middle < right.logarithm)) {
            cross(left, right);
            return;
        }
        Complex value = law.apply(Math.exp(middle));
        if (value.isFinite() && value.magnitude() > 0) {
            Place between = place(middle, value);
            // a smooth curve bends a quarter as much over half the width
            double half = 0.5 * bend(left, between, right);
            follow(left, between, half, depth + 1);
            follow(between, right, half, depth + 1);
        }
    }

    /** Whether the curve may pass magnitude or axis and come back within an interval that bends by so much. */
    private static boolean mayTouch(Place left, Place right, double bend) {
        double fromLeft = Math.IEEEremainder(left.phase - HALF_TURN, 2 * HALF_TURN);
        double fromRight = Math.IEEEremainder(right.phase - HALF_TURN, 2 * HALF_TURN);
        return bend > TOUCH && (near(left.gain, right.gain, bend) || near(fromLeft, fromRight, bend));
    }

    private static boolean near(double left, double right, double bend) {
        return left * right > 0 && Math.min(Math.abs(left), Math.abs(right)) <= bend;
    }

    private void cross(Place left, Place right) {
        if (left.gain >= 0 != right.gain >= 0) {
            double frequency = root(left, right, f -> Math.log(law.apply(f).magnitude()));
            crossovers.add(new Margins.Crossover(
                    frequency, Math.toDegrees(law.apply(frequency).negate().argument())));
        }
        if (left.above != right.above && Math.abs(right.phase - left.phase) > HALF_TURN) {
            double frequency = root(left, right, f -> law.apply(f).imaginary());
            turns.add(new Turn(frequency, law.apply(frequency).magnitude(), right.above));
        }
    }

    private static double root(Place left, Place right, DoubleUnaryOperator function) {
        double low = Math.exp(left.logarithm);
        double high = Math.exp(right.logarithm);
        double atLow = function.applyAsDouble(low);
        double atHigh = function.applyAsDouble(high);
        if (!(atLow * atHigh < 0)) {
            // a sample that lies on the crossing itself, but for the rounding of its logarithm
            return Math.abs(atLow) <= Math.abs(atHigh) ? low : high;
        }
        return Math.exp(RootSearch.between(
                logarithm -> function.applyAsDouble(Math.exp(logarithm)), left.logarithm, right.logarithm, 0));
    }
}
