package org.voltsecond.study;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.numeric.RootSearch;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Result;

/**
 * Looks for the worst designs within some tolerances. A place is told by where each value lies within its tolerance, from -1
 * to 1. Corners come first, then a climb from the worst ones: along each value in turn, then along the way that the last
 * round went, and along pairs of values, until nothing rises any more. A figure that is the larger of two has creases, on
 * which no single value can be moved without loss: that is what the pairs are for.
 *
 * <p>A stage of fixed duty cycle takes microseconds for a design, so that all its corners are run. Where each design takes a
 * search of the engine, those are run to which the derivatives of the nominal design point, and what the climb asks for.
 */
final class WorstCaseSearch {
    /** A steady state is right to this, so that a figure may be off by as much and a draw may lie above by round-off. */
    private static final double ACCURACY = 1e-12;

    /** A smooth top is so flat within this part of the tolerance that its height is right to the accuracy above. */
    private static final double CLOSE_TO_TOP = 1e-7;

    /** How far from an end of the tolerance a rise inwards is looked for. */
    private static final double INWARDS = 1e-3;

    private static final int MOST_ROUNDS = 50;
    private static final int ROUNDS_OF_ENGINE = 3;
    /** From how many of the worst corners, and how many of the worst designs drawn, a quick climb begins. */
    private static final int STARTS = 3;

    private final Converter converter;
    private final List<Tolerance> tolerances;
    private final List<StageFigure> figures;

    WorstCaseSearch(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures) {
        this.converter = converter;
        this.tolerances = tolerances;
        this.figures = figures;
    }

    /** Where each value of a design lies within its tolerance, from -1 to 1. */
    private record Place(List<Double> at) {
        static Place of(double[] at) {
            return new Place(Arrays.stream(at).boxed().toList());
        }

        double[] array() {
            return at.stream().mapToDouble(Double::doubleValue).toArray();
        }
    }

    /** A figure to drive up (1) or down (-1). */
    private record Aim(int figure, int sign) {}

    private record Found(Place place, double height) {}

    /**
     * Finds the worst cases.
     *
     * @param shares for each figure what the full tolerance of each value does to it, to first order
     * @param drawn designs drawn at random
     */
    List<WorstCase> run(List<List<Double>> shares, MonteCarlo drawing, MonteCarloResult drawn, Execution execution) {
        boolean quick = new Climber().isQuick();
        List<Place> corners = quick ? allCorners() : pointedAt(shares);
        StudyResults<Place, double[]> results = Study.<Place, double[]>withOwnAsker(
                        corners, () -> new Climber()::measured)
                .run(execution)
                .complete();
        List<Aim> aims = IntStream.range(0, 2 * figures.size())
                .mapToObj(k -> new Aim(k / 2, k % 2 == 0 ? -1 : 1))
                .toList();
        int starts = quick ? STARTS : 1;
        List<Found> found = Study.<Aim, Found>withOwnAsker(aims, () -> {
                    Climber climber = new Climber();
                    return aim -> climber.climbed(aim, starts(results, drawing, drawn, aim, starts));
                })
                .run(execution)
                .complete()
                .values();
        int unreached = (int) IntStream.range(0, corners.size())
                .filter(k -> !results.results().get(k).exists())
                .count();
        return IntStream.range(0, figures.size())
                .mapToObj(k -> worst(found.get(2 * k), found.get(2 * k + 1), unreached))
                .toList();
    }

    private WorstCase worst(Found low, Found high, int unreached) {
        return new WorstCase(
                outwards(-low.height(), -1),
                values(low.place()),
                outwards(high.height(), 1),
                values(high.place()),
                unreached);
    }

    private static double outwards(double value, int sign) {
        return Double.isInfinite(value) ? Double.NaN : value + sign * ACCURACY * Math.abs(value);
    }

    private List<Double> values(Place place) {
        List<Double> values = new ArrayList<>();
        for (int k = 0; k < tolerances.size(); k++) {
            values.add(value(k, place.at().get(k)));
        }
        return values;
    }

