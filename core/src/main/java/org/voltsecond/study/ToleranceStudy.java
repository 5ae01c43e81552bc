package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageSensitivities;
import org.voltsecond.figures.StageFigure;

/**
 * What the tolerances of the parts do to the figures of a stage, told in three ways: worst case and root-sum-square from
 * the exact derivatives of the nominal steady state, and designs drawn at random. The first two hold to first order in
 * the tolerances; the third is exact for each design and tells how far the first order can be trusted. Immutable.
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
     * @param figures what to measure, such as {@link Figures#usual()}
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
        MonteCarloResult drawn =
                MonteCarlo.of(converter, tolerances, figures, seed).run(designs, execution);
        List<ToleranceTable.Row> rows = new ArrayList<>();
        for (StageFigure figure : figures) {
            double nominal = figure.in(steady);
            List<Double> shares = new ArrayList<>();
            for (Tolerance tolerance : tolerances) {
                double share =
                        sensitivities.of(figure.measurement()).withRespectTo(tolerance.value()) * tolerance.halfWidth();
                shares.add(isRounding(share, nominal) ? 0 : share);
            }
            rows.add(new ToleranceTable.Row(figure, nominal, shares, drawn.spread(figure)));
        }
        return new ToleranceTable(tolerances, rows, designs, seed, drawn.failures());
    }

    /** Less than what a steady state is right to, as of an output that a regulator holds, is no change. */
    private static boolean isRounding(double share, double nominal) {
        return Math.abs(share) < ROUND_OFF * Math.abs(nominal);
    }
}
