package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.stage.Topology;

/** Closed forms of conversion ratio and critical K. */
class ConversionRatioTest {

    /** Grid computed from R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., table 5.2, p. 153. */
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
        "0.75, 0.10, 0.86652, 4.00000, 3.00000",
    })
    void gridOfDutyCycleAndK(double duty, double k, double buck, double boost, double inverting) {
        assertThat(ConversionRatio.of(Topology.BUCK, duty, k)).isCloseTo(buck, within(5e-6));
        assertThat(ConversionRatio.of(Topology.BOOST, duty, k)).isCloseTo(boost, within(5e-6));
        assertThat(ConversionRatio.of(Topology.INVERTING_BUCK_BOOST, duty, k)).isCloseTo(-inverting, within(5e-6));
    }

    /** The largest critical K of the boost stage is 4/27 at D = 1/3; same source. */
    @Test
    void criticalKOfTheBoostStageHasItsMaximumAtOneThird() {
        assertThat(ConversionRatio.criticalK(Topology.BOOST, 1.0 / 3)).isCloseTo(4.0 / 27, within(1e-16));
        assertThat(ConversionRatio.criticalK(Topology.BOOST, 0.33)).isLessThan(4.0 / 27);
        assertThat(ConversionRatio.criticalK(Topology.BOOST, 0.34)).isLessThan(4.0 / 27);
        assertThat(ConversionRatio.criticalK(Topology.BUCK, 0.25)).isEqualTo(0.75);
        assertThat(ConversionRatio.criticalK(Topology.INVERTING_BUCK_BOOST, 0.25))
                .isEqualTo(0.5625);
    }

    /** D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 6: 200 µH, 20 Ω, 10 kHz give K = 0.2. */
    @Test
    void parameterKIsTwoLOverRT() {
        assertThat(ConversionRatio.parameterK(200e-6, 20, 100e-6)).isCloseTo(0.2, within(1e-15));
    }

    /** At the boundary both forms give the same ratio. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void theTwoFormsMeetAtTheBoundary(Topology topology) {
        for (double duty = 0.05; duty < 1; duty += 0.05) {
            double critical = ConversionRatio.criticalK(topology, duty);
            assertThat(ConversionRatio.discontinuous(topology, duty, critical))
                    .isCloseTo(ConversionRatio.continuous(topology, duty), within(1e-10));
        }
    }

    @Test
    void endsOfTheDutyCycle() {
        assertThat(ConversionRatio.continuous(Topology.BUCK, 1)).isEqualTo(1);
        assertThat(ConversionRatio.continuous(Topology.BOOST, 0)).isEqualTo(1);
        assertThat(ConversionRatio.continuous(Topology.BOOST, 1)).isInfinite();
        assertThat(ConversionRatio.discontinuous(Topology.BUCK, 0, 0.1)).isZero();
        assertThat(ConversionRatio.discontinuous(Topology.BOOST, 0, 0.1)).isEqualTo(1);
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1e-9, 1.000001, Double.NaN, Double.POSITIVE_INFINITY})
    void dutyCyclesOutsideAreRefused(double duty) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ConversionRatio.continuous(Topology.BUCK, duty))
                .withMessageContaining("from 0 to 1 but was " + duty);
        assertThatIllegalArgumentException().isThrownBy(() -> ConversionRatio.criticalK(Topology.BUCK, duty));
    }

    @Test
    void argumentsOfKAreChecked() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ConversionRatio.discontinuous(Topology.BUCK, 0.5, Double.NaN))
                .withMessageContaining("more than 0 but was NaN");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ConversionRatio.parameterK(1e-6, Double.NaN, 1e-6))
                .withMessageContaining("R = NaN Ω");
    }
}
