package org.voltsecond.converter;

import java.util.Objects;
import org.voltsecond.numeric.PolynomialRoots;
import org.voltsecond.numeric.UnitPolynomial;

/** Reads figures off an orbit of the {@link StageKernel}: a named numeric kernel. One instance serves one thread. */
final class KernelFigures {
    /** Which equations. */
    enum Kind {
        BUCK,
        BOOST,
        INVERTING
    }

    private final StageKernel kernel;
    private final double[] curve;
    private final int sign;
    private double first;
    private double second;
    private double constant;
    private double maximum;
    private double minimum;

    KernelFigures(StageKernel kernel) {
        this.kernel = kernel;
        curve = new double[kernel.current[0].length];
        sign = kernel.kind == Kind.INVERTING ? -1 : 1;
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
            case ON_TIME -> kernel.duration[StageKernel.ON];
            case OFF_TIME -> kernel.duration[StageKernel.OFF];
            case IDLE_TIME -> kernel.intervals > 2 ? kernel.duration[StageKernel.IDLE] : 0;
            case DUTY_CYCLE -> kernel.duration[StageKernel.ON] / period();
            case EFFICIENCY -> efficiency();
        };
    }

    private double efficiency() {
        double taken = kernel.input * mean(StageSignal.INPUT_CURRENT);
        double given = kernel.constantCurrent
                ? sign * mean(StageSignal.OUTPUT_VOLTAGE) * kernel.loadCurrent
                : meanSquare(StageSignal.OUTPUT_VOLTAGE) * kernel.loadConductance;
        return taken > 0 ? given / taken : Double.NaN;
    }

    private double period() {
        double sum = 0;
        for (int k = 0; k < kernel.intervals; k++) {
            sum += kernel.duration[k];
        }
        return sum;
    }

    private double mean(StageSignal signal) {
        double sum = 0;
        for (int interval = 0; interval < kernel.intervals; interval++) {
            int degree = read(signal, interval);
            double integral = 0;
            for (int k = degree; k >= 0; k--) {
                integral += curve[k] / (k + 1);
            }
            sum += kernel.duration[interval] * integral;
        }
        return sum / period();
    }

    private double meanSquare(StageSignal signal) {
        double sum = 0;
        for (int interval = 0; interval < kernel.intervals; interval++) {
            int degree = read(signal, interval);
            double integral = 0;
            for (int i = degree; i >= 0; i--) {
                double inner = 0.5 * curve[i] / (2 * i + 1);
                for (int j = i - 1; j >= 0; j--) {
                    inner += curve[j] / (i + j + 1);
                }
                integral += 2 * curve[i] * inner;
            }
            sum += kernel.duration[interval] * integral;
        }
        return sum / period();
    }

    private KernelFigures extremes(StageSignal signal) {
        maximum = Double.NEGATIVE_INFINITY;
        minimum = Double.POSITIVE_INFINITY;
        for (int interval = 0; interval < kernel.intervals; interval++) {
            int degree = read(signal, interval);
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
                meet(at(degree, turn));
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
        meet(at(degree, u));
    }

    private double at(int degree, double u) {
        double value = 0;
        for (int k = degree; k >= 0; k--) {
            value = value * u + curve[k];
        }
        return value;
    }

    /** Minus one of a stage whose output is negative. */
    int sign() {
        return sign;
    }

    /** Writes the curve of a signal over an interval; returns its degree. */
    int copy(StageSignal signal, int interval, double[] into) {
        int degree = read(signal, interval);
        System.arraycopy(curve, 0, into, 0, degree + 1);
        return degree;
    }

    /** The curve of a signal over an interval; returns its degree. */
    private int read(StageSignal signal, int interval) {
        combine(signal, interval);
        int degree = kernel.degree[interval];
        double[] i = kernel.current[interval];
        double[] w = kernel.voltage[interval];
        for (int k = 0; k <= degree; k++) {
            curve[k] = first * i[k] + second * w[k];
        }
        curve[0] += constant;
        return degree;
    }

    /** The signal as first i + second w + constant. */
    private void combine(StageSignal signal, int interval) {
        boolean on = interval == StageKernel.ON;
        boolean off = interval == StageKernel.OFF;
        boolean buck = kernel.kind == Kind.BUCK;
        boolean feeds = off || (on && buck);
        switch (signal) {
            case INDUCTOR_CURRENT -> form(1, 0, 0);
            case OUTPUT_VOLTAGE -> output(sign, feeds);
            case SWITCH_NODE -> switchNode(on, off, feeds);
            case TRANSISTOR_CURRENT -> form(on ? 1 : 0, 0, 0);
            case RECTIFIER_CURRENT -> form(off ? 1 : 0, 0, 0);
            case INPUT_CURRENT -> form(on || kernel.kind == Kind.BOOST ? 1 : 0, 0, 0);
            case LOAD_CURRENT -> load(sign, feeds);
            case CAPACITOR_CURRENT -> {
                load(-sign, feeds);
                first += feeds ? sign : 0;
            }
        }
    }

    private void form(double ofCurrent, double ofVoltage, double rest) {
        first = ofCurrent;
        second = ofVoltage;
        constant = rest;
    }

    private void output(double factor, boolean feeds) {
        form(feeds ? factor * kernel.rho : 0, factor * kernel.alpha, -factor * kernel.rho0);
    }

    private void load(double factor, boolean feeds) {
        if (kernel.constantCurrent) {
            form(0, 0, factor * kernel.loadCurrent);
        } else {
            output(factor * kernel.loadConductance, feeds);
        }
    }

    private void switchNode(boolean on, boolean off, boolean feeds) {
        switch (kernel.kind) {
            case BUCK -> {
                if (on) {
                    form(-kernel.onOhm, 0, kernel.input);
                } else if (off) {
                    form(-kernel.slopeOhm, 0, -kernel.forwardDrop);
                } else {
                    output(1, feeds);
                }
            }
            case BOOST -> {
                if (on) {
                    form(kernel.onOhm, 0, 0);
                } else if (off) {
                    output(1, true);
                    first += kernel.slopeOhm;
                    constant += kernel.forwardDrop;
                } else {
                    form(0, 0, kernel.input);
                }
            }
            case INVERTING -> {
                if (on) {
                    form(-kernel.onOhm, 0, kernel.input);
                } else if (off) {
                    output(-1, true);
                    first -= kernel.slopeOhm;
                    constant -= kernel.forwardDrop;
                } else {
                    form(0, 0, 0);
                }
            }
        }
    }
}
