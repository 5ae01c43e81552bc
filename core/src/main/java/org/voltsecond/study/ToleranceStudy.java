package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageSensitivities;
import org.voltsecond.figures.StageFigure;

/**
 * What the tolerances of the parts do to the figures of a stage, told in three ways: to first order, all tolerances
 * together and as root-sum-square, from the exact derivatives of the nominal steady state; as the worst case of exact
 * steady states at the corners of the tolerances and in between ({@link WorstCase}), which no design passes; and by designs
 * drawn at random. No design is drawn from beyond its tolerances, whatever the distribution. Immutable.
 *
 * <pre>{@code
 * ToleranceStudy study = ToleranceStudy.of(
 *         rail,
 *         List.of(
 *                 Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2),
 *                 Tolerance.relative(rail, StageValue.CAPACITANCE, 0.2)),
 *         Figures.usual());
 * System.out.println(study.run(1000, 1, Execution.standard()).toText()); // 1000 designs, seed 1
 * }</pre>
 */
public final class ToleranceStudy {
    private static final double ROUND_OFF = 1e-13;

    private final Converter converter;
    private final List<Tolerance> tolerances;
    private final List<StageFigure> figures;

    private ToleranceStudy(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures) {
        this.converter = converter;
        this.tolerances = tolerances;
        this.figures = figures;
    }

    /**
     * Plans a study.
     *
     * @param converter the stage at its nominal values; where a regulator drives it, the regulator's own values stay
     * @param tolerances how far values may lie from them; the others stay nominal
     * @param figures what to measure, such as {@link org.voltsecond.figures.Figures#usual()}
     * @return the study
     * @throws IllegalArgumentException if a tolerance does not fit the converter, all faults at once
     */
    public static ToleranceStudy of(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures) {
        return new ToleranceStudy(converter, Tolerance.checked(converter, tolerances), List.copyOf(figures));
    }

    /**
     * Runs the study.
     *
     * @param designs how many designs to draw; at least 1
     * @param seed chooses them
     * @param execution on how many threads, who is told of it, and what can cancel it
     * @return the three side by side
     * @throws org.voltsecond.analysis.NoSteadyStateException if the nominal stage has no steady state
     * @throws java.util.concurrent.CancellationException if the run was cancelled
     */
    public ToleranceTable run(int designs, long seed, Execution execution) {
        ConverterSteadyState steady = converter.steadyState();
        StageSensitivities sensitivities = steady.sensitivities();
        MonteCarlo drawing = MonteCarlo.of(converter, tolerances, figures, seed);
        MonteCarloResult drawn = drawing.run(designs, execution);
        List<List<Double>> shares = figures.stream()
                .map(figure -> shares(figure, steady, sensitivities))
                .toList();
        List<WorstCase> worst =
                new WorstCaseSearch(converter, tolerances, figures).run(shares, drawing, drawn, execution);
        List<ToleranceTable.Row> rows = new ArrayList<>();
        for (int k = 0; k < figures.size(); k++) {
            StageFigure figure = figures.get(k);
            rows.add(new ToleranceTable.Row(
                    figure, figure.in(steady), shares.get(k), worst.get(k), drawn.spread(figure)));
        }
        return new ToleranceTable(tolerances, rows, designs, seed, drawn.failures());
    }

    private List<Double> shares(StageFigure figure, ConverterSteadyState steady, StageSensitivities sensitivities) {
        double nominal = figure.in(steady);
        List<Double> shares = new ArrayList<>();
        for (Tolerance tolerance : tolerances) {
            double share =
                    sensitivities.of(figure.measurement()).withRespectTo(tolerance.value()) * tolerance.halfWidth();
            shares.add(isRounding(share, nominal) ? 0 : share);
        }
        return shares;
    }

    /** Less than what a steady state is right to, as of an output that a regulator holds, is no change. */
    private static boolean isRounding(double share, double nominal) {
        return Math.abs(share) < ROUND_OFF * Math.abs(nominal);
    }
}
