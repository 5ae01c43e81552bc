package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

class PreferredSeriesProperties {

    @Property
    void neighboursEncloseTheValueWithNothingBetween(@ForAll PreferredSeries series, @ForAll("values") double value) {
        double below = series.atMost(value);
        double above = series.atLeast(value);
        assertThat(below).isLessThanOrEqualTo(value);
        assertThat(above).isGreaterThanOrEqualTo(value);
        assertThat(series.between(below, above)).isEqualTo(below == above ? List.of(below) : List.of(below, above));
    }

    @Property
    void nearestIsOneOfTheNeighboursAndNoFartherThanTheOther(
            @ForAll PreferredSeries series, @ForAll("values") double value) {
        double below = series.atMost(value);
        double above = series.atLeast(value);
        assertThat(series.nearest(value)).isIn(below, above);
        assertThat(Math.abs(series.nearest(value) - value)).isEqualTo(Math.min(value - below, above - value));
    }

    @Property
    void aPreferredValueIsItsOwnNeighbourInEveryDecade(
            @ForAll PreferredSeries series, @ForAll @IntRange(min = -99, max = 98) int decade) {
        for (double significand : series.decade()) {
            double value = Double.parseDouble(significand + "e" + decade);
            assertThat(series.nearest(value)).isEqualTo(value);
            assertThat(series.atLeast(value)).isEqualTo(value);
            assertThat(series.atMost(value)).isEqualTo(value);
        }
    }

    @Provide
    Arbitrary<Double> values() {
        return Arbitraries.doubles().between(-15, 15).map(exponent -> Math.pow(10, exponent));
    }
}
