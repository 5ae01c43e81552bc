package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.voltsecond.units.Unit;

/** Bars and lines. */
class ChartsTest {
    private static Picture losses() {
        return Pictures.bars("Where the power goes", "Loss", Unit.WATT)
                .subtitle("at 2 A")
                .bar("transistor", 0.2)
                .bar("rectifier", 0.4)
                .bar("inductor", 0.1)
                .build();
    }

    private static double[] xs() {
        return new double[] {0.001, 0.01, 0.1, 1};
    }

    @Test
    void barsAreAsLongAsTheirValues() {
        Pixels pixels = new Pixels(losses().image());
        int[] lengths = new int[3];
        int found = 0;
        int last = 0;
        for (int y = 0; y < losses().height(); y++) {
            int length = pixels.count(Look.trace(0), 0, y, losses().width(), y + 1);
            if (length > 20 && Math.abs(length - last) > 20) {
                lengths[found++] = length;
            }
            last = length;
        }
        assertThat(found).isEqualTo(3);
        assertThat(lengths[0] / (double) lengths[1]).isBetween(0.49, 0.51);
        assertThat(lengths[2] / (double) lengths[1]).isBetween(0.24, 0.26);
        assertThat(losses().svg()).contains("200 mW", "400 mW", "100 mW", "Loss (mW)", "not a safety approval");
    }

    @Test
    void designsAreComparedInTheirColours() {
        Picture picture = Pictures.bars("Linear against switching", "Loss", Unit.WATT)
                .bar("logic", "linear regulator", 14)
                .bar("logic", "switching stage", 0.7)
                .build();
        Pixels pixels = new Pixels(picture.image());
        assertThat(pixels.count(Look.trace(0))).isGreaterThan(10 * pixels.count(Look.trace(1)));
        assertThat(pixels.count(Look.trace(1))).isGreaterThan(300);
        assertThat(picture.svg()).contains("linear regulator", "switching stage", "14.0 W", "700 mW");
        assertThat(pixels.paperAround(8)).isTrue();
    }

    /** How far the bar of a series goes in a row of pixels, its hatching included. */
    private static int extent(Pixels pixels, int series, int width, int y) {
        int first = width;
        int last = -1;
        for (int x = 0; x < width; x++) {
            if (pixels.count(Look.trace(series), x, y, x + 1, y + 1) > 0) {
                first = Math.min(first, x);
                last = x;
            }
        }
        return Math.max(0, last + 1 - first);
    }

    /** In grey print two colours may be one. */
    @Test
    void barsOfDifferentKindsAreHatchedDifferently() {
        Picture picture = Pictures.bars("Where the power goes", "Loss", Unit.WATT)
                .bar("a", "conduction", 1)
                .bar("b", "overlap", 1)
                .bar("c", "gate", 1)
                .build();
        Pixels pixels = new Pixels(picture.image());
        int[] paper = new int[3];
        for (int series = 0; series < 3; series++) {
            int most = 0;
            for (int y = 100; y < picture.height(); y++) {
                int extent = extent(pixels, series, picture.width(), y);
                int filled = pixels.count(Look.trace(series), 0, y, picture.width(), y + 1);
                most = Math.max(most, extent > 300 ? extent - filled : 0);
            }
            paper[series] = most;
        }
        assertThat(paper[0]).isLessThan(4);
        assertThat(paper[1]).isGreaterThan(60);
        assertThat(paper[2]).isGreaterThan(60);
    }

    @Test
    void stackedBarsStandEndToEnd() {
        Picture picture = Pictures.bars("Where the power goes", "Loss", Unit.WATT)
                .stacked()
                .bar("transistor", "conduction", 0.3)
                .bar("transistor", "overlap", 0.1)
                .bar("rectifier", "conduction", 0.2)
                .build();
        Pixels pixels = new Pixels(picture.image());
        int width = picture.width();
        int conduction = 0;
        int overlap = 0;
        for (int y = 100; y < picture.height(); y++) {
            int row = extent(pixels, 1, width, y);
            if (row > overlap) {
                overlap = row;
                conduction = extent(pixels, 0, width, y);
            }
        }
        assertThat(conduction / (double) overlap).isBetween(2.94, 3.06);
        assertThat(picture.svg()).contains("400 mW", "200 mW", "overlap").doesNotContain("100 mW</text>");
        assertThat(pixels.paperAround(8)).isTrue();
    }

