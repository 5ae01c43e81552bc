package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Searches of one variable, of functions whose roots and tops are known. */
class RootSearchTest {
    @Test
    void aRootIsFoundToItsLastBits() {
        assertThat(RootSearch.between(x -> x * x - 2, 0, 2, 0)).isCloseTo(Math.sqrt(2), within(4e-16));
        assertThat(RootSearch.between(x -> StrictMath.exp(-50 * x) - 1e-20, 0, 2, 0))
                .isCloseTo(20 * StrictMath.log(10) / 50, within(1e-15));
        assertThat(RootSearch.between(x -> x, 0, 1, 0)).isZero();
        assertThat(RootSearch.between(x -> x - 1, 0, 1, 0)).isEqualTo(1);
    }

    @Test
    void aSearchMayEndEarly() {
        int[] asked = new int[1];
        double rough = RootSearch.between(
                x -> {
                    asked[0]++;
                    return x * x * x - 2;
                },
                0,
                2,
                0,
                1e-3);
        assertThat(rough * rough * rough).isCloseTo(2, within(1e-3));
        assertThat(asked[0]).isLessThan(20);
    }

    @Test
    void endsOfOneSignAreRefused() {
        assertThatThrownBy(() -> RootSearch.between(x -> x * x + 1, -1, 1, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("no root between -1.0 and 1.0")
                .hasMessageContaining("different sign");
    }

    @Test
    void aTopIsFoundWhereverItLies() {
        for (double at : new double[] {0.001, 0.3, 0.999}) {
            RootSearch.Top top = RootSearch.highest(x -> 3 - Math.abs(x - at), 0, 1, 1e-9);
            assertThat(top.at()).isCloseTo(at, within(1e-9));
            assertThat(top.value()).isCloseTo(3, within(1e-9));
        }
    }
}
