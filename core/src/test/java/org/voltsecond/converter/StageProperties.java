package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.DoubleRange;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/** What holds for every stage, whatever its parts. */
class StageProperties {

    /**
     * Voltages and currents of ideal parts are proportional to the input. A factor of two is exact in binary numbers, so
     * that the results agree to the last bit. The body diode is there for stages that ring above their input.
     */
    @Property(tries = 100)
    void twiceTheInputIsTwiceEverything(
            @ForAll("topologies") Topology topology,
            @ForAll @DoubleRange(min = 1, max = 1000) double microhenry,
            @ForAll @DoubleRange(min = 1, max = 1000) double microfarad,
            @ForAll @DoubleRange(min = 0.5, max = 500) double ohm,
            @ForAll @DoubleRange(min = 0.05, max = 0.9) double duty) {
        Converter one = Stages.ideal(topology, 10, microhenry * 1e-6, microfarad * 1e-6, ohm, duty, 100e3);
        double[] single = one.withBodyDiode(0.5, 0).startUp(50e-5).run().finalState();
        double[] twice =
                one.withInput(20).withBodyDiode(1, 0).startUp(50e-5).run().finalState();
        assertThat(twice).containsExactly(2 * single[0], 2 * single[1]);
    }

    /** With a capacitor so large that the ripple is nothing, the ratio and the mode are those of the closed forms. */
    @Property(tries = 200)
    void ratioAndModeAreThoseOfTheClosedForms(
            @ForAll("topologies") Topology topology,
            @ForAll @DoubleRange(min = 1, max = 1000) double microhenry,
            @ForAll @DoubleRange(min = 0.5, max = 500) double ohm,
            @ForAll @DoubleRange(min = 0.05, max = 0.9) double duty) {
        Converter converter = Stages.ideal(topology, 10, microhenry * 1e-6, 1, ohm, duty, 100e3);
        ConverterSteadyState steady = converter.steadyState();
        double k = ConversionRatio.parameterK(microhenry * 1e-6, ohm, 1e-5);
        double critical = ConversionRatio.criticalK(topology, duty);
        double ratio = ConversionRatio.of(topology, duty, k);
        assertThat(steady.of(converter.outputVoltage()).mean() / 10).isCloseTo(ratio, within(1e-4 * Math.abs(ratio)));
        if (Math.abs(k - critical) > 1e-3 * critical) {
            assertThat(steady.conduction()).isEqualTo(k < critical ? Conduction.DISCONTINUOUS : Conduction.CONTINUOUS);
        }
    }

    @Provide
    Arbitrary<Topology> topologies() {
        return Arbitraries.of(PlainStages.ALL);
    }
}
