package org.voltsecond.converter;

import java.util.Objects;
import org.voltsecond.numeric.PolynomialRoots;
import org.voltsecond.numeric.UnitPolynomial;

/** Reads figures off an orbit of polynomials: a named numeric kernel. One instance serves one thread. */
final class CurveFigures {
    private final OrbitCurves orbit;
    private final double[] curve = new double[OrbitCurves.HIGHEST_DEGREE + 1];
    private double maximum;
    private double minimum;

    CurveFigures(OrbitCurves orbit) {
        this.orbit = orbit;
    }

    double of(StageMeasurement figure) {
        return switch (figure.measure()) {
            case MEAN -> mean(Objects.requireNonNull(figure.signal()));
            case RMS -> Math.sqrt(meanSquare(Objects.requireNonNull(figure.signal())));
            case MAXIMUM -> extremes(Objects.requireNonNull(figure.signal())).maximum;
            case MINIMUM -> extremes(Objects.requireNonNull(figure.signal())).minimum;
            case PEAK_TO_PEAK -> {
                extremes(Objects.requireNonNull(figure.signal()));
                yield maximum - minimum;
            }
            case ON_TIME -> timeIn(OrbitCurves.Share.ON);
            case OFF_TIME -> timeIn(OrbitCurves.Share.OFF);
            case IDLE_TIME -> timeIn(OrbitCurves.Share.IDLE);
            case DUTY_CYCLE -> timeIn(OrbitCurves.Share.ON) / period();
            case EFFICIENCY -> orbit.efficiency(this);
        };
    }

    private double timeIn(OrbitCurves.Share share) {
        double sum = 0;
        for (int k = 0; k < orbit.intervals(); k++) {
            sum += orbit.share(k) == share ? orbit.duration(k) : 0;
        }
        return sum;
    }

    private double period() {
        double sum = 0;
        for (int k = 0; k < orbit.intervals(); k++) {
            sum += orbit.duration(k);
        }
        return sum;
    }

    double mean(StageSignal signal) {
        double sum = 0;
        for (int interval = 0; interval < orbit.intervals(); interval++) {
            int degree = orbit.read(signal, interval, curve);
            double integral = 0;
            for (int k = degree; k >= 0; k--) {
                integral += curve[k] / (k + 1);
            }
            sum += orbit.duration(interval) * integral;
        }
        return sum / period();
    }

    double meanSquare(StageSignal signal) {
        double sum = 0;
        for (int interval = 0; interval < orbit.intervals(); interval++) {
            int degree = orbit.read(signal, interval, curve);
            double integral = 0;
            for (int i = degree; i >= 0; i--) {
                double inner = 0.5 * curve[i] / (2 * i + 1);
                for (int j = i - 1; j >= 0; j--) {
                    inner += curve[j] / (i + j + 1);
                }
                integral += 2 * curve[i] * inner;
            }
            sum += orbit.duration(interval) * integral;
        }
        return sum / period();
    }

    /** A signal: writes its coefficients over an interval and returns their degree. */
    interface Curve {
        int read(int interval, double[] into);
    }

    /** The largest value of any signal. */
    double maximum(Curve signal) {
        return extremes(signal).maximum;
    }

    private CurveFigures extremes(StageSignal signal) {
        return extremes((interval, into) -> orbit.read(signal, interval, into));
    }

    private CurveFigures extremes(Curve signal) {
        maximum = Double.NEGATIVE_INFINITY;
        minimum = Double.POSITIVE_INFINITY;
        for (int interval = 0; interval < orbit.intervals(); interval++) {
            int degree = signal.read(interval, curve);
            meet(curve[0]);
            meet(UnitPolynomial.sum(curve, degree));
            meetTurns(degree);
        }
        return this;
    }

    private void meet(double value) {
        maximum = Math.max(maximum, value);
        minimum = Math.min(minimum, value);
    }

    private void meetTurns(int degree) {
        double bend = 0;
        for (int k = 2; k <= degree; k++) {
            bend += k * Math.abs(curve[k]);
        }
        if (Math.abs(curve[1]) > bend) {
            return;
        }
        double bendOfSlope = 0;
        for (int k = 3; k <= degree; k++) {
            bendOfSlope += k * (k - 1) * Math.abs(curve[k]);
        }
        if (2 * Math.abs(curve[2]) > bendOfSlope) {
            meetOneTurn(degree);
        } else {
            double[] slope = new double[degree];
            for (int k = 1; k <= degree; k++) {
                slope[k - 1] = k * curve[k];
            }
            for (double turn : PolynomialRoots.in01(slope)) {
                meet(UnitPolynomial.at(curve, degree, turn));
            }
        }
    }

    /** The curve bends one way only, so there is one turn if the slopes at the ends differ in sign. */
    private void meetOneTurn(int degree) {
        double last = 0;
        for (int k = 1; k <= degree; k++) {
            last += k * curve[k];
        }
        if (!(curve[1] * last < 0)) {
            return;
        }
        double u = curve[1] / (curve[1] - last);
        for (int step = 0; step < 6; step++) {
            double slope = 0;
            double bend = 0;
            for (int k = degree; k >= 1; k--) {
                bend = bend * u + slope;
                slope = slope * u + k * curve[k];
            }
            double change = slope / bend;
            u = Math.min(1, Math.max(0, u - change));
            // the value is flat there: an error of the turn counts squared
            if (Math.abs(change) < 1e-9) {
                break;
            }
        }
        meet(UnitPolynomial.at(curve, degree, u));
    }
}
