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
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Spectrum;
import org.voltsecond.waveform.Waveform;

/** Published buck stages in continuous conduction. What the letters mean stands in {@code Printed}. */
class BuckReferenceTest {

    private static Converter ideal(double input, double henry, double farad, double ohm, double duty, double hertz) {
        return PowerStage.buck()
                .input(input)
                .inductor(henry)
                .outputCapacitor(farad)
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(duty, hertz));
    }

    /**
     * REF-BUCK-1: D. W. Hart, Power Electronics, McGraw-Hill 2011, ex. 6-1. Published column S-p (partly seen, the ripple
     * from memory); exact column C (computed for this project, not published).
     */
    @Test
    void buck1HartExample6x1() {
        Converter buck = ideal(50, micro(400), micro(100), 20, 0.4, kilo(20));
        ConverterSteadyState steady = buck.steadyState();
        Waveform output = steady.of(buck.outputVoltage());
        Waveform inductor = steady.of(buck.inductorCurrent());
        double ripple = 100 * output.peakToPeak() / output.mean();

        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output mean", output.mean(), "20.0000");
        assertPrinted("inductor mean", inductor.mean(), "1.00000");
        assertPrinted("inductor ripple", inductor.peakToPeak(), "1.50188");
        assertPrinted("inductor maximum", inductor.maximum(), "1.75094");
        assertPrinted("inductor minimum", inductor.minimum(), "0.24906");
        assertPrinted("output ripple, %", ripple, "0.4695");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "93.9");
        assertPrinted("inductor rms", inductor.rms(), "1.0900");
        assertPrinted("switch rms", steady.of(buck.transistorCurrent()).rms(), "0.6894");
        assertPrinted("diode rms", steady.of(buck.rectifierCurrent()).rms(), "0.8443");
        assertPrinted("capacitor rms", steady.of(buck.outputCapacitorCurrent()).rms(), "0.4337");

        assertPublished("output mean", output.mean(), "20", 20, 20.0000);
        assertPublished("inductor mean", inductor.mean(), "1", 1, 1.00000);
        assertPublished("inductor ripple", inductor.peakToPeak(), "1.5", 1.5, 1.50188);
        assertPublished("inductor maximum", inductor.maximum(), "1.75", 1.75, 1.75094);
        assertPublished("inductor minimum", inductor.minimum(), "0.25", 0.25, 0.24906);
        assertPublished("output ripple, %", ripple, "0.469", 0.46875, 0.4695);
    }

    /**
     * REF-BUCK-2: D. W. Hart, Power Electronics, McGraw-Hill 2011, ex. 6-2. Published S-p (statement seen, numbers from
     * memory); exact C (computed for this project, not published).
     */
    @Test
    void buck2HartExample6x2() {
        Converter buck = ideal(48, micro(97.5), micro(100), 10, 0.375, kilo(40));
        ConverterSteadyState steady = buck.steadyState();
        Waveform output = steady.of(buck.outputVoltage());
        Waveform inductor = steady.of(buck.inductorCurrent());
        double capacitorRms = steady.of(buck.outputCapacitorCurrent()).rms();
        double ripple = 100 * output.peakToPeak() / output.mean();

        assertPrinted("inductor ripple", inductor.peakToPeak(), "2.8882");
        assertPrinted("inductor maximum", inductor.maximum(), "3.2441");
        assertPrinted("inductor minimum", inductor.minimum(), "0.3559");
        assertPrinted("inductor rms", inductor.rms(), "1.98383");
        assertPrinted("capacitor rms", capacitorRms, "0.83402");
        assertPrinted("output ripple, %", ripple, "0.5016");

        assertPublished("output mean", output.mean(), "18", 18, 18);
        assertPublished("inductor mean", inductor.mean(), "1.8", 1.8, 1.8);
        assertPublished("inductor ripple", inductor.peakToPeak(), "2.88", 2.8846, 2.8882);
        assertPublished("inductor maximum", inductor.maximum(), "3.24", 3.2423, 3.2441);
        assertPublished("inductor minimum", inductor.minimum(), "0.36", 0.3577, 0.3559);
        assertPublished("inductor rms", inductor.rms(), "1.98", Math.sqrt(1.8 * 1.8 + 2.8846 * 2.8846 / 12), 1.98383);
        assertPublished("capacitor rms", capacitorRms, "0.83", 2.8846 / Math.sqrt(12), 0.83402);
    }

    /** REF-BUCK-2: the published least inductance of 78 µH (recomputed: 78.125 µH) divides the two modes. */
    @ParameterizedTest
    @CsvSource({"77.8, DISCONTINUOUS", "78.4, CONTINUOUS"})
    void buck2LeastInductance(double microhenry, Conduction expected) {
        Converter buck = ideal(48, micro(microhenry), milli(100), 10, 0.375, kilo(40));
        assertThat(buck.steadyState().conduction()).isEqualTo(expected);
    }

    /**
     * REF-BUCK-3: M. H. Rashid, Power Electronics: Devices, Circuits and Applications, Pearson, ex. 5.5. S (seen in open
     * companion code): k 41.67 %, L 145.83 µH, C 200 µF give 0.8 A and 20 mV peak to peak. At a load of 1 A, since the
     * source's 500 Ω would be discontinuous (see the discontinuous cases). Tolerance: the ripple's own effect of
     * (T²/(LC))/24 or so, here 0.3 %.
     */
    @Test
    void buck3RashidExample5x5() {
        Converter buck = ideal(12, micro(145.83), micro(200), 5, 0.4167, kilo(25));
        ConverterSteadyState steady = buck.steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.of(buck.outputVoltage()).mean()).isCloseTo(5, within(12 * 0.5e-4));
        assertThat(steady.of(buck.inductorCurrent()).peakToPeak()).isCloseTo(0.8, within(0.003 * 0.8));
        assertThat(steady.of(buck.outputVoltage()).peakToPeak()).isCloseTo(milli(20), within(0.003 * milli(20)));
    }

    /** REF-BUCK-3: the published critical inductance of 5.83 mH at 500 Ω divides the two modes (S, companion code). */
    @ParameterizedTest
    @CsvSource({"5.80, DISCONTINUOUS", "5.86, CONTINUOUS"})
    void buck3CriticalInductance(double millihenry, Conduction expected) {
        Converter buck = ideal(12, milli(millihenry), micro(200), 500, 5 / 12.0, kilo(25));
        assertThat(buck.steadyState().conduction()).isEqualTo(expected);
    }

    /**
     * REF-BUCK-3: the published critical capacitance of 0.4 µF (S, companion code) is where the small-ripple formula puts
     * the ripple at twice the output voltage. At a thousand times that capacitance the ripple is a thousandth of it.
     */
    @Test
    void buck3CriticalCapacitance() {
        Converter buck = ideal(12, micro(145.83), 1000 * micro(0.4), 5, 5 / 12.0, kilo(25));
        double ripple = buck.steadyState().of(buck.outputVoltage()).peakToPeak();
        assertThat(ripple).isCloseTo(2 * 5 / 1000.0, within(0.002 * 0.01));
    }

    /**
     * REF-BUCK-4: M. H. Rashid, Power Electronics, ex. 5.10. Published S (companion code): 681.82 µH, 8.33 µF for 2 A and
     * 1.5 V; exact with 3 Ω: C (computed for this project, not published).
     */
    @Test
    void buck4RashidExample5x10() {
        double henry = 60 * (110 - 60) / (2 * kilo(20) * 110);
        double farad = 2 / (8 * kilo(20) * 1.5);
        assertPrinted("inductance, µH", 1e6 * henry, "681.82");
        assertPrinted("capacitance, µF", 1e6 * farad, "8.33");
        Converter buck = ideal(110, micro(681.82), micro(8.33), 3, 60 / 110.0, kilo(20));
        ConverterSteadyState steady = buck.steadyState();
        double ripple = steady.of(buck.outputVoltage()).peakToPeak();
        assertPrinted("inductor ripple", steady.of(buck.inductorCurrent()).peakToPeak(), "2.0167");
        assertPrinted("output ripple", ripple, "1.4571");
        assertPrinted(
                "output ripple, %",
                100 * ripple / steady.of(buck.outputVoltage()).mean(), "2.428");
        assertPrinted("capacitor rms", steady.of(buck.outputCapacitorCurrent()).rms(), "0.5561");
        assertPublished("output ripple, %", 100 * ripple / 60, "2.5", 2.5, 2.428);
    }

    /**
     * REF-BUCK-4 with the published load inductance of 40.91 µH (S, companion code). The source takes the capacitor's
     * voltage for a square wave, so that the true ripple of the load current stays below the 1 A that it sizes for.
     */
    @Test
    void buck4LoadInductance() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 110)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", Circuit.GROUND, "sw")
                .inductor("L1", "sw", "out", micro(681.82))
                .capacitor("C1", "out", Circuit.GROUND, micro(8.33))
                .inductor("L2", "out", "load", micro(40.91))
                .resistor("R1", "load", Circuit.GROUND, 3)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(60 / 110.0, kilo(20)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.of(driven.current("L2")).mean()).isCloseTo(20, within(1e-9));
        assertThat(steady.of(driven.current("L2")).peakToPeak()).isBetween(0.05, 1.0);
    }

    /**
     * REF-BUCK-5: J. M. Jacob, Power Electronics: Principles and Applications, ex. 7.2 and 7.3 (p. 335). Published S
     * (companion code, which rounds the on-time to 4.2 µs: 1 %); recomputed C, at a ripple-free output.
     */
    @Test
    void buck5JacobExample7x3() {
        Converter buck = ideal(12, micro(220), 0.1, 10, 5 / 12.0, kilo(100));
        ConverterSteadyState steady = buck.steadyState();
        Waveform inductor = steady.of(buck.inductorCurrent());
        double switchRms = steady.of(buck.transistorCurrent()).rms();
        assertPrinted("on-time, µs", 1e6 * steady.onTime(), "4.17");
        assertPrinted("inductor ripple, mA", 1e3 * inductor.peakToPeak(), "132.58");
        assertPrinted("inductor maximum, mA", 1e3 * inductor.maximum(), "566.29");
        assertPrinted("switch rms, mA", 1e3 * switchRms, "323.69");

        assertThat(steady.of(buck.loadCurrent()).mean()).isCloseTo(milli(500), within(1e-9));
        assertThat(inductor.peakToPeak()).isCloseTo(milli(133.6), within(0.01 * milli(133.6)));
        assertThat(inductor.maximum()).isCloseTo(milli(566.8), within(0.01 * milli(566.8)));
        assertThat(switchRms).isCloseTo(milli(325.0), within(0.01 * milli(325.0)));
    }

    /**
     * REF-BUCK-6: S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., ex. 11.17, p. 539.
     * S (companion code): D = (Vo + Vf) / (Vin - Vsat + Vf) holds 5 V. The companion prints 31.1 % at 16 V after
     * subtracting 0.1 by hand; 5/16 is 31.25 %. The saturation voltage is a rectifier in series with the switch. In
     * continuous conduction the mean is exact whatever the ripple.
     */
    @ParameterizedTest
    @CsvSource({
        "12, 0, 0, 41.7",
        "12, 0.5, 0.7, 46.7",
        "8, 0, 0, 62.5",
        "16, 0, 0, 31.25",
        "8, 0.5, 0.7, 69.5",
        "16, 0.5, 0.7, 35.2"
    })
    void buck6FrancoExample11x17(double input, double saturation, double forwardDrop, String percent) {
        double duty = (5 + forwardDrop) / (input - saturation + forwardDrop);
        assertPrinted("duty cycle, %", 100 * duty, percent);
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, input)
                .switchPart("Q1", "in", "emitter", 0)
                .rectifier("D2", "emitter", "sw", saturation, 0)
                .rectifier("D1", Circuit.GROUND, "sw", forwardDrop, 0)
                .inductor("L1", "sw", "out", micro(100))
                .capacitor("C1", "out", Circuit.GROUND, micro(100))
                .resistor("R1", "out", Circuit.GROUND, 5)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(duty, kilo(100)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(5, within(1e-11));
    }

    /**
     * REF-BUCK-8: P. S. Bimbhra, Power Electronics, ex. 7.11, p. 408: switch and R-L-E load, exact exponentials. Published
     * S (companion code), recomputed C.
     */
    @Test
    void buck8BimbhraExample7x11() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 220)
                .switchPart("Q1", "in", "a", 0)
                .rectifier("D1", Circuit.GROUND, "a")
                .resistor("R1", "a", "b", 1)
                .inductor("L1", "b", "c", milli(5))
                .voltageSource("V2", "c", Circuit.GROUND, 24)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.3, 500))
                .build();
        SteadyState steady = SteadyState.of(driven);
        Waveform current = steady.of(driven.current("L1"));
        Waveform supply = steady.of(driven.current("V1").times(-1));
        assertPrinted("mean", current.mean(), "42.0000");
        assertPrinted("maximum", current.maximum(), "51.4596");
        assertPrinted("minimum", current.minimum(), "33.0311");
        assertPrinted("supply mean", supply.mean(), "12.72887");
        assertPrinted("rms", current.rms(), "42.3362");

        assertPrinted("mean, published", current.mean(), "42.00");
        assertPrinted("maximum, published", current.maximum(), "51.46");
        assertPrinted("minimum, published", current.minimum(), "33.03");
        assertPrinted("supply mean, published", supply.mean(), "12.7289");
        assertPrinted("input power, published", 220 * supply.mean(), "2800.35");
    }

    /** REF-BUCK-8: the published harmonics (rms) and the rms value of mean and three harmonics. S (companion code). */
    @Test
    void buck8Harmonics() {
        Spectrum spectrum = harmonicsOfBuck8();
        double sum = 42.0 * 42.0;
        String[] published = {"5.0903", "1.4983", "0.21643"};
        for (int k = 1; k <= 3; k++) {
            assertPrinted("harmonic " + k, spectrum.amplitude(k) / Math.sqrt(2), published[k - 1]);
            sum += spectrum.amplitude(k) * spectrum.amplitude(k) / 2;
        }
        assertPrinted("rms of three harmonics", Math.sqrt(sum), "42.334");
    }

    private static Spectrum harmonicsOfBuck8() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 220)
                .switchPart("Q1", "in", "a", 0)
                .rectifier("D1", Circuit.GROUND, "a")
                .inductor("L1", "a", "c", milli(5), 1)
                .voltageSource("V2", "c", Circuit.GROUND, 24)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.3, 500))
                .build();
        return SteadyState.of(driven).of(driven.current("L1")).spectrum(3);
    }
}
