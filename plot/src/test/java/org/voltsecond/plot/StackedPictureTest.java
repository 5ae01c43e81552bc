package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.voltsecond.plot.Trace.Shown;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** Pictures judged by their pixels. Left and right border of the panels follow from the fixed room of the axes. */
class StackedPictureTest {
    private static final int LEFT = 14 + Axes.LEFT;
    private static final int WIDTH = 1100;
    private static final int FINE = 4;
    private static final int RIGHT = WIDTH - 14 - Axes.RIGHT;

    private static int column(double time, double from, double to) {
        return (int) Math.round(LEFT + (time - from) / (to - from) * (RIGHT - LEFT));
    }

    @Test
    void everyPanelShowsItsTrace() {
        Picture picture = Pictures.stacked(Waves.switchNode(), Waves.inductorCurrent(), Waves.outputVoltage());
        Pixels pixels = new Pixels(picture.image());
        int previousLowest = 0;
        for (int panel = 0; panel < 3; panel++) {
            Color color = Look.trace(panel);
            assertThat(pixels.count(color, LEFT, 0, RIGHT, picture.height()))
                    .as("panel %s", panel)
                    .isGreaterThan(500);
            int top = pixels.highest(color, LEFT, 0, RIGHT, picture.height());
            assertThat(top).as("panel %s is below the one before", panel).isGreaterThan(previousLowest);
            previousLowest = top;
        }
    }

    @Test
    void aPanelTellsWhatItShows() {
        Panel both = Panel.of(Waves.switchNode(), Waves.outputVoltage());
        String names = Waves.switchNode().name() + ", " + Waves.outputVoltage().name() + " (V)";
        assertThat(both).hasToString("panel " + names);
        assertThat(both.titled("node")).hasToString("panel node: " + names);
    }

    @Test
    void edgesStandUpright() {
        Picture picture = Pictures.stacked(Waves.switchNode());
        Pixels pixels = new Pixels(picture.image());
        int edge = column(Waves.ON, 0, Waves.PERIOD);
        int tallest = 0;
        for (int x = edge - 1; x <= edge + 1; x++) {
            tallest = Math.max(tallest, pixels.tallest(Look.trace(0), x, 0, picture.height()));
        }
        assertThat(tallest).isGreaterThan(120);
        // no slanted line: five pixels aside only the level is coloured
        assertThat(pixels.tallest(Look.trace(0), edge - 5, 60, picture.height()))
                .isLessThan(6);
        assertThat(pixels.tallest(Look.trace(0), edge + 5, 60, picture.height()))
                .isLessThan(6);
    }

    @Test
    void aBandReachesANeedleThatIsFarNarrowerThanAPixel() {
        Waveform run = Waves.longRun("long run", 20_000);
        assertThat(new Shown(run, 0, 1).isBand(WIDTH)).isTrue();
        Picture picture = Pictures.stacked(run).withPixelRatio(FINE);
        Pixels pixels = new Pixels(picture.image());
        int middle = FINE * column(0.5, 0, 1);
        int height = FINE * picture.height();
        int needle = pixels.highest(Look.trace(0), middle - 12, 240, middle + 16, height);
        int elsewhere = pixels.highest(Look.trace(0), FINE * LEFT + 40, 240, middle - 80, height);
        int bottom = lowest(pixels, Look.trace(0), height);
        // from 1 V at the bottom to 2 V is a quarter of the way to 5 V
        assertThat((bottom - elsewhere) / (double) (bottom - needle)).isBetween(0.24, 0.26);
    }

    private static int lowest(Pixels pixels, Color color, int height) {
        int lowest = -1;
        for (int y = 240; y < height; y++) {
            lowest = pixels.count(color, FINE * LEFT + 40, y, FINE * RIGHT - 40, y + 1) > 1000 ? y : lowest;
        }
        // the upper edge of the line, as for the other two
        return lowest - 3;
    }

    @Test
    void theExactMaximumHasItsPixelRow() {
        Waveform run = Waves.longRun("long run", 20_000);
        ValueRange range = ValueRange.around(1, 5);
        Picture picture = Pictures.stacked(run);
        Pixels pixels = new Pixels(picture.image());
        int middle = column(0.5, 0, 1);
        int bottomAxis = picture.height() - 14 - 16 - 8 - Axes.BELOW;
        int top = 14 + StackDrawing.HEADING;
        double row = bottomAxis - (5 - range.low()) / (range.high() - range.low()) * (bottomAxis - top);
        int found = pixels.highest(Look.trace(0), middle - 3, top, middle + 4, picture.height());
        assertThat((double) found).isBetween(row - 2, row + 2);
    }