    @Test
    void linesRunOverALogarithmicAxis() {
        Picture picture = Pictures.lines("Efficiency over load")
                .subtitle("12 V to 5 V")
                .x("Load current", Unit.AMPERE)
                .logarithmicX()
                .yInPercent("Efficiency")
                .line("switching stage", xs(), new double[] {0.5, 0.8, 0.92, 0.9})
                .line("linear regulator", xs(), new double[] {0.41, 0.41, 0.41, 0.41})
                .limit(0.85, "wanted")
                .build();
        assertThat(picture.svg()).contains(">1 mA<", ">10 mA<", ">100 mA<", ">1 A<", "Efficiency (%)", "wanted");
        Pixels pixels = new Pixels(picture.image());
        int across = picture.width() - 28 - Axes.LEFT - Axes.RIGHT;
        assertThat(pixels.count(Look.trace(0))).isGreaterThan((int) (0.7 * across));
        // dashes of 9 with gaps of 4
        assertThat(pixels.count(Look.trace(1))).isGreaterThan((int) (0.9 * across * 9 / 13));
        assertThat(pixels.paperAround(8)).isTrue();
    }

    @Test
    void aValueThatIsNotANumberIsAGap() {
        LineBuilder builder = Pictures.lines("Gap")
                .x("Time", Unit.SECOND)
                .y("Power", Unit.WATT)
                .yRange(0, 2)
                .line("power", new double[] {0, 1, 2, 3}, new double[] {1, 1, Double.NaN, 1});
        Pixels pixels = new Pixels(builder.build().image());
        int left = 14 + Axes.LEFT;
        int right = builder.build().width() - 14 - Axes.RIGHT;
        int middle = (left + right) / 2;
        assertThat(pixels.count(Look.trace(0), left + 5, 80, left + 100, 500)).isGreaterThan(90);
        assertThat(pixels.count(Look.trace(0), middle, 80, right, 500)).isZero();
    }

    @Test
    void faultsAreToldAllAtOnce() {
        assertThatThrownBy(
                        () -> Pictures.bars("b", "Loss", Unit.WATT).caution("").build())
                .hasMessageContaining("no bar")
                .hasMessageContaining("caution");
        assertThatThrownBy(() -> Pictures.bars("b", "Loss", Unit.WATT)
                        .bar("x", -1)
                        .bar("y", Double.NaN)
                        .build())
                .hasMessageContaining("bar x")
                .hasMessageContaining("bar y");
        assertThatThrownBy(() -> Pictures.bars("b", "Loss", Unit.WATT)
                        .bar("x", "diode", 1)
                        .bar("x", "synchronous", 1)
                        .bar("x", "diode", 2)
                        .bar("y", 2)
                        .bar("y", 3)
                        .build())
                .hasMessageContaining("bar x of diode is given twice")
                .hasMessageContaining("bar y is given twice")
                .hasMessageContaining("stacked()")
                .hasMessageNotContaining("synchronous");
        assertThatThrownBy(() -> Pictures.lines("l").yRange(2, 1).build())
                .hasMessageContaining("no line")
                .hasMessageContaining("below its highest");
        assertThatThrownBy(() -> Pictures.lines("l")
                        .logarithmicX()
                        .line("a", new double[] {0, 1}, new double[] {1, 1})
                        .line("b", new double[] {1}, new double[] {Double.NaN})
                        .build())
                .hasMessageContaining("more than 0 on a logarithmic axis")
                .hasMessageContaining("at least 2")
                .hasMessageContaining("no finite value");
    }
}
