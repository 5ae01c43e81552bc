package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.reference.Printed.assertPrinted;
import static org.voltsecond.reference.Printed.assertPublished;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** Published stages in discontinuous conduction. What the letters mean stands in {@code Printed}. */
class DiscontinuousReferenceTest {

    /** A stage of given D and K at 1 V, 1 Ω and 1 ms, with an output capacitor of so many T/R. */
    private static Converter stage(Topology topology, double duty, double k, double periods) {
        return PowerStage.of(topology)
                .input(1)
                .inductor(k * 1e-3 / 2)
                .outputCapacitor(periods * 1e-3)
                .load(Load.resistor(1))
                .drive(Drive.fixedDuty(duty, kilo(1)));
    }

    /**
     * Grid of the formulas of R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020,
     * table 5.2, p. 153 (S); grid values C (computed for this project from the formulas, not published). Where K is not
     * below its critical value the grid has the ratio of continuous conduction. Output free of ripple.
     */
    @ParameterizedTest
    @CsvSource({
        "0.25, 0.01, 0.87695, 3.04951, 2.50000",
        "0.25, 0.05, 0.65587, 1.72474, 1.11803",
        "0.25, 0.10, 0.53759, 1.43541, 0.79057",
        "0.50, 0.01, 0.96291, 5.52494, 5.00000",
        "0.50, 0.05, 0.85410, 2.79129, 2.23607",
        "0.50, 0.10, 0.76556, 2.15831, 1.58114",
        "0.75, 0.01, 0.98283, 8.01665, 7.50000",
        "0.75, 0.05, 0.92409, 4.00000, 3.35410",
        "0.75, 0.10, 0.86652, 4.00000, 3.00000"
    })
    void ratioOfTable5x2(double duty, double k, String buck, String boost, String inverting) {
        checkRatio(Topology.BUCK, duty, k, 1, buck);
        checkRatio(Topology.BOOST, duty, k, 1, boost);
        checkRatio(Topology.INVERTING_BUCK_BOOST, duty, k, -1, inverting);
    }

    private static void checkRatio(Topology topology, double duty, double k, int sign, String digits) {
        Converter converter = stage(topology, duty, k, 1e7);
        ConverterSteadyState steady = converter.steadyState();
        double ratio = steady.of(converter.outputVoltage()).mean();
        String what = topology + " at D " + duty + ", K " + k;
        assertPrinted(what, sign * ratio, digits);
        assertThat(ratio).as(what).isCloseTo(ConversionRatio.of(topology, duty, k), within(2e-6 * Math.abs(ratio)));

        boolean discontinuous = k < ConversionRatio.criticalK(topology, duty);
        Conduction expected = discontinuous ? Conduction.DISCONTINUOUS : Conduction.CONTINUOUS;
        assertThat(steady.conduction()).as(what).isEqualTo(expected);
        if (discontinuous) {
            // the published table is ambiguous between K/(D M) and (K/D) M; the exact solution decides for the latter
            double offFraction = k / duty * Math.abs(ratio);
            assertThat(steady.offTime() / steady.period()).as(what).isCloseTo(offFraction, within(2e-6 * offFraction));
        }
    }

    /**
     * The exact ratio goes to the formula of table 5.2 as the ripple goes to zero. The error falls with 1/C where the
     * ripple changes the slope of the on interval (buck), with 1/C² where it does not.
     */
    @ParameterizedTest
    @CsvSource({"BUCK, 0.4, 0.2, 1", "BOOST, 0.4, 0.075, 2", "INVERTING_BUCK_BOOST, 0.6, 0.1, 2"})
    void ratioConvergesWithTheRipple(Topology topology, double duty, double k, int order) {
        double formula = ConversionRatio.of(topology, duty, k);
        double last = Double.NaN;
        for (double periods = 1e2; periods <= 1e4; periods *= 10) {
            Converter converter = stage(topology, duty, k, periods);
            double error = Math.abs(
                    converter.steadyState().of(converter.outputVoltage()).mean() - formula);
            if (periods > 1e2) {
                assertThat(error / last).isCloseTo(Math.pow(0.1, order), within(0.05 * Math.pow(0.1, order)));
            }
            last = error;
        }
    }

    /**
     * REF-DCM-1: D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 6, example of discontinuous conduction. Published M
     * (from memory of the literature); exact C (computed for this project, not published).
     */
    @Test
    void dcm1HartChapter6() {
        Converter buck = PowerStage.buck()
                .input(24)
                .inductor(micro(200))
                .outputCapacitor(micro(1000))
                .load(Load.resistor(20))
                .drive(Drive.fixedDuty(0.4, kilo(10)));
        ConverterSteadyState steady = buck.steadyState();
        Waveform output = steady.of(buck.outputVoltage());
        Waveform inductor = steady.of(buck.inductorCurrent());
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertPrinted("formula", 24 * ConversionRatio.of(Topology.BUCK, 0.4, 0.2), "13.9151");
        assertPrinted("output mean", output.mean(), "13.92003");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "29.88");
        assertPrinted("inductor maximum", inductor.maximum(), "2.01799");
        assertPrinted("off fraction", steady.offTime() / steady.period(), "0.28968");
        assertPrinted("inductor mean", inductor.mean(), "0.69600");
        assertPrinted("inductor rms", inductor.rms(), "0.96772");
        assertPublished("output mean", output.mean(), "13.9", 13.9151, 13.92003);
    }

    /**
     * REF-DCM-5: university course problem on a boost stage with a diode drop: V/Vg = (1 - VD/Vg + sqrt((1 - VD/Vg)² +
     * 4 D²/K))/2. Formula S-p (partly seen, the rest from memory); numbers C. Output free of ripple.
     */
    @ParameterizedTest
    @CsvSource({"1, 23.8698", "0, 24.5257"})
    void dcm5BoostWithDiodeDrop(double forwardDrop, String expected) {
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(0.075 * 1e-3 / 2)
                .outputCapacitor(1e3)
                .rectifier(forwardDrop, 0)
                .load(Load.resistor(1))
                .drive(Drive.fixedDuty(0.4, kilo(1)));
        ConverterSteadyState steady = boost.steadyState();
        double rest = 1 - forwardDrop / 12;
        double formula = 12 * (rest + Math.sqrt(rest * rest + 4 * 0.16 / 0.075)) / 2;
        assertPrinted("formula", formula, expected);
        assertPrinted("output", steady.of(boost.outputVoltage()).mean(), expected);
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
    }

    /**
     * REF-DCM-6: the parts of M. H. Rashid, ex. 5.5, at its 500 Ω, where the stage is deep in discontinuous conduction and
     * gives 11.13 V instead of the 5 V that the source designs for. C (computed for this project, not published).
     */
    @Test
    void dcm6RashidPartsAt500Ohm() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(micro(145.83))
                .outputCapacitor(micro(200))
                .load(Load.resistor(500))
                .drive(Drive.fixedDuty(5 / 12.0, kilo(25)));
        ConverterSteadyState steady = buck.steadyState();
        double k = ConversionRatio.parameterK(micro(145.83), 500, micro(40));
        assertPrinted("K", k, "0.014583");
        assertPrinted("formula", ConversionRatio.of(Topology.BUCK, 5 / 12.0, k), "0.92771");
        assertPrinted("output mean", steady.of(buck.outputVoltage()).mean(), "11.13325");
        assertPrinted("inductor maximum", steady.of(buck.inductorCurrent()).maximum(), "0.09912");
        assertPrinted("off fraction", steady.offTime() / steady.period(), "0.03245");
    }
}
