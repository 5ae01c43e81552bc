package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.losses.HotLosses.Point;
import org.voltsecond.numeric.Dense;
import org.voltsecond.numeric.Elimination;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.numeric.RootSearch;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * Newton's method on T = Ta + R P(T): temperatures T of the bodies, ambient Ta, thermal resistances R, losses P of the steady state with
 * the values that hold at T. The derivative of conduction losses is exact, from the derivatives by part values; that of loss models is
 * a central difference, taken at the first point and anew at the last one. Started at the ambient, where losses only grow faster with
 * the temperature, the steps come to the lowest balance from below and never pass it (J. M. Ortega, W. C. Rheinboldt, Iterative Solution
 * of Nonlinear Equations in Several Variables, 1970, theorem on monotone convergence; from memory).
 *
 * <p>What there is beyond is walked along with one temperature given and the ambient sought: the ambient has its highest value where the
 * loop gain is 1, and that walk does not notice.
 */
final class HeatSearch {
    /** Hotter than this no part is a part any more, and no data hold, °C. A choice. */
    static final double HOTTEST = 500;

    /** Newton's method takes 3 to 6 steps; of losses that fall from one segment of a table to the next it may take some more. */
    private static final int MOST_STEPS = 60;
    /** The step after which there is none, K: of Newton's method, that makes each step about the square of the one before. */
    private static final double SETTLED = 1e-9;
    /** A step that may be one of rounding, K: far below what anybody measures. */
    private static final double ROUNDING = 1e-6;
    /** How near the other temperatures must be where the loop gain is only looked at, K: it hardly changes with them. A choice. */
    private static final double ROUGHLY = 1;
    /** First step of the walk to the runaway, K, doubled each time. */
    private static final double STEP = 10;
    /** By how much a temperature at which the loop gain is 1 may be off, K: the ambient is stationary there. */
    private static final double NEAR = 1e-3;

    private final HeatModel model;
    private final ConverterSteadyState cold;
    private final HotLosses losses;
    private final int n;
    private final double[][] resistances;

    HeatSearch(HeatModel model, ConverterSteadyState steady) {
        this.model = model;
        cold = steady;
        losses = new HotLosses(model, steady);
        n = model.bodies().size();
        resistances = losses.thermal();
    }

    // ------------------------------------------------------------------------------------------------- the balance

    Result<HeatBalance> balance() {
        try {
            return found();
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing("there is no steady state at the temperatures that it would have: " + e.getMessage());
        }
    }

    private Result<HeatBalance> found() {
        double[] start = new double[n];
        Arrays.fill(start, model.ambient());
        Point first = losses.at(start, cold);
        Point balanced = newton(first);
        Fold fold;
        if (balanced == null) {
            fold = foldFrom(first);
            if (!(fold.ambient > model.ambient())) {
                return Result.missing("thermal runaway: at an ambient of "
                        + Quantity.format(model.ambient(), Unit.CELSIUS, 4)
                        + " losses rise faster with the temperature than heat leaves"
                        + (fold.reason.isEmpty() ? "" : ": " + fold.reason)
                        + (Double.isNaN(fold.ambient)
                                ? ""
                                : "; a balance exists up to an ambient of "
                                        + Quantity.format(fold.ambient, Unit.CELSIUS, 4)));
            }
            balanced = between(first, fold);
        } else {
            fold = foldFrom(balanced);
        }
        return Result.of(balance(balanced, fold));
    }

