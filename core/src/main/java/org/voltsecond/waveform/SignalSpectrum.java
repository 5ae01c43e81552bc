package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.function.ToDoubleBiFunction;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.numeric.Resolvent;

/**
 * The Fourier integrals of a signal over a period of a trajectory, from the ends of its intervals alone, however stiff these are or
 * however often something rings in them. With {@code dx/dt = A x + b} and {@code y = g (j omega - A)^-1}, by parts,
 *
 * <pre>
 * integral g x exp(-j omega t) dt = y (x + b / (j omega)) exp(-j omega t), at the start less at the end.
 * </pre>
 *
 * <p>So each switching instant has a contribution of its own, the difference of what comes after and before. Where the jump there takes
 * the time tau, in a straight ramp about the instant, it is multiplied by {@code sin(omega tau / 2) / (omega tau / 2)}: for a waveform
 * of steps alone these are the coefficients of trapezoids. A named numeric kernel.
 */
final class SignalSpectrum {
    /** How many harmonics a turning pointer is multiplied on, before sine and cosine are taken anew: a loss of so many roundings. */
    private static final int TURNS = 32;

    /** A resonance this narrow, by its frequency over its width, takes so many digits away that the waveform tells more. */
    private static final double NARROW = 1e6;

    /** One interval, read in the coordinates of its configuration. */
    private static final class Span {
        final View view;
        final double[] startState;
        final double[] endState;
        final double atStart;
        final double atEnd;

        Span(Interval interval, View view) {
            this.view = view;
            startState = view.resolvent.coordinates(interval.startState());
            endState = view.resolvent.coordinates(interval.endState());
            AffineForm form = view.form;
            atStart = form.constant() + form.slope() * interval.sinceTick();
            atEnd = atStart + form.slope() * interval.duration();
        }

        double real(double omega, boolean start) {
            return view.resolvent.real(start ? startState : endState)
                    + view.resolvent.imaginary(view.drive) / omega
                    - view.form.slope() / (omega * omega);
        }

        double imaginary(double omega, boolean start) {
            return view.resolvent.imaginary(start ? startState : endState)
                    - view.resolvent.real(view.drive) / omega
                    - (start ? atStart : atEnd) / omega;
        }
    }

    /** How the signal is seen in a configuration. */
    private static final class View {
        final AffineForm form;
        final Resolvent resolvent;
        final double[] drive;

        View(Configuration configuration, AffineForm form) {
            this.form = form;
            int n = configuration.dimension();
            double[][] a = new double[n][n];
            double[] b = new double[n];
            double[] g = new double[n];
            for (int i = 0; i < n; i++) {
                b[i] = configuration.b(i);
                g[i] = form.coefficient(i);
                for (int j = 0; j < n; j++) {
                    a[i][j] = configuration.a(i, j);
                }
            }
            resolvent = Resolvent.of(a, g);
            drive = resolvent.coordinates(b);
        }
    }

    private final List<Span> spans = new ArrayList<>();
    private final List<View> views;
    /** Of each span: how long the jump into it takes, s. */
    private final double[] ramps;
    /** Of each span: where in the period it begins, from 0 to 1. */
    private final double[] places;

    private final double period;

    SignalSpectrum(Trajectory trajectory, Signal signal, ToDoubleBiFunction<Interval, Interval> ramp) {
        period = trajectory.end() - trajectory.start();
        IdentityHashMap<Configuration, View> known = new IdentityHashMap<>();
        List<Interval> intervals = trajectory.intervals().stream()
                .filter(interval -> interval.duration() > 0)
                .toList();
        ramps = new double[intervals.size()];
        places = new double[intervals.size()];
        Interval before = intervals.get(intervals.size() - 1);
        for (int i = 0; i < intervals.size(); i++) {
            Interval interval = intervals.get(i);
            Configuration configuration = interval.configuration();
            View view = known.computeIfAbsent(configuration, each -> new View(each, signal.in(each)));
            spans.add(new Span(interval, view));
            places[i] = (interval.start() - trajectory.start()) / period;
            ramps[i] = ramp.applyAsDouble(before, interval);
            before = interval;
        }
        views = List.copyOf(known.values());
    }

    /** The coefficients from the fundamental on: real parts in row 0, not a number on a resonance, imaginary parts in row 1; harmonic k at k. */
    double[][] coefficients(int harmonics) {
        double[][] result = new double[2][harmonics + 1];
        Pointers instants = new Pointers(places);
        Pointers halfRamps = new Pointers(
                Arrays.stream(ramps).map(ramp -> ramp / (2 * period)).toArray());
        for (int k = 1; k <= harmonics; k++) {
            double omega = 2 * Math.PI * k / period;
            double gain = 1;
            for (View view : views) {
                gain = Math.max(gain, view.resolvent.at(omega));
            }
            instants.turnTo(k);
            halfRamps.turnTo(k);
            Span before = spans.get(spans.size() - 1);
            double re = 0;
            double im = 0;
            for (int i = 0; i < spans.size(); i++) {
                Span after = spans.get(i);
                double factor = ramps[i] == 0 ? 1 : -halfRamps.sin[i] / (omega * ramps[i] / 2);
                double real = factor * (after.real(omega, true) - before.real(omega, false));
                double imaginary = factor * (after.imaginary(omega, true) - before.imaginary(omega, false));
                re += real * instants.cos[i] - imaginary * instants.sin[i];
                im += real * instants.sin[i] + imaginary * instants.cos[i];
                before = after;
            }
            result[0][k] = gain < NARROW ? 2 / period * re : Double.NaN;
            result[1][k] = 2 / period * im;
        }
        return result;
    }

    /** exp(-j 2 pi k place) of several places, for one k after the other. */
    private static final class Pointers {
        private final double[] places;
        private final double[] turnCos;
        private final double[] turnSin;
        final double[] cos;
        final double[] sin;

        Pointers(double[] places) {
            this.places = places;
            int count = places.length;
            turnCos = new double[count];
            turnSin = new double[count];
            cos = new double[count];
            sin = new double[count];
            for (int i = 0; i < count; i++) {
                turnCos[i] = StrictMath.cos(2 * Math.PI * places[i]);
                turnSin[i] = -StrictMath.sin(2 * Math.PI * places[i]);
            }
        }

        void turnTo(int k) {
            for (int i = 0; i < places.length; i++) {
                if (k % TURNS == 1) {
                    double turns = k * places[i];
                    double angle = 2 * Math.PI * (turns - Math.floor(turns));
                    cos[i] = StrictMath.cos(angle);
                    sin[i] = -StrictMath.sin(angle);
                } else {
                    double next = cos[i] * turnCos[i] - sin[i] * turnSin[i];
                    sin[i] = cos[i] * turnSin[i] + sin[i] * turnCos[i];
                    cos[i] = next;
                }
            }
        }
    }
}