    private double value(int tolerance, double at) {
        Tolerance spread = tolerances.get(tolerance);
        return spread.value().in(converter) + at * spread.halfWidth();
    }

    private List<Place> allCorners() {
        return IntStream.range(0, 1 << tolerances.size())
                .mapToObj(bits -> Place.of(IntStream.range(0, tolerances.size())
                        .mapToDouble(k -> ((bits >> k) & 1) == 0 ? -1 : 1)
                        .toArray()))
                .toList();
    }

    private static List<Place> pointedAt(List<List<Double>> shares) {
        return shares.stream()
                .flatMap(share -> IntStream.of(-1, 1)
                        .mapToObj(sign -> new Place(share.stream()
                                .map(each -> each * sign < 0 ? -1.0 : 1.0)
                                .toList())))
                .distinct()
                .toList();
    }

    /** The numbers of the highest of some heights, in falling order; those that are not numbers are none. */
    private static List<Integer> highest(int count, int heights, IntToDoubleFunction height) {
        List<Integer> highest = new ArrayList<>();
        for (int k = 0; k < heights; k++) {
            double value = height.applyAsDouble(k);
            int at = highest.size();
            while (at > 0 && value > height.applyAsDouble(highest.get(at - 1))) {
                at--;
            }
            if (at < count && !Double.isNaN(value)) {
                highest.add(at, k);
                highest = highest.size() > count ? new ArrayList<>(highest.subList(0, count)) : highest;
            }
        }
        return highest;
    }

    private List<Place> starts(
            StudyResults<Place, double[]> corners, MonteCarlo drawing, MonteCarloResult drawn, Aim aim, int count) {
        List<Result<double[]>> results = corners.results();
        double[] values = drawn.of(figures.get(aim.figure()));
        List<Place> starts = new ArrayList<>();
        highest(
                        count,
                        results.size(),
                        k -> aim.sign()
                                * results.get(k)
                                        .map(found -> found[aim.figure()])
                                        .orElse(Double.NaN))
                .forEach(k -> starts.add(corners.designs().get(k)));
        highest(count, values.length, k -> aim.sign() * values[k])
                .forEach(k -> starts.add(Place.of(IntStream.range(0, tolerances.size())
                        .mapToDouble(tolerance -> drawing.place(k, tolerance))
                        .toArray())));
        return starts;
    }

    /** What one thread works with. */
    private final class Climber {
        private final StageSampler sampler = Tolerance.sampler(converter, tolerances, figures);
        private final double[] values = sampler.nominal();
        private final Map<Place, double[]> known = new HashMap<>();
        private final boolean quick;

        Climber() {
            double[] found = new double[figures.size()];
            boolean solved = measure(Place.of(new double[tolerances.size()]), found);
            quick = solved && sampler.leftToEngine() == 0;
        }

        boolean isQuick() {
            return quick;
        }

        double[] measured(Place place) {
            double[] found = new double[figures.size()];
            set(place);
            sampler.measure(values, found);
            return found;
        }

        private boolean measure(Place place, double[] found) {
            try {
                set(place);
                sampler.measure(values, found);
                return true;
            } catch (NoSteadyStateException | InvalidStageException | SwitchingException e) {
                Arrays.fill(found, Double.NaN);
                return false;
            }
        }

        private void set(Place place) {
            for (int k = 0; k < values.length; k++) {
                values[k] = value(k, place.at().get(k));
            }
        }

        /** How high the figure stands there; below everything where it does not exist. */
        private double height(Aim aim, double[] at) {
            Place place = Place.of(at);
            double[] found = known.get(place);
            if (found == null) {
                found = new double[figures.size()];
                measure(place, found);
                if (!quick) {
                    // searches of the engine are worth being remembered
                    known.put(place, found);
                }
            }
            double value = aim.sign() * found[aim.figure()];
            return Double.isNaN(value) ? Double.NEGATIVE_INFINITY : value;
        }

        /** From every start along single values, and from the highest of what that leads to along pairs as well. */
        Found climbed(Aim aim, List<Place> starts) {
            Place nominal = Place.of(new double[tolerances.size()]);
            Found best = new Found(nominal, height(aim, nominal.array()));
            for (Place start : starts) {
                Found top = climbed(aim, start, false);
                best = top.height() > best.height() ? top : best;
            }
            return climbed(aim, best.place(), quick);
        }

