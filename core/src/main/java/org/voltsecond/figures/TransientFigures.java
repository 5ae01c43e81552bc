package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * What is told about a transient: the figures of its start and of each change, worked out once. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run = rail.startUp(milli(2), Change.at(milli(1)).input(15));
 * TransientFigures figures = TransientFigures.of(run, 0.02);
 * double inrush = figures.start().get().peakInductorCurrent(); // 7.540 A
 * double after = figures.changes().get(0).levelAfter().get(); // 6.335 V
 * }</pre>
 */
public final class TransientFigures {
    /** The settling band as a share of the level after a change where none is asked for. Common practice, no source. */
    public static final double USUAL_BAND = 0.02;

    private final ConverterTransient run;
    private final Waveform output;
    private final Waveform current;
    private final Waveform magnitude;
    /** Currents and voltages between source and stage, by their names in files. */
    private final Map<String, Waveform> supply;

    private final EnergyAudit audit;
    private final boolean fromRest;
    private final List<Stretch> stretches;
    private final List<StepFigures> changes;
    private final @Nullable StepFigures start;

    private TransientFigures(
            ConverterTransient run, boolean fromRest, double share, @Nullable Result<ConverterSteadyState> steady) {
        this.run = run;
        this.fromRest = fromRest;
        Converter converter = run.after(0);
        output = run.of(converter.outputVoltage());
        current = run.of(converter.inductorCurrent());
        magnitude = magnitude(converter, output);
        supply = NamedSignals.supplySide(converter).entrySet().stream()
                .collect(Collectors.toMap(
                        Map.Entry::getKey, each -> run.of(each.getValue()), (one, same) -> one, LinkedHashMap::new));
        Cycles cycles = Cycles.of(converter, run);
        // over a long run one walk serves the audit and all that waits by now
        audit = run.audit();
        int last = run.changes().size();
        List<Stretch> all = new ArrayList<>();
        for (int k = 0; k <= last; k++) {
            all.add(Stretch.of(run, k, magnitude, k == 0 ? steady : null, share));
        }
        stretches = List.copyOf(all);
        Waveform drawn = supply.get(NamedSignals.SOURCE_CURRENT);
        StepFigures.Observed observed = new StepFigures.Observed(
                magnitude,
                current,
                drawn == null ? Result.missing("nothing lies between source and stage") : Result.of(drawn));
        List<StepFigures> steps = new ArrayList<>();
        for (int k = 1; k <= last; k++) {
            steps.add(StepFigures.of(
                    all.get(k),
                    all.get(k - 1).level(),
                    observed,
                    cycles,
                    new StepFigures.Ending(share, false, k == last)));
        }
        changes = List.copyOf(steps);
        start = fromRest && all.get(0).lasts()
                ? StepFigures.of(
                        all.get(0),
                        Result.missing("a start comes from rest"),
                        observed,
                        cycles,
                        new StepFigures.Ending(share, true, last == 0))
                : null;
    }

    /**
     * Measures a run that begins at rest if its output does.
     *
     * @param run the run
     * @param settlingBand half the width of the settling band, as a share of the level after a change; more than 0
     * @return its figures
     */
    public static TransientFigures of(ConverterTransient run, double settlingBand) {
        double first = run.of(run.after(0).outputVoltage()).at(0);
        return new TransientFigures(run, first == 0, settlingBand, null);
    }

    /**
     * Measures a run of which more is known.
     *
     * @param run the run
     * @param fromRest whether it begins at rest
     * @param settlingBand half the width of the settling band, as a share of the level after a change; more than 0
     * @param steady the steady state of the converter before all changes, or why there is none
     * @return its figures
     */
    public static TransientFigures of(
            ConverterTransient run, boolean fromRest, double settlingBand, Result<ConverterSteadyState> steady) {
        return new TransientFigures(run, fromRest, settlingBand, steady);
    }

    /**
     * Returns the run.
     *
     * @return the run
     */
    public ConverterTransient run() {
        return run;
    }

    /**
     * Returns the output voltage of the run.
     *
     * @return the output voltage, V
     */
    public Waveform outputVoltage() {
        return output;
    }

    /**
     * Returns the inductor current of the run.
     *
     * @return the inductor current, A
     */
    public Waveform inductorCurrent() {
        return current;
    }

    /**
     * Returns where the energy of the run went.
     *
     * @return the audit
     */
    public EnergyAudit audit() {
        return audit;
    }

    /**
     * Returns the figures of the start.
     *
     * @return until the first change or the end; none where the run does not begin at rest
     */
    public Result<StepFigures> start() {
        return start == null ? Result.missing("the run does not begin at rest") : Result.of(start);
    }

    /**
     * Returns the figures of each change.
     *
     * @return in order of time
     */
    public List<StepFigures> changes() {
        return changes;
    }

    /**
     * Returns the magnitude of the output voltage of the run.
     *
     * @return what droop and overshoot are measured on, V
     */
    public Waveform magnitude() {
        return magnitude;
    }

    /** What limits are held against: what follows each change, and the start unless it is the steady state and stays there. */
    List<Stretch> stretches() {
        return stretches.stream()
                .filter(stretch -> stretch.lasts()
                        && (fromRest || stretch.from() > 0 || !stretch.settled().exists()))
                .toList();
    }

    /** When the run ends, its state there, output voltage, inductor current, what lies between source and stage, and audit. */
    List<Figure<TransientFigures>> told() {
        List<Figure<TransientFigures>> all = new ArrayList<>();
        all.add(Figure.of("final_time", "at its end", Unit.SECOND, figures -> Result.of(figures.run.finalTime())));
        all.add(Figure.of(
                "final_state/inductor_current",
                "inductor current at the end",
                Unit.AMPERE,
                figures -> Result.of(Told.number(figures.run.finalInductorCurrent(), figures.current))));
        all.add(Figure.of(
                "final_state/output_capacitor_voltage",
                "voltage of the output capacitor at the end",
                Unit.VOLT,
                figures -> Result.of(Told.number(figures.run.finalCapacitorVoltage(), figures.output))));
        all.addAll(SignalMeasure.of(NamedSignals.OUTPUT_VOLTAGE, Unit.VOLT, TransientFigures::outputVoltage));
        all.addAll(SignalMeasure.of(NamedSignals.INDUCTOR_CURRENT, Unit.AMPERE, TransientFigures::inductorCurrent));
        supply.forEach((name, waveform) -> all.addAll(SignalMeasure.of(name, waveform.unit(), figures -> waveform)));
        all.add(Figure.of(
                "audit_residual",
                "residual of the energy audit",
                Unit.ONE,
                figures -> Result.of(figures.audit.residual())));
        return all;
    }

    static Waveform magnitude(Converter converter, Waveform output) {
        return converter.roles().isInverting() ? output.times(-1).named("magnitude of the " + output.name()) : output;
    }

    @Override
    public String toString() {
        return "figures of the " + run;
    }
}
