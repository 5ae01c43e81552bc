package org.voltsecond.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The printed tables of IEC 60063:2015, Preferred number series for resistors and capacitors. */
class PreferredSeriesTest {

    private static final String E24 =
            "100 110 120 130 150 160 180 200 220 240 270 300 330 360 390 430 470 510 560 620 680" + " 750 820 910";
    private static final String E48 =
            "100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261"
                    + " 274 287 301 316 332 348 365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866 909"
                    + " 953";
    private static final String E96 =
            "100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162"
                    + " 165 169 174 178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301"
                    + " 309 316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 562"
                    + " 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976";
    private static final String E192 = "100 101 102 104 105 106 107 109 110 111 113 114 115 117 118 120 121 123 124 126"
            + " 127 129 130 132 133 135 137 138 140 142 143 145 147 149 150 152 154 156 158 160 162 164 165 167 169 172"
            + " 174 176 178 180 182 184 187 189 191 193 196 198 200 203 205 208 210 213 215 218 221 223 226 229 232 234"
            + " 237 240 243 246 249 252 255 258 261 264 267 271 274 277 280 284 287 291 294 298 301 305 309 312 316 320"
            + " 324 328 332 336 340 344 348 352 357 361 365 370 374 379 383 388 392 397 402 407 412 417 422 427 432 437"
            + " 442 448 453 459 464 470 475 481 487 493 499 505 511 517 523 530 536 542 549 556 562 569 576 583 590 597"
            + " 604 612 619 626 634 642 649 657 665 673 681 690 698 706 715 723 732 741 750 759 768 777 787 796 806 816"
            + " 825 835 845 856 866 876 887 898 909 920 931 942 953 965 976 988";

    @Test
    void isThePrintedTable() {
        assertDecade(PreferredSeries.E3, "100 220 470");
        assertDecade(PreferredSeries.E6, "100 150 220 330 470 680");
        assertDecade(PreferredSeries.E12, "100 120 150 180 220 270 330 390 470 560 680 820");
        assertDecade(PreferredSeries.E24, E24);
        assertDecade(PreferredSeries.E48, E48);
        assertDecade(PreferredSeries.E96, E96);
        assertDecade(PreferredSeries.E192, E192);
    }

    /** The one value of the three-digit series that is not 100 x 10^(k/N) rounded: k = 185, printed 920. */
    @Test
    void keepsTheExceptionOfTheStandard() {
        assertThat(Math.round(100 * Math.pow(10, 185 / 192.0))).isEqualTo(919);
        assertThat(PreferredSeries.E192.decade()).contains(9.2).doesNotContain(9.19);
    }

    @ParameterizedTest
    @CsvSource({
        "E12, 21e-6, 22e-6, 22e-6, 18e-6",
        "E12, 22e-6, 22e-6, 22e-6, 22e-6",
        "E24, 4.8e-6, 4.7e-6, 5.1e-6, 4.7e-6",
        "E6, 9.2, 10, 10, 6.8",
        "E6, 8.0, 6.8, 10, 6.8",
        "E96, 30.9e3, 30.9e3, 30.9e3, 30.9e3",
        "E96, 9.9e3, 1e4, 1e4, 9760",
        "E3, 0.99, 1, 1, 0.47",
        "E12, 1.1, 1.2, 1.2, 1.0",
        "E24, 1.25, 1.2, 1.3, 1.2",
        "E192, 9.195e-9, 9.2e-9, 9.2e-9, 9.09e-9",
    })
    void findsNeighbours(PreferredSeries series, double value, double nearest, double above, double below) {
        assertThat(series.nearest(value)).isEqualTo(nearest);
        assertThat(series.atLeast(value)).isEqualTo(above);
        assertThat(series.atMost(value)).isEqualTo(below);
    }

    /** 1.25 lies in the middle of 1.0 and 1.5, all three exact in binary. */
    @Test
    void takesTheSmallerOfTwoEquallyNear() {
        assertThat(PreferredSeries.E6.nearest(1.25)).isEqualTo(1.0);
    }

    @Test
    void listsARange() {
        assertThat(PreferredSeries.E6.between(4.7e-6, 15e-6)).containsExactly(4.7e-6, 6.8e-6, 10e-6, 15e-6);
        assertThat(PreferredSeries.E3.between(2.3, 4.6)).isEmpty();
        assertThat(PreferredSeries.E3.between(2.2, 2.2)).containsExactly(2.2);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY, 1e-101, 1e101})
    void refusesWhatHasNoPreferredValue(double value) {
        String message = "preferred values: value " + value + " given, valid is 1.0E-100 to 1.0E100";
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PreferredSeries.E12.nearest(value))
                .withMessage(message);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PreferredSeries.E12.atLeast(value))
                .withMessage(message);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PreferredSeries.E12.atMost(value))
                .withMessage(message);
    }

    @Test
    void refusesARangeThatIsNone() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PreferredSeries.E12.between(2, 1))
                .withMessageContaining("swap them");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PreferredSeries.E12.between(1, Double.NaN))
                .withMessageContaining("upper end NaN");
    }

    private static void assertDecade(PreferredSeries series, String hundredths) {
        List<Double> expected = Stream.of(hundredths.split(" "))
                .map(number -> Double.parseDouble(number + "e-2"))
                .toList();
        assertThat(series.decade()).as("%s", series).isEqualTo(expected);
    }
}