    @Test
    void idleIntervalsAreShaded() {
        StackBuilder builder = Pictures.stack().panel(Waves.inductorCurrent());
        int plain = new Pixels(builder.build().image()).count(Color.WHITE, LEFT, 60, RIGHT, 200);
        builder.bands(List.of(
                new TimeBand(0, Waves.ON, TimeBand.Kind.ON),
                new TimeBand(Waves.ON, Waves.ON + Waves.OFF, TimeBand.Kind.OFF),
                new TimeBand(Waves.ON + Waves.OFF, Waves.PERIOD, TimeBand.Kind.IDLE)));
        Picture shaded = builder.build();
        Pixels pixels = new Pixels(shaded.image());
        int[] middles = {
            column(0.5 * Waves.ON, 0, Waves.PERIOD),
            column(Waves.ON + 0.5 * Waves.OFF, 0, Waves.PERIOD),
            column(Waves.PERIOD - 0.5 * Waves.IDLE, 0, Waves.PERIOD)
        };
        // near the top of the panel, between grid lines, three different shades that are none of them paper
        assertThat(List.of(middles[0], middles[1], middles[2]).stream()
                        .map(x -> shaded.image().getRGB(x + 7, 72))
                        .distinct())
                .hasSize(3)
                .doesNotContain(Color.WHITE.getRGB());
        assertThat(plain).isGreaterThan(pixels.count(Color.WHITE, LEFT, 60, RIGHT, 200) / 2);
        assertThat(shaded.svg()).contains(">on<", ">off<", ">idle<");
    }

    @Test
    void bandsGoOnOverSeveralPeriods() {
        List<TimeBand> period = List.of(new TimeBand(0, 1, TimeBand.Kind.ON), new TimeBand(1, 4, TimeBand.Kind.OFF));
        assertThat(TimeBand.repeated(period, 4, 2))
                .containsExactly(
                        period.get(0),
                        period.get(1),
                        new TimeBand(4, 5, TimeBand.Kind.ON),
                        new TimeBand(5, 8, TimeBand.Kind.OFF));
    }

    @Test
    void rippleIsEnlargedAndItsMeanIsStated() {
        Waveform output = Waves.outputVoltage();
        String svg = Pictures.stack().panel(output).ripplePanel(output).build().svg();
        assertThat(svg)
                .contains("ripple about its mean of 5.0007 V")
                .contains(">\u00b5V<")
                .contains(">V<");
    }

    @Test
    void numbersStayShort() {
        String svg = Pictures.stack()
                .panel(Waves.inductorCurrent().times(0.001))
                .build()
                .svg();
        assertThat(svg).contains(">\u00b5A<").contains("Time (\u00b5s)").contains(">250<");
        assertThat(svg).doesNotContain(">0.000");
    }

    @Test
    void aWindowFarFromTheStartCountsFromARoundTime() {
        Waveform run = Waves.longRun("long run", 10_000);
        String svg =
                Pictures.stack().panel(run).window(0.0150033, 0.0150133).build().svg();
        assertThat(svg).contains("Time since 15.003 ms (\u00b5s)");
    }

    @Test
    void marksAndLimitsAreDrawnAndNamed() {
        Picture picture = Pictures.stack()
                .title("Title & more")
                .subtitle("below")
                .panel(Panel.of(Waves.outputVoltage())
                        .titled("Rail")
                        .limit(5.002, "highest permitted")
                        .limit(4.999, "lowest permitted"))
                .mark(2e-6, "load step")
                .mark(2.1e-6, "line step")
                .mark(9.99e-6, "at the very end")
                .build();
        assertThat(picture.svg())
                .contains("Title &amp; more", "below", "Rail", "highest permitted", "lowest permitted", "load step")
                .contains("line step", "at the very end", "not a safety approval");
        Pixels pixels = new Pixels(picture.image());
        assertThat(pixels.paperAround(8)).as("nothing is cut at the border").isTrue();
        int column = column(2e-6, 0, Waves.PERIOD);
        assertThat(pixels.count(Look.MARK, column - 1, 100, column + 2, picture.height()))
                .isGreaterThan(60);
    }

    /** On a telephone a long label would run out of the picture. */
    @Test
    void aLabelThatIsTooLongForThePictureTakesMoreLines() {
        Picture narrow = Pictures.stack()
                .panel(Waves.outputVoltage())
                .mark(2e-6, "load 12.5 mA at 50 mA/µs, input 13.8 V, line ripple 200 mV at 100 Hz")
                .build()
                .withSize(440, 440);
        assertThat(narrow.svg())
                .contains("load 12.5 mA", "100 Hz")
                .doesNotContain("12.5 mA at 50 mA/µs, input 13.8 V, line ripple", "\u2026");
        assertThat(new Pixels(narrow.image()).paperAround(8)).isTrue();
    }

    @Test
    void severalTracesShareAPanelWithDifferentLines() {
        Waveform current = Waves.inductorCurrent();
        Picture picture = Pictures.stack()
                .panel(current, current.times(0.5).named("half of it"))
                .build();
        Pixels pixels = new Pixels(picture.image());
        assertThat(pixels.count(Look.trace(1))).isGreaterThan(500);
        assertThat(pixels.count(Look.trace(2))).isGreaterThan(300);
        assertThat(picture.svg()).contains("half of it").contains("stroke-dasharray:9,4");
    }