        private Found climbed(Aim aim, Place start, boolean pairs) {
            double[] at = start.array();
            double height = height(aim, at);
            int rounds = quick ? MOST_ROUNDS : ROUNDS_OF_ENGINE;
            for (int round = 0; round < rounds; round++) {
                double before = height;
                double[] from = at.clone();
                for (int k = 0; k < at.length; k++) {
                    height = along(aim, at, height, direction(k, k, 0));
                }
                height = along(aim, at, height, difference(at, from));
                if (pairs && !isHigher(height, before)) {
                    height = alongPairs(aim, at, height);
                }
                if (!isHigher(height, before)) {
                    break;
                }
            }
            return new Found(Place.of(at), height);
        }

        private static boolean isHigher(double height, double before) {
            return height > before + ACCURACY * Math.abs(before);
        }

        private double alongPairs(Aim aim, double[] at, double height) {
            double highest = height;
            for (int k = 0; k < at.length; k++) {
                for (int j = 0; j < k; j++) {
                    highest = along(aim, at, highest, direction(k, j, 1));
                    highest = along(aim, at, highest, direction(k, j, -1));
                }
            }
            return highest;
        }

        private double[] direction(int first, int second, double share) {
            double[] direction = new double[tolerances.size()];
            direction[second] = share;
            direction[first] = 1;
            return direction;
        }

        private static double[] difference(double[] to, double[] from) {
            return IntStream.range(0, to.length)
                    .mapToDouble(k -> to[k] - from[k])
                    .toArray();
        }

        /** Goes to the highest place on a line through a place, which is moved there. */
        private double along(Aim aim, double[] at, double height, double[] direction) {
            double low = Double.NEGATIVE_INFINITY;
            double high = Double.POSITIVE_INFINITY;
            for (int k = 0; k < at.length; k++) {
                if (direction[k] != 0) {
                    double one = (-1 - at[k]) / direction[k];
                    double other = (1 - at[k]) / direction[k];
                    low = Math.max(low, Math.min(one, other));
                    high = Math.min(high, Math.max(one, other));
                }
            }
            if (!(high - low > 0) || Double.isInfinite(high)) {
                return height;
            }
            double width = high - low;
            double[] tried = quick
                    ? new double[] {0, low, low + INWARDS * width, low + 0.5 * width, high - INWARDS * width, high}
                    : new double[] {0, low, high};
            Arrays.sort(tried);
            int best = 0;
            double[] heights = new double[tried.length];
            for (int k = 0; k < tried.length; k++) {
                heights[k] = tried[k] == 0 ? height : height(aim, moved(at, direction, tried[k]));
                best = heights[k] > heights[best] ? k : best;
            }
            double to = tried[best];
            double highest = heights[best];
            double left = best == 0 ? to : tried[best - 1];
            double right = best == tried.length - 1 ? to : tried[best + 1];
            if (!quick && (left == to || right == to)) {
                // an end, and the search of a top between it and the next is worth its price only where it rises
                // inwards
                double inwards = to + (left == to ? INWARDS : -INWARDS) * width;
                if (!(height(aim, moved(at, direction, inwards)) > highest)) {
                    left = to;
                    right = to;
                }
            }
            if (left < right && (!quick || (left < to && to < right))) {
                RootSearch.Top top = RootSearch.highest(
                        t -> height(aim, moved(at, direction, t)), left, right, CLOSE_TO_TOP * width);
                if (top.value() > highest) {
                    to = top.at();
                    highest = top.value();
                }
            }
            if (!(highest > height)) {
                return height;
            }
            System.arraycopy(moved(at, direction, to), 0, at, 0, at.length);
            return highest;
        }

        private static double[] moved(double[] at, double[] direction, double by) {
            return IntStream.range(0, at.length)
                    .mapToDouble(k -> Math.max(-1, Math.min(1, at[k] + by * direction[k])))
                    .toArray();
        }
    }
}
