package org.voltsecond.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.voltsecond.waveform.Edge;
import org.voltsecond.waveform.Waveform;

/**
 * Finds where in a run a capture was taken.
 *
 * <p>Capture and run are averaged over bins, first wide and then narrow ones, and the capture goes where the variance of
 * their difference is least: a correlation that also minds the size. Where the signal jumps, the edges have the last word.
 *
 * @param shift what to add to a time of the capture for one of the run, s
 * @param byEdges whether edges were found to tell it
 */
record RunAlignment(double shift, boolean byEdges) {
    private static final int WIDE_BINS = 256;
    private static final int WIDE_BINS_OF_LONG_RUNS = 64;
    private static final double LONG_RUN = 50;
    private static final int MOST_NARROW_BINS = 4096;
    /** So many bins of the run are worked out, if it does not take more to have the wide ones. */
    private static final double BINS_OF_RUN = 200_000;

    private static final int STEPS_IN_A_BIN = 4;
    private static final int MOST_LOWS = 24;
    /** An offset of the probe weighs next to nothing beside a difference in shape: it decides where shape does not. */
    private static final double WEIGHT_OF_OFFSET = 1e-4;

    static RunAlignment of(Capture capture, Waveform run) {
        double length = capture.endTime() - capture.startTime();
        double ratio = (run.endTime() - run.startTime()) / length;
        int wide = Math.min(ratio > LONG_RUN ? WIDE_BINS_OF_LONG_RUNS : WIDE_BINS, capture.size() - 1);
        int narrow = (int) Math.min(MOST_NARROW_BINS, Math.max(wide, 0.5 * BINS_OF_RUN / ratio));
        narrow = Math.min(narrow, capture.size() - 1);
        RunIntegral integral = RunIntegral.of(run, (int) Math.ceil(2 * narrow * ratio));
        double least = run.startTime() - capture.startTime() - 0.5 * length;
        double most = run.endTime() - capture.startTime() - 0.5 * length;
        Bins coarse = Bins.of(capture, wide);
        Bins fine = Bins.of(capture, narrow);
        Jumps jumps = Jumps.of(capture, run);
        RunAlignment best = new RunAlignment(least, false);
        double cost = Double.POSITIVE_INFINITY;
        for (double place : lows(coarse, integral, least, most)) {
            double from = Math.max(least, place - coarse.width);
            double shift = lows(fine, integral, from, Math.min(most, place + coarse.width))
                    .get(0);
            OptionalDouble edges = jumps.shift(shift, length / WIDE_BINS_OF_LONG_RUNS);
            RunAlignment next = new RunAlignment(edges.orElse(shift), edges.isPresent());
            if (fine.cost(integral, next.shift) < cost) {
                cost = fine.cost(integral, next.shift);
                best = next;
            }
        }
        return best;
    }

    /** A shift at which the cost is lowest all around, and that cost. */
    private record Low(double shift, double cost) {}

    /** The shifts of the lowest costs, refined by parabolas, the lowest first. One period of pulses is like the next. */
    private static List<Double> lows(Bins bins, RunIntegral run, double least, double most) {
        int steps = (int) Math.max(2, Math.ceil((most - least) / bins.width * STEPS_IN_A_BIN));
        double step = (most - least) / steps;
        double[] costs = new double[steps + 1];
        Arrays.setAll(costs, i -> bins.cost(run, least + i * step));
        List<Low> lows = new ArrayList<>();
        for (int i = 0; i <= steps; i++) {
            double before = i > 0 ? costs[i - 1] : Double.POSITIVE_INFINITY;
            double after = i < steps ? costs[i + 1] : Double.POSITIVE_INFINITY;
            if (costs[i] <= before && costs[i] <= after) {
                double bend = before - 2 * costs[i] + after;
                double lean = before - after;
                boolean inside = bend > 0 && bend < Double.POSITIVE_INFINITY;
                double between = inside ? 0.5 * lean / bend : 0;
                double deeper = inside ? lean * lean / (8 * bend) : 0;
                lows.add(new Low(least + (i + between) * step, costs[i] - deeper));
            }
        }
        lows.sort(Comparator.comparingDouble(Low::cost));
        return lows.stream().limit(MOST_LOWS).map(Low::shift).toList();
    }

