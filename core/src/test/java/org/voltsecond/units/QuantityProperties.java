package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

class QuantityProperties {

    @Property
    void shortestTextReadsBackBitForBit(@ForAll("doubles") double value, @ForAll Unit unit) {
        assertThat(Quantity.parse(Quantity.format(value, unit), unit)).isEqualTo(value);
    }

    /** Half a unit in the last of n digits is at most 0.5 x 10^(1-n) of the value; the reading adds half an ulp. */
    @Property
    void roundedTextIsWithinHalfALastDigit(
            @ForAll("usual") double value, @ForAll Unit unit, @ForAll @IntRange(min = 1, max = 17) int digits) {
        double read = Quantity.parse(Quantity.format(value, unit, digits), unit);
        assertThat(Math.abs(read - value))
                .isLessThanOrEqualTo(Math.abs(value) * 0.5 * Math.pow(10, 1 - digits) + Math.ulp(value));
    }

    @Property
    void writtenWithTheAskedDigitsAndOneToThreeBeforeThePoint(
            @ForAll("usual") double value, @ForAll @IntRange(min = 3, max = 17) int digits) {
        String number =
                Quantity.format(value, Unit.VOLT, digits).split("[ e]", 2)[0].replace("-", "");
        assertThat(new BigDecimal(number))
                .isGreaterThanOrEqualTo(BigDecimal.ONE)
                .isLessThan(BigDecimal.valueOf(1000));
        assertThat(number.replace(".", "")).hasSize(digits);
    }

    @Property
    void everySpellingMeansItsUnitAndPower(@ForAll @IntRange(min = 1, max = 9999) int number, @ForAll Unit unit) {
        List<Unit.Spelling> spellings = unit.spellings().toList();
        assertThat(spellings).isNotEmpty();
        for (Unit.Spelling spelling : spellings) {
            assertThat(Quantity.parse(number + " " + spelling.text(), unit))
                    .as("%d %s", number, spelling.text())
                    .isEqualTo(Double.parseDouble(number + "e" + spelling.exponent()));
        }
    }

    @Property
    void prefixBringsAMagnitudeBetweenOneAndAThousand(@ForAll("usual") double value) {
        assertThat(Math.abs(Prefix.of(value).in(value))).isBetween(1.0, 1000.0);
    }

    @Provide
    Arbitrary<Double> doubles() {
        return Arbitraries.longs().map(Double::longBitsToDouble).filter(Double::isFinite);
    }

    /** Logarithmically spread over the range of the prefixes, either sign. */
    @Provide
    Arbitrary<Double> usual() {
        return Arbitraries.doubles()
                .between(-14.9, 14.9)
                .map(exponent -> Math.pow(10, exponent))
                .flatMap(size -> Arbitraries.of(size, -size));
    }
}