    @Test
    void anySourceOfWaveformsWillDo() {
        Signal node = Signal.channel("node", Unit.VOLT, 0);
        Picture picture =
                Pictures.stacked(signal -> Waves.switchNode().named(signal.name()), node, node.named("again"));
        assertThat(picture.svg()).contains(">node<", ">again<");
    }

    @Test
    void constantWaveformsAndTinyPicturesAreDrawn() {
        Waveform flat = Waves.switchNode().times(0);
        assertThat(new Pixels(Pictures.stacked(flat).withSize(240, 240).image()).count(Look.trace(0)))
                .isGreaterThan(50);
    }

    @Test
    void faultsAreToldAllAtOnce() {
        assertThatThrownBy(() -> Pictures.stacked()).hasMessageContaining("no panel");
        assertThatThrownBy(() -> Pictures.stack()
                        .panel(Waves.switchNode())
                        .window(1, 2)
                        .caution(" ")
                        .build())
                .hasMessageContaining("shows nothing of Switch node")
                .hasMessageContaining("caution");
        assertThatThrownBy(() -> Panel.of()).hasMessageContaining("at least one");
        assertThatThrownBy(() -> Panel.of(Waves.switchNode(), Waves.inductorCurrent()))
                .hasMessageContaining("one unit");
        assertThatThrownBy(() -> Panel.of(Waves.switchNode()).limit(Double.NaN, "x"))
                .hasMessageContaining("finite");
        assertThatThrownBy(() -> Panel.of(Waves.switchNode()).weighted(0)).hasMessageContaining("weight");
        assertThatThrownBy(() -> new TimeBand(1, 1, TimeBand.Kind.ON)).hasMessageContaining("band");
        Picture picture = Pictures.stacked(Waves.switchNode());
        assertThatThrownBy(() -> picture.withSize(10, 500)).hasMessageContaining("10 x 500");
        assertThatThrownBy(() -> picture.withPixelRatio(Double.NaN)).hasMessageContaining("ratio");
    }

    @Test
    void aTraceThatIsLeftOutTakesNoColourFromTheOthers() {
        Waveform node = Waves.switchNode();
        Panel panel =
                Panel.of(node, node.times(0.5).named("half"), node.times(0.25).named("quarter"));
        Picture picture = Pictures.stack()
                .panel(panel.hiding(Set.of(0)))
                .panel(Panel.of(Waves.inductorCurrent()).hiding(Set.of(0)))
                .panel(Waves.outputVoltage())
                .build();
        Pixels pixels = new Pixels(picture.image());
        int half = picture.height() / 2;
        assertThat(pixels.count(Look.trace(0), LEFT, 0, RIGHT, half)).isZero();
        assertThat(pixels.count(Look.trace(1), LEFT, 0, RIGHT, half)).isGreaterThan(200);
        assertThat(pixels.count(Look.trace(2), LEFT, half, RIGHT, picture.height()))
                .isGreaterThan(200);
        assertThat(picture.svg()).contains(">half<").doesNotContain(">Switch node<", ">Inductor current<");
        assertThatThrownBy(() -> panel.hiding(Set.of(3))).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() ->
                        Pictures.stack().panel(panel.hiding(Set.of(0, 1, 2))).build())
                .hasMessageContaining("all of its waveforms are left out");
    }

    /** What is told of a panel is held to the pixels that were drawn. */
    @Test
    void aDrawingTellsWhereItsPanelsLie() {
        BufferedImage image = new BufferedImage(900, 500, BufferedImage.TYPE_INT_RGB);
        List<PanelArea> areas = Pictures.stack()
                .panel(Panel.of(Waves.switchNode()).range(-2, 18))
                .panel(Waves.inductorCurrent())
                .drawInto(image.createGraphics(), 900, 500);
        assertThat(areas).hasSize(2);
        PanelArea area = areas.get(0);
        assertThat(area.low()).isEqualTo(-2);
        assertThat(area.high()).isEqualTo(18);
        Pixels pixels = new Pixels(image);
        int x = (int) Math.round(area.x(0.5 * Waves.ON)) + 3;
        assertThat((double)
                        pixels.highest(Look.trace(0), x, (int) area.top(), x + 1, (int) (area.top() + area.height())))
                .isBetween(area.y(12) - 2, area.y(12) + 1);
        assertThat(area.time(area.x(3e-6))).isCloseTo(3e-6, within(1e-18));
        assertThat(area.value(area.y(7))).isCloseTo(7, within(1e-12));
        assertThat(area.contains(area.x(0), area.y(0))).isTrue();
        assertThat(area.contains(area.left() - 1, area.y(0))).isFalse();
        Panel panel = Panel.of(Waves.switchNode());
        assertThatThrownBy(() -> panel.range(3, 3)).hasMessageContaining("from one finite value to a higher one");
        assertThatThrownBy(() -> panel.range(Double.NaN, 3)).hasMessageContaining("NaN");
    }
}
