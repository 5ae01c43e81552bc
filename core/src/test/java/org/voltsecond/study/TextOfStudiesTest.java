package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageFigure;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;

/** What a study says of itself, in a shell for example. */
class TextOfStudiesTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(22e-6)
            .outputCapacitor(47e-6, 5e-3)
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, 300e3));
    private static final String RAIL_IN_WORDS = "buck converter from 12 V, load 2.5 Ω, duty cycle 0.45 at 300 kHz";
    private static final List<StageFigure> FIGURES = List.of(StageFigure.outputRipple(), StageFigure.efficiency());
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
        assertThat(StageSampler.of(RAIL, FIGURES)).hasToString("sampler of " + RAIL_IN_WORDS + ": " + FIGURES_IN_WORDS);
    }

    @Test
    void derivativesTellOfWhatAndByWhat() {
        ConverterSteadyState steady = RAIL.steadyState();
        assertThat(steady.sensitivities()).hasToString("derivatives of the steady state of " + RAIL_IN_WORDS);
        assertThat(steady.sensitivities().of(StageFigure.efficiency()))
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
}
