package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.reference.Printed.assertPrinted;
import static org.voltsecond.reference.Printed.assertPublished;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Published inverting buck-boost stages in continuous conduction. What the letters mean stands in {@code Printed}. */
class InvertingReferenceTest {

    private static Converter rashid(double henry, double farad) {
        return PowerStage.invertingBuckBoost()
                .input(12)
                .inductor(henry)
                .outputCapacitor(farad)
                .load(Load.resistor(3.2))
                .drive(Drive.fixedDuty(0.25, kilo(25)));
    }

    /**
     * REF-BB-1: M. H. Rashid, Power Electronics: Devices, Circuits and Applications, Pearson, ex. 5.7. Published S
     * (companion code); exact C (computed for this project, not published).
     */
    @Test
    void bb1RashidExample5x7() {
        Converter stage = rashid(micro(150), micro(220));
        ConverterSteadyState steady = stage.steadyState();
        Waveform output = steady.of(stage.outputVoltage());
        Waveform inductor = steady.of(stage.inductorCurrent());
        double input = steady.of(stage.inputCurrent()).mean();

        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output mean", output.mean(), "-3.99766");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "56.685");
        assertPrinted("inductor ripple", inductor.peakToPeak(), "0.80000");
        assertPrinted("input mean", input, "0.41619");
        assertPrinted("inductor maximum", inductor.maximum(), "2.06475");
        assertPrinted("inductor minimum", inductor.minimum(), "1.26475");
        assertPrinted("switch rms", steady.of(stage.transistorCurrent()).rms(), "0.84034");
        assertPrinted("diode rms", steady.of(stage.rectifierCurrent()).rms(), "1.45634");
        assertPrinted("capacitor rms", steady.of(stage.outputCapacitorCurrent()).rms(), "0.74849");

        assertPublished("output mean", output.mean(), "-4", -4, -3.99766);
        assertPublished("output ripple, mV", 1e3 * output.peakToPeak(), "56.8", 56.818, 56.685);
        assertPublished("inductor ripple", inductor.peakToPeak(), "0.8", 0.8, 0.80000);
        assertPublished("input mean", input, "0.4167", 1.25 / 3, 0.41619);
        assertPublished("inductor maximum", inductor.maximum(), "2.067", 5 / 3.0 + 0.4, 2.06475);
    }

    /**
     * REF-BB-1: the boundary of the modes is at (1-k)² R/(2f) = 36 µH (C); the source's formula (1-k) R/(2f) gives 48 µH
     * (S, companion code), which is in continuous conduction.
     */
    @ParameterizedTest
    @CsvSource({"35.9, DISCONTINUOUS", "36.1, CONTINUOUS", "48, CONTINUOUS"})
    void bb1CriticalInductance(double microhenry, Conduction expected) {
        assertThat(rashid(micro(microhenry), milli(100)).steadyState().conduction())
                .isEqualTo(expected);
    }

    /**
     * REF-BB-1: the published critical capacitance k/(2fR) = 1.56 µF (S, companion code) is where the small-ripple formula
     * puts the ripple at twice the output voltage; at a thousand times that it is a thousandth. 0.5 % for the digits and
     * the ripple's own effect.
     */
    @Test
    void bb1CriticalCapacitance() {
        Converter stage = rashid(micro(150), 1000 * micro(1.56));
        double ripple = stage.steadyState().of(stage.outputVoltage()).peakToPeak();
        assertThat(ripple).isCloseTo(2 * 4 / 1000.0, within(0.005 * 0.008));
    }

    /** REF-BB-3: P. S. Bimbhra, Power Electronics, ex. 7.5, p. 390. S (companion code). Output free of ripple. */
    @ParameterizedTest
    @CsvSource({"120, -660.00", "40, -73.33"})
    void bb3BimbhraExample7x5(double onMicro, String published) {
        Converter stage = PowerStage.invertingBuckBoost()
                .input(220)
                .inductor(milli(10))
                .outputCapacitor(1)
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(onMicro / 160, 1 / micro(160)));
        ConverterSteadyState steady = stage.steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output", steady.of(stage.outputVoltage()).mean(), published);
    }
}
