package org.voltsecond.study;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Result;

/**
 * The steady state of a stage with part values drawn at random within their tolerances. Each design follows from the seed
 * and its own number alone, so that the figures have the same bits on any number of threads, and the first designs of a
 * longer run are those of a shorter one. Immutable.
 *
 * <pre>{@code
 * List<Tolerance> tolerances = List.of(Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2));
 * StageFigure peak = StageFigure.of(StageMeasurement.Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT);
 * MonteCarlo draw = MonteCarlo.of(rail, tolerances, List.of(peak), 7); // the seed
 * double worst = draw.run(2000).spread(peak).maximum(); // 2.298 A
 * }</pre>
 */
public final class MonteCarlo {
    private static final long GOLDEN = 0x9E3779B97F4A7C15L;
    /** Designs that one thread takes at a time. */
    private static final int BLOCK = 256;
    /** The same where each design takes a search of the engine. */
    private static final int BLOCK_OF_SEARCHES = 8;

    private final Converter converter;
    private final List<Tolerance> tolerances;
    private final List<StageFigure> figures;
    private final long seed;

    private MonteCarlo(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures, long seed) {
        this.converter = converter;
        this.tolerances = tolerances;
        this.figures = figures;
        this.seed = seed;
    }

    /**
     * Plans a run.
     *
     * @param converter the stage at its nominal values; where {@link StageSampler#isQuickFor} says false, each design takes a
     *     millisecond or so in place of some microseconds
     * @param tolerances how far values may lie from them; the others stay nominal
     * @param figures what to measure
     * @param seed chooses the designs; any number
     * @return the plan
     * @throws IllegalArgumentException if a tolerance does not fit the converter, all faults at once
     */
    public static MonteCarlo of(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures, long seed) {
        return new MonteCarlo(converter, Tolerance.checked(converter, tolerances), List.copyOf(figures), seed);
    }

    /**
     * Runs on all processors.
     *
     * @param designs how many designs; at least 1
     * @return what was found
     */
    public MonteCarloResult run(int designs) {
        return run(designs, Execution.standard());
    }

    /**
     * Runs.
     *
     * @param designs how many designs; at least 1
     * @param execution on how many threads, who is told of it (in blocks of designs), and what can cancel it
     * @return what was found
     * @throws java.util.concurrent.CancellationException if the run was cancelled
     */
    public MonteCarloResult run(int designs, Execution execution) {
        if (designs < 1) {
            throw new IllegalArgumentException("a Monte Carlo run needs 1 design or more but was asked for " + designs);
        }
        int size = StageSampler.isQuickFor(converter) ? BLOCK : BLOCK_OF_SEARCHES;
        List<Integer> blocks =
                IntStream.range(0, (designs + size - 1) / size).boxed().toList();
        // each block writes into its own part; the end of the study makes all of it visible here
        double[] all = new double[designs * figures.size()];
        StudyResults<Integer, List<MonteCarloResult.Failure>> results =
                Study.<Integer, List<MonteCarloResult.Failure>>withOwnAsker(blocks, () -> {
                            Worker worker = new Worker(all);
                            return block -> worker.block(block * size, Math.min(designs, (block + 1) * size));
                        })
                        .run(execution)
                        .complete();
        return new MonteCarloResult(figures, all, failures(results));
    }

    private static List<MonteCarloResult.Failure> failures(
            StudyResults<Integer, List<MonteCarloResult.Failure>> results) {
        List<MonteCarloResult.Failure> failures = new ArrayList<>();
        for (Result<List<MonteCarloResult.Failure>> block : results.results()) {
            if (block.cause().isPresent()) {
                throw block.cause().get();
            }
            failures.addAll(block.get());
        }
        return failures;
    }

    /**
     * Returns the value of a part in one design.
     *
     * @param design number of the design, from 0
     * @param tolerance index of its tolerance
     * @return the value, in its unit
     */
    public double value(int design, int tolerance) {
        Tolerance spread = tolerances.get(tolerance);
        return spread.value().in(converter) + deviation(design, tolerance);
    }

    private double deviation(int design, int tolerance) {
        return tolerances.get(tolerance).halfWidth() * place(design, tolerance);
    }

    /** Where the value of a part lies within its tolerance, from -1 to 1. */
    double place(int design, int tolerance) {
        long counter = (long) design * tolerances.size() + tolerance + 1;
        return tolerances
                .get(tolerance)
                .distribution()
                .draw(Tolerance.Distribution.mix(seed + GOLDEN) + counter * GOLDEN);
    }

    @Override
    public String toString() {
        return "Monte Carlo study of " + converter + ", seed " + seed + ", over "
                + tolerances.stream().map(each -> each.value().toString()).collect(Collectors.joining(", ")) + ": "
                + figures.stream().map(Figure::words).collect(Collectors.joining(", "));
    }

    /** What one thread works with. */
    private final class Worker {
        private final StageSampler sampler = Tolerance.sampler(converter, tolerances, figures);
        private final double[] nominal = sampler.nominal();
        private final double[] values = sampler.nominal();
        private final double[] found = new double[figures.size()];
        private final double[] all;

        Worker(double[] all) {
            this.all = all;
        }

        /** The failures among some designs in a row, whose figures are written. */
        List<MonteCarloResult.Failure> block(int from, int to) {
            List<MonteCarloResult.Failure> failures = new ArrayList<>();
            for (int design = from; design < to; design++) {
                try {
                    measure(design);
                } catch (NoSteadyStateException | InvalidStageException e) {
                    Arrays.fill(found, Double.NaN);
                    failures.add(new MonteCarloResult.Failure(design, String.valueOf(e.getMessage())));
                }
                System.arraycopy(found, 0, all, design * found.length, found.length);
            }
            return failures;
        }

        private void measure(int design) {
            for (int k = 0; k < values.length; k++) {
                values[k] = nominal[k] + deviation(design, k);
            }
            sampler.measure(values, found);
        }
    }
}
