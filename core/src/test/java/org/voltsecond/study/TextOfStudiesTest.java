package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.Margins;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.bench.Capture;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.CornerMargin;
import org.voltsecond.sizing.CornerResult;
import org.voltsecond.sizing.Criterion;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.LoopCornerResult;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Unit;

/** What a study says of itself, in a shell for example. */
class TextOfStudiesTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(22e-6)
            .outputCapacitor(47e-6, 5e-3)
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, 300e3));
    private static final String RAIL_IN_WORDS = "buck converter from 12 V, load 2.5 Ω, duty cycle 0.45 at 300 kHz";
    private static final List<StageFigure> FIGURES = List.of(Figures.OUTPUT_RIPPLE, Figures.EFFICIENCY);
    private static final String FIGURES_IN_WORDS = "output voltage peak to peak, efficiency";
    private static final Execution ONE = Execution.onThreads(1);

    @Test
    void aSweepAndAMapTellTheirAxesAndFigures() {
        Axis load = Axis.loadResistance(1, 4, 2);
        assertThat(Sweep.of(RAIL, load, FIGURES, ONE))
                .hasToString("sweep over load resistance (Ω): " + FIGURES_IN_WORDS);
        assertThat(OperatingMap.of(RAIL, load, Axis.inputVoltage(9, 15, 2), FIGURES, ONE))
                .hasToString("map over load resistance (Ω) and input voltage (V): " + FIGURES_IN_WORDS);
    }

    @Test
    void aMonteCarloStudyTellsWhatItVaries() {
        List<Tolerance> tolerances = List.of(
                Tolerance.relative(RAIL, StageValue.INDUCTANCE, 0.2),
                Tolerance.relative(RAIL, StageValue.CAPACITANCE, 0.2));
        assertThat(MonteCarlo.of(RAIL, tolerances, FIGURES, 7))
                .hasToString("Monte Carlo study of " + RAIL_IN_WORDS + ", seed 7, over inductance, output capacitance: "
                        + FIGURES_IN_WORDS);
        assertThat(StageSampler.of(
                        RAIL,
                        List.of(),
                        FIGURES.stream().map(StageFigure::measurement).toList()))
                .hasToString("sampler of " + RAIL_IN_WORDS + ": " + FIGURES_IN_WORDS);
    }

    @Test
    void derivativesTellOfWhatAndByWhat() {
        ConverterSteadyState steady = RAIL.steadyState();
        assertThat(steady.sensitivities()).hasToString("derivatives of the steady state of " + RAIL_IN_WORDS);
        assertThat(steady.sensitivities().of(Figures.EFFICIENCY.measurement()))
                .hasToString("derivatives of efficiency of the steady state of " + RAIL_IN_WORDS);
        Parameter inductance = Parameter.inductance("L1");
        assertThat(steady.periodic().sensitivities().to(inductance).toString())
                .startsWith("derivatives of steady state of ")
                .endsWith(", period 3.333 µs by " + inductance);
    }

    @Test
    void anExecutionTellsItsThreads() {
        assertThat(ONE).hasToString("on 1 thread");
        assertThat(ONE.withThreads(3)).hasToString("on 3 threads");
    }

    @Test
    void checksTellTheirCornersInWords() {
        Corner corner = new Corner(9, 2);
        CornerResult sized =
                new CornerResult(corner, 0.5927, 1.976e-6, Conduction.CONTINUOUS, 2, 0.3398, 2.17, 0.01854, 0.9372);
        CornerMargin margin = new CornerMargin(corner, Criterion.OUTPUT_RIPPLE, 0.06, 0.05);
        Corner dark = new Corner(4, 2);
        assertThat(new PartsCheck(List.of(sized), Map.of(dark, "too low"), List.of(margin))
                        .toString()
                        .lines())
                .containsExactly(
                        "not all limits met; tightest: output ripple 60.00 mV of at most 50.00 mV at 9.000 V in, 2.000 A out",
                        "  9.000 V in, 2.000 A out: duty cycle 59.27 %, continuous, inductor ripple 339.8 mA and peak "
                                + "2.170 A, output ripple 18.54 mV, efficiency 93.72 %",
                        "  4.000 V in, 2.000 A out: too low");
        Margins margins = new Margins(
                true,
                List.of(new Margins.Crossover(20e3, 60)),
                Margins.Bound.of(12.3, 90e3),
                Margins.Bound.none("no limit"));
        Margins none =
                new Margins(false, List.of(), Margins.Bound.none("nothing helps"), Margins.Bound.none("nothing helps"));
        assertThat(new LoopCheck(
                                List.of(
                                        new LoopCornerResult(corner, Conduction.CONTINUOUS, margins),
                                        new LoopCornerResult(corner, Conduction.DISCONTINUOUS, none)),
                                Map.of(dark, "too low"))
                        .toString()
                        .lines())
                .containsExactly(
                        "not stable at every corner",
                        "  9.000 V in, 2.000 A out: continuous, crossover 20.00 kHz, phase margin 60.00 degrees, gain margin 12.30 dB, "
                                + "stable",
                        "  9.000 V in, 2.000 A out: discontinuous, no crossover, no gain margin, not stable",
                        "  4.000 V in, 2.000 A out: too low");
    }

    /** A linear regulator by hand: 5/15 and 5/9; (15 - 5) V times 2 A. */
    @Test
    void lossesAndChoicesAreToldInWords() {
        LossEntry entry = new LossEntry("output capacitor", LossEntry.CONDUCTION, 0.25);
        assertThat(new LossBudget(10, List.of(entry, entry)).toString().lines())
                .containsExactly(
                        "losses 500.0 mW beside an output of 10.00 W",
                        "  output capacitor, conduction: 250.0 mW",
                        "  output capacitor, conduction: 250.0 mW");
        assertThat(StageChoice.of(new Span(9, 15), 5, new Span(0.05, 2))
                        .linear()
                        .orElseThrow())
                .hasToString("linear regulator: efficiency 33.3 % to 55.6 % at most, up to 20.00 W of heat");
        assertThat(new Span(9, 15)).hasToString("9.0 to 15.0");
        assertThat(Capture.sampled("node", Unit.VOLT, -9e-4, 1e-6, new double[] {1, 2, 3}))
                .hasToString("node (V), 3 samples from -900 µs to -898 µs");
        assertThat(RAIL.steadyState().of(RAIL.outputVoltage()))
                .hasToString("output voltage (V) from 0 s to 3.33333 µs");
    }
}