    private HeatBalance balance(Point last, Fold fold) {
        Point point = exact(last);
        Map<String, Double> temperatures = new LinkedHashMap<>();
        Map<String, Double> powers = new LinkedHashMap<>();
        List<List<Double>> slopes = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            String name = model.bodies().get(i).name();
            temperatures.put(name, point.temperatures()[i]);
            powers.put(name, point.powers()[i]);
            slopes.add(Arrays.stream(point.slopes()[i]).boxed().toList());
        }
        return new HeatBalance(
                model,
                point.steady(),
                temperatures,
                powers,
                slopes,
                point.loopGain(),
                Double.isNaN(fold.ambient) ? Result.missing(fold.reason) : Result.of(fold.ambient),
                CapacitorStress.of(model, point.steady(), temperatures));
    }

    /** With the derivatives of loss models at this very point. */
    private Point exact(Point point) {
        if (model.models().isEmpty()) {
            return point;
        }
        losses.forgetModels();
        return losses.at(point.temperatures(), point.steady());
    }

    /** Null where it does not come to rest below a loop gain of 1. */
    private @Nullable Point newton(Point from) {
        Point point = from;
        double before = Double.POSITIVE_INFINITY;
        for (int step = 0; step < MOST_STEPS; step++) {
            if (!(point.loopGain() < 1)) {
                return null;
            }
            double[] left = point.rises(resistances);
            double[][] matrix = identityLess(point.gains());
            for (int i = 0; i < n; i++) {
                left[i] = model.ambient() - left[i];
            }
            double[] change = solved(matrix, left);
            double[] next = point.temperatures().clone();
            for (int i = 0; i < n; i++) {
                next[i] += change[i];
                if (!(Math.abs(next[i]) < HOTTEST)) {
                    return null;
                }
            }
            point = losses.at(next, point.steady());
            double size = Dense.largest(change);
            if (isSettled(size, before)) {
                return point;
            }
            before = size;
        }
        return null;
    }

    /** Where steps get no smaller any more they are those of rounding in the steady state. */
    private static boolean isSettled(double change, double before) {
        return change <= SETTLED || (change <= ROUNDING && change >= 0.5 * before);
    }

    private static double[][] identityLess(double[][] gains) {
        double[][] matrix = new double[gains.length][gains.length];
        for (int i = 0; i < gains.length; i++) {
            for (int j = 0; j < gains.length; j++) {
                matrix[i][j] = (i == j ? 1 : 0) - gains[i][j];
            }
        }
        return matrix;
    }

    /** Infinite or not a number where the matrix is singular. */
    private double[] solved(double[][] matrix, double[] right) {
        Elimination elimination = new Elimination(n, 0);
        elimination.solve(Matrices.flatten(matrix), right);
        return elimination.solution();
    }

    // -------------------------------------------------------------------------------------------------- the runaway

    /** The highest ambient with a balance, and the temperature of one body there; not a number with the reason where there is none. */
    private record Fold(int body, double temperature, double ambient, String reason) {
        static Fold none(String reason) {
            return new Fold(0, Double.NaN, Double.NaN, reason);
        }
    }

    /** A point with a given temperature of one body, and the ambient that goes with it. */
    private record OnBranch(Point point, double ambient) {}

    private Fold foldFrom(Point point) {
        int body = 0;
        for (int i = 1; i < n; i++) {
            body = point.gains()[i][i] > point.gains()[body][body] ? i : body;
        }
        if (n == 0 || !(point.loopGain() > 0)) {
            return Fold.none("losses do not rise with the temperature");
        }
        if (point.loopGain() >= 1) {
            return foldBelow(body, point);
        }
        double low = point.temperatures()[body];
        OnBranch here = new OnBranch(point, model.ambient());
        try {
            for (double step = STEP; low < HOTTEST; step *= 2) {
                double high = Math.min(HOTTEST, low + step);
                here = onBranch(body, high, here.point(), ROUGHLY);
                if (here.point().loopGain() >= 1) {
                    return foldBetween(body, low, high, here.point());
                }
                low = high;
            }
        } catch (NoSteadyStateException | SwitchingException | DoesNotConverge e) {
            return Fold.none("beyond " + Quantity.format(low, Unit.CELSIUS, 3) + " of "
                    + model.bodies().get(body).name() + " there is no steady state to tell");
        }
        return Fold.none("no runaway with " + model.bodies().get(body).name() + " up to "
                + Quantity.format(HOTTEST, Unit.CELSIUS, 3) + ", where the loop gain is "
                + Quantity.format(here.point().loopGain(), Unit.ONE, 3));
    }

    /** Where the loop gain is above 1 from the ambient on there may be a balance where it is colder. */
    private Fold foldBelow(int body, Point point) {
        double high = point.temperatures()[body];
        Point here = point;
        try {
            for (double step = STEP; high - step > HeatModel.ABSOLUTE_ZERO; step *= 2) {
                double low = high - step;
                here = onBranch(body, low, here, ROUGHLY).point();
                if (here.loopGain() < 1) {
                    return foldBetween(body, low, high, here);
                }
                high = low;
            }
        } catch (NoSteadyStateException | SwitchingException | DoesNotConverge e) {
            return Fold.none("colder there is no steady state to tell");
        }
        return Fold.none("the loop gain is above 1 at any ambient");
    }

    private Fold foldBetween(int body, double low, double high, Point near) {
        OnBranch lower = onBranch(body, low, near, ROUNDING);
        OnBranch upper = onBranch(body, high, near, ROUNDING);
        if (lower.point().loopGain() >= 1 || upper.point().loopGain() < 1) {
            // looked at more closely, one of the ends is the place itself
            boolean isLower = lower.point().loopGain() >= 1;
            return new Fold(body, isLower ? low : high, isLower ? lower.ambient() : upper.ambient(), "");
        }
        Point[] last = {lower.point()};
        double at = RootSearch.between(
                temperature -> {
                    last[0] = onBranch(body, temperature, last[0], ROUNDING).point();
                    return 1 - last[0].loopGain();
                },
                low,
                high,
                NEAR);
        return new Fold(body, at, onBranch(body, at, last[0], ROUNDING).ambient(), "");
    }

    /** The balance below the fold, where Newton's method from the ambient did not find it. */
    private Point between(Point first, Fold fold) {
        Point[] last = {first};
        RootSearch.between(
                temperature -> {
                    OnBranch on = onBranch(fold.body, temperature, last[0], ROUNDING);
                    last[0] = on.point();
                    return on.ambient() - model.ambient();
                },
                model.ambient(),
                fold.temperature,
                NEAR);
        Point found = newton(last[0]);
        return found == null ? last[0] : found;
    }

    /** Newton's method did not come to rest. */
    private static final class DoesNotConverge extends RuntimeException {
        private static final long serialVersionUID = 1;
    }

    /** The same equations with the temperature of one body given and the ambient unknown in its place. */
    private OnBranch onBranch(int body, double temperature, Point near, double accuracy) {
        double[] start = near.temperatures().clone();
        for (int i = 0; i < n; i++) {
            start[i] += i == body ? temperature - start[i] : temperature - near.temperatures()[body];
        }
        Point point = losses.at(start, near.steady());
        double ambient = point.rises(resistances)[body];
        for (int step = 0; step < MOST_STEPS; step++) {
            double[] left = point.rises(resistances);
            double[][] matrix = identityLess(point.gains());
            for (int i = 0; i < n; i++) {
                left[i] = ambient - left[i];
                matrix[i][body] = -1;
            }
            double[] change = solved(matrix, left);
            ambient += change[body];
            change[body] = 0;
            double[] next = point.temperatures().clone();
            for (int i = 0; i < n; i++) {
                next[i] += change[i];
            }
            if (n == 1 || Dense.largest(change) <= accuracy) {
                return new OnBranch(point, ambient);
            }
            if (!(Dense.largest(next) < 2 * HOTTEST)) {
                break;
            }
            point = losses.at(next, point.steady());
        }
        throw new DoesNotConverge();
    }
}
