package org.voltsecond.figures;

import java.util.List;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.units.Result;

/**
 * The figures of one subject, such as a steady state, in the order in which they are told; each is measured when it is asked
 * for. Immutable, safe for any thread.
 *
 * <pre>{@code
 * FigureSheet<ConverterSteadyState> sheet = FigureSheet.of(steady);
 * double efficiency = sheet.get(Figures.EFFICIENCY).get(); // 93.05 %
 * }</pre>
 *
 * @param <S> the subject
 */
public final class FigureSheet<S> {
    private final S subject;
    private final List<Figure<? super S>> figures;

    private FigureSheet(S subject, List<? extends Figure<? super S>> figures) {
        this.subject = subject;
        this.figures = List.copyOf(figures);
    }

    /**
     * Returns the sheet of a steady state.
     *
     * @param steady the steady state
     * @return its figures
     */
    public static FigureSheet<ConverterSteadyState> of(ConverterSteadyState steady) {
        return new FigureSheet<>(steady, Figures.steadyState(steady.converter()));
    }

    /**
     * Returns the sheet of a change.
     *
     * @param change what a change does
     * @return its figures
     */
    public static FigureSheet<StepFigures> of(StepFigures change) {
        return new FigureSheet<>(change, Figures.change(change));
    }

    /**
     * Returns the sheet of a start.
     *
     * @param start what a start does
     * @return its figures
     */
    public static FigureSheet<StepFigures> ofStart(StepFigures start) {
        return new FigureSheet<>(start, Figures.start(start));
    }

    /**
     * Returns the sheet of what a regulator does: target, error, and the limits of the control voltage that were taken.
     *
     * @param regulation what became of the output
     * @return its figures
     */
    public static FigureSheet<OutputRegulation> of(OutputRegulation regulation) {
        List<Figure<OutputRegulation>> told = List.of(Figures.TARGET, Figures.REGULATION_ERROR);
        return new FigureSheet<>(
                regulation,
                regulation.controlLimits().isTaken()
                        ? List.of(Figures.TARGET, Figures.REGULATION_ERROR, Figures.CONTROL_LOW, Figures.CONTROL_HIGH)
                        : told);
    }

    /**
     * Returns the sheet of a linear regulator.
     *
     * @param linear the regulator
     * @return its figures
     */
    public static FigureSheet<LinearInstead> of(LinearInstead linear) {
        return new FigureSheet<>(
                linear, List.of(Figures.LINEAR_EFFICIENCY, Figures.LINEAR_INPUT_POWER, Figures.LINEAR_HEAT));
    }

    /**
     * Returns the sheet of a harmonic against its limit.
     *
     * @param worst the harmonic
     * @return its figures
     */
    public static FigureSheet<Worst> of(Worst worst) {
        return new FigureSheet<>(
                worst,
                List.of(
                        Figures.EMISSION_FREQUENCY,
                        Figures.EMISSION_LEVEL,
                        Figures.EMISSION_LIMIT,
                        Figures.EMISSION_MARGIN));
    }

    /**
     * Returns the sheet of temperatures and of what capacitors carry.
     *
     * @param balance the temperatures
     * @return its figures
     */
    public static FigureSheet<HeatBalance> of(HeatBalance balance) {
        return new FigureSheet<>(balance, HeatFigures.told(balance));
    }

    /**
     * Returns the sheet of a transient: its end, output voltage and inductor current.
     *
     * @param figures of the transient
     * @return its figures
     */
    public static FigureSheet<TransientFigures> of(TransientFigures figures) {
        return new FigureSheet<>(figures, figures.told());
    }

    /**
     * Returns what is on the sheet.
     *
     * @return the figures in the order in which they are told
     */
    public List<Figure<? super S>> figures() {
        return figures;
    }

    /**
     * Returns a figure, which need not be one of those that are told.
     *
     * @param figure the figure
     * @return its value, or the reason why there is none
     */
    public Result<Double> get(Figure<? super S> figure) {
        return figure.of(subject);
    }

    @Override
    public String toString() {
        return "figures of the " + subject;
    }
}