    /** The means of a capture over bins of equal width. */
    private static final class Bins {
        private final double start;
        private final double width;
        private final double[] means;

        private Bins(double start, double width, double[] means) {
            this.start = start;
            this.width = width;
            this.means = means;
        }

        static Bins of(Capture capture, int count) {
            double start = capture.startTime();
            double width = (capture.endTime() - start) / count;
            double[] means = new double[count];
            Arrays.setAll(
                    means, k -> capture.mean(start + k * width, Math.min(capture.endTime(), start + (k + 1) * width)));
            return new Bins(start, width, means);
        }

        double cost(RunIntegral run, double shift) {
            double sum = 0;
            double squares = 0;
            double before = run.at(start + shift);
            for (int k = 0; k < means.length; k++) {
                double after = run.at(start + (k + 1) * width + shift);
                double difference = means[k] - (after - before) / width;
                sum += difference;
                squares += difference * difference;
                before = after;
            }
            double offset = sum / means.length;
            return squares / means.length - (1 - WEIGHT_OF_OFFSET) * offset * offset;
        }
    }

    /**
     * The edges of a capture, and the jumps of a run.
     *
     * @param edges of the capture
     * @param rises when the run jumps up
     * @param falls when it jumps down
     * @param from start of the run
     * @param to its end
     */
    private record Jumps(CaptureEdges edges, double[] rises, double[] falls, double from, double to) {
        static Jumps of(Capture capture, Waveform run) {
            double middle = 0.5 * (run.minimum() + run.maximum());
            double least = 0.5 * run.peakToPeak();
            List<Edge> jumps = run.edges().stream()
                    .filter(edge -> Math.abs(edge.height()) >= least)
                    .filter(edge -> (edge.before() - middle) * (edge.after() - middle) < 0)
                    .toList();
            return new Jumps(
                    CaptureEdges.of(capture), times(jumps, 1), times(jumps, -1), run.startTime(), run.endTime());
        }

        private static double[] times(List<Edge> jumps, int sign) {
            return jumps.stream()
                    .filter(edge -> sign * edge.height() > 0)
                    .mapToDouble(Edge::time)
                    .toArray();
        }

        /** A shift moved by the median distance from edges to jumps; empty unless most edges have a jump near. */
        OptionalDouble shift(double shift, double near) {
            CaptureEdges common = edges.within(from - shift, to - shift);
            List<Double> distances = new ArrayList<>();
            addDistances(distances, common.rising(), rises, shift, near);
            addDistances(distances, common.falling(), falls, shift, near);
            int all = common.rising().length + common.falling().length;
            if (distances.isEmpty() || 2 * distances.size() < all) {
                return OptionalDouble.empty();
            }
            Collections.sort(distances);
            int half = distances.size() / 2;
            double upper = distances.get(half);
            double median = distances.size() % 2 == 1 ? upper : 0.5 * (distances.get(half - 1) + upper);
            return OptionalDouble.of(shift + median);
        }
    }

    private static void addDistances(List<Double> all, double[] captured, double[] jumps, double shift, double near) {
        for (double time : captured) {
            int at = Arrays.binarySearch(jumps, time + shift);
            int after = at >= 0 ? at : -at - 1;
            double next = after < jumps.length ? jumps[after] - time - shift : Double.POSITIVE_INFINITY;
            double last = after > 0 ? jumps[after - 1] - time - shift : Double.NEGATIVE_INFINITY;
            double distance = next < -last ? next : last;
            // nearer to one than to any other by far, else it may as well be the other
            if (Math.abs(distance) < near && Math.abs(distance) < (next - last) / 4) {
                all.add(distance);
            }
        }
    }
}
