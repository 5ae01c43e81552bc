package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.Arbitrary;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.statistics.Statistics;

class SensitivityProperties {

    @Provide
    Arbitrary<StageSpec> stages() {
        return RandomStages.settling();
    }

    /** Exact derivatives against central differences, each to the accuracy of the differences. */
    @Property(tries = 60, shrinking = ShrinkingMode.OFF)
    void derivativesOfRandomStages(@ForAll("stages") StageSpec spec) {
        ConverterSteadyState steady = Interruption.steadyState(spec);
        Converter converter = steady.converter();
        StageSensitivities exact = steady.sensitivities();
        int compared = 0;
        for (StageValue value : StageValue.of(converter)) {
            double nominal = value.in(converter);
            SensitivityOracle oracle = nominal == 0 ? null : new SensitivityOracle(steady, value, 0.002 * nominal);
            if (oracle == null || !oracle.isSmooth()) {
                continue;
            }
            for (StageMeasurement figure : SensitivityTest.allFigures()) {
                SensitivityOracle.Difference difference = oracle.of(figure);
                double derivative = exact.of(figure).withRespectTo(value);
                double size = SensitivityOracle.size(steady, figure) / nominal + Math.abs(derivative);
                if (difference.accuracy() <= 1e-4 * size) {
                    compared++;
                    assertThat(derivative)
                            .as("%s by %s of %s (accuracy %s)", figure, value, spec, difference.accuracy())
                            .isCloseTo(difference.derivative(), within(30 * difference.accuracy() + 1e-12 * size));
                }
            }
        }
        Assume.that(compared > 0);
        Statistics.label("conduction").collect(steady.conduction());
    }
}
