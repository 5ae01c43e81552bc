package org.voltsecond.examples.javadoc;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Piece;
import org.voltsecond.plot.Pictures;
import org.voltsecond.waveform.Waveform;

/** What a shell shows of the values that one comes by there: what they are, in place of a class and a number. */
class PrintedValuesTest {
    private static final Waveform OUTPUT = Ready.steady.of(Ready.rail.outputVoltage());

    @Test
    void stagesTellWhatIsGivenSoFar() {
        assertThat(PowerStage.buck()).hasToString("buck stage");
        assertThat(PowerStage.boost().input(9).inductor(22e-6)).hasToString("boost stage, 9 V, 22 µH");
        assertThat(Ready.stage).hasToString("buck stage, 12 V, 22 µH, 47 µF, load 2.5 Ω");
    }

    @Test
    void regulatorsTellTheirKind() {
        Compensator lag = Compensator.type2(1500, 4557, 100e3);
        assertThat(List.of(
                        lag,
                        Compensator.proportional(2.5),
                        VoltageMode.of(300e3, 1, 0.2, lag),
                        CurrentMode.peak(300e3, 2),
                        CurrentMode.valley(300e3, 2),
                        Hysteretic.voltageBand(300e3, 1, 0.2, 1e-3),
                        ConstantOnTime.of(300e3, 1, 0.2, 1e-6, 1e-7),
                        SampledControl.of(300e3, 1, 0.2, 0.1)))
                .hasToString("[integrator of 1500.0 1/s, zero 4.557 kHz, pole 100.0 kHz, gain of 2.5, "
                        + "voltage mode at 300.0 kHz, peak current mode at 300.0 kHz, valley current mode at 300.0 kHz, "
                        + "hysteretic control near 300.0 kHz, constant on-time control near 300.0 kHz, "
                        + "sampled control at 300.0 kHz]");
    }

    @Test
    void resultsTellWhatTheyCover() {
        assertThat(Ready.steady.periodic()).hasToString("steady state of " + Ready.rail.driven() + ", period 3.333 µs");
        assertThat(Ready.start.run()).hasToString("run of " + Ready.rail.driven() + " until 2.000 ms");
        assertThat(Ready.start.run().trajectory()).hasToString("1211 intervals from 0.0 s to 0.002 s");
        assertThat(OUTPUT.spectrum(5)).hasToString("5 harmonics of 300.0 kHz");
        assertThat(OUTPUT.envelope(0, 3e-6, 8)).hasToString("8 columns from 0.0 s");
        assertThat(Pictures.stacked(OUTPUT).withSize(800, 600)).hasToString("picture of 800 by 600");
    }

    @Test
    void numbersOfTheEngineAreShown() {
        assertThat(AffineMap.of(new double[][] {{1, 0}, {0, 2}}, new double[] {3, 4}))
                .hasToString("matrix by rows [1.0, 0.0, 0.0, 2.0], offset [3.0, 4.0]");
        assertThat(Piece.of(0, 2, new double[] {1, 3})).hasToString("coefficients [1.0, 3.0] from 0.0 s for 2.0 s");
    }
}
