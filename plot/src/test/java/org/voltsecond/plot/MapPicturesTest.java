package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.awt.Color;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MapLine.Spot;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.units.Unit;

class MapPicturesTest {
    private static Converter rail() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    private static OperatingMap map(List<Figure<ConverterSteadyState>> figures) {
        return OperatingMap.holding(
                rail(),
                5,
                Axis.loadCurrent(milli(5), 2, 20),
                Axis.inputVoltage(9, 15, 7),
                figures,
                Execution.onThreads(1));
    }

    @Test
    void contoursCarryTheirValuesAndAxesTheirUnits() {
        Picture picture = MapPictures.contours("Rail", map(List.of(Figures.EFFICIENCY, Figures.OUTPUT_RIPPLE)), 0);
        assertThat(picture.svg())
                .contains(">94<", ">95<", ">%<", "Efficiency", "Load current", "Input voltage (V)", ">100 mA<")
                .contains("buck, output held at 5.000 V, 20 × 7 steady states", "not a safety approval")
                .doesNotContain("left out");
        assertThat(new Pixels(picture.image()).paperAround(8)).isTrue();
        assertThat(MapPictures.contours("Rail", map(List.of(Figures.OUTPUT_RIPPLE)), 0)
                        .svg())
                .contains(">mV<", "Output voltage peak to peak");
    }

    @Test
    void aFigureThatTheTitleNamesIsNotNamedAgain() {
        OperatingMap map = map(List.of(Figures.OUTPUT_RIPPLE));
        String named = MapPictures.contours("Rail: output voltage peak to peak", map, 0)
                .svg();
        assertThat(named.split("utput voltage peak to peak", -1)).as("once").hasSize(2);
    }

    /** Where the exact boundary crosses the bottom of the map there is its line. */
    @Test
    void aNarrowMapNamesEverythingInFull() {
        Picture narrow = MapPictures.contours(
                        "A rail with a long name: output ripple", map(List.of(Figures.OUTPUT_RIPPLE)), 0)
                .withSize(440, 440);
        assertThat(narrow.svg())
                .contains(">A rail with a long name: output ripple<")
                .contains(">boundary of conduction<", ">discontinuous conduction<")
                .doesNotContain("\u2026");
        String title = "A rail with a name that no single line of a telephone can hold: output ripple";
        assertThat(MapPictures.contours(title, map(List.of(Figures.OUTPUT_RIPPLE)), 0)
                        .withSize(440, 440)
                        .svg())
                .contains(": output ripple<")
                .doesNotContain("\u2026");
    }

    @Test
    void theBoundaryIsDrawnWhereItIs() {
        OperatingMap map = map(List.of());
        Pixels pixels = new Pixels(MapPictures.conduction("Rail", map).image());
        Spot spot = map.boundary().get(0).spots().stream()
                .filter(s -> s.up() == 12)
                .findFirst()
                .orElseThrow();
        int left = 14 + Axes.LEFT;
        int right = 940 - 14 - Axes.RIGHT;
        double share = Math.log(spot.across() / milli(5)) / Math.log(2 / milli(5));
        int x = (int) Math.round(left + share * (right - left));
        int top = 14 + 26 + 20 + StackDrawing.HEADING;
        int bottom = 620 - 14 - 16 - 8 - Axes.BELOW;
        int middle = (top + bottom) / 2;
        assertThat(pixels.count(Look.trace(1), x - 2, middle - 1, x + 3, middle + 1))
                .isPositive();
        assertThat(pixels.count(Look.trace(1), left, middle - 1, x - 8, middle + 1))
                .isZero();
        // hatched left of it and paper with a grid right of it
        assertThat(veiled(pixels, x - 60, middle)).isTrue();
        assertThat(veiled(pixels, x + 20, middle)).isFalse();
    }

    @Test
    void theDesignIsADotWhereItLies() {
        OperatingMap map = map(List.of());
        Spot design = new Spot(0.1, 12);
        Picture marked = MapPictures.conduction("Rail", map, design);
        double share = Math.log(0.1 / milli(5)) / Math.log(2 / milli(5));
        int left = 14 + Axes.LEFT;
        int x = (int) Math.round(left + share * (940 - 14 - Axes.RIGHT - left));
        int middle = (14 + 26 + 20 + StackDrawing.HEADING + 620 - 14 - 16 - 8 - Axes.BELOW) / 2;
        assertThat(new Pixels(marked.image()).count(Look.INK, x - 3, middle - 3, x + 3, middle + 3))
                .isGreaterThan(30);
        assertThat(marked.svg()).contains("the design");
        assertThat(MapPictures.conduction("Rail", map, new Spot(50, 12)).svg()).doesNotContain("the design");
    }

    /** Whether a square is tinted. */
    private static boolean veiled(Pixels pixels, int x, int y) {
        int blue = 0;
        for (int i = 0; i < 20; i++) {
            Color found = new Color(pixels.image().getRGB(x + i, y + i / 2));
            blue += found.getBlue() > found.getRed() + 15 ? 1 : 0;
        }
        return blue > 8;
    }

    @Test
    void pointsWithoutASteadyStateAreLeftOutAndCounted() {
        Axis failing = new Axis("step", Unit.ONE, List.of(1.0, 2.0, 3.0, 4.0), false, (converter, value) -> {
            if (value == 4) {
                throw new IllegalStateException("no such part");
            }
            return converter.withLoad(Load.resistor(value));
        });
        OperatingMap map = OperatingMap.of(
                rail(), failing, Axis.inputVoltage(9, 15, 3), List.of(Figures.INDUCTOR_PEAK), Execution.onThreads(1));
        Picture picture = MapPictures.contours("Rail", map, 0);
        assertThat(picture.svg())
                .contains("3 points without one left out", "discontinuous conduction: nowhere")
                .contains(">Step<");
        Pixels pixels = new Pixels(picture.image());
        Color paper = new Color(pixels.image().getRGB(840, 300));
        assertThat(paper).isEqualTo(Look.PAPER);
        Color band = new Color(pixels.image().getRGB(300, 300));
        assertThat(band.getBlue()).isGreaterThan(band.getRed());
        // without bands white means continuous conduction
        Picture modes = MapPictures.conduction("Rail", map);
        assertThat(modes.svg()).contains("no steady state");
        assertThat(new Pixels(modes.image()).is(840, 300, Look.MISSING)).isTrue();
        assertThat(new Pixels(modes.image()).is(500, 303, Look.MISSING)).isFalse();
        assertThat(picture.svg()).doesNotContain("no steady state");
    }

    /** Beside points without a steady state a cell is left out as a whole, by hatching as by bands. */
    @Test
    void nothingIsHatchedBesideMissingPoints() {
        Axis failing = new Axis("step", Unit.ONE, List.of(1.0, 2.0, 3.0), false, (converter, value) -> {
            if (value == 3 && converter.inputVoltage() > 14) {
                throw new IllegalStateException("no such part");
            }
            return converter.withLoad(Load.resistor(100 * value));
        });
        OperatingMap map =
                OperatingMap.of(rail(), failing, Axis.inputVoltage(9, 15, 2), List.of(), Execution.onThreads(1));
        Pixels pixels = new Pixels(MapPictures.conduction("Rail", map).image());
        assertThat(pixels.count(Look.MISSING, 560, 120, 880, 500)).isGreaterThan(310 * 375);
        assertThat(veiled(pixels, 200, 300)).isTrue();
    }

    @Test
    void theEfficiencyOfAStageThatHoldsItsCurrentIsDrawnByTheLoadThatItDrives() {
        Converter buck = rail().withRegulator(CurrentMode.peak(kilo(300), 2.2));
        EfficiencyCurve curve = EfficiencyCurve.of(buck, 5, List.of(), 2, 3, 4);
        double[] loads = curve.points().stream()
                .mapToDouble(EfficiencyCurve.Point::loadCurrent)
                .toArray();
        assertThat(loads[0]).isLessThan(loads[1]);
        EfficiencyCurve falling = new EfficiencyCurve(
                curve.topology(),
                12,
                5,
                List.of(curve.points().get(2), curve.points().get(0)),
                Map.of());
        assertThat(LossPictures.efficiency("Rail", falling).svg()).contains("Load current");
    }

    @Test
    void anUprightAxisCanBeLogarithmic() {
        OperatingMap map = OperatingMap.of(
                rail(),
                Axis.dutyCycle(0.2, 0.6, 5),
                Axis.loadResistance(1, 1000, 7),
                List.of(Figures.OUTPUT_VOLTAGE),
                Execution.onThreads(1));
        assertThat(MapPictures.contours("Rail", map, 0).svg())
                .contains(">1 kΩ<", ">10 Ω<", ">Load resistance<", ">Duty cycle<", ">0.30<");
    }

    @Test
    void aFigureThatIsTheSameEverywhereIsDrawnToo() {
        Picture picture = MapPictures.contours("Rail", map(List.of(Figures.OUTPUT_VOLTAGE)), 0);
        assertThat(picture.svg()).contains("Output voltage mean", ">V<");
    }

    /** V = D V_i for ideal parts: it grows to the right and upwards, and so does the shade, but not alike. */
    @Test
    void bandsAreDarkerWhereTheFigureIsLarger() {
        Converter ideal = rail().withInductor(micro(22), 0).withTransistor(0).withSynchronousRectifier(0);
        OperatingMap map = OperatingMap.of(
                ideal,
                Axis.dutyCycle(0.1, 0.8, 8),
                Axis.inputVoltage(10, 20, 5),
                List.of(Figures.OUTPUT_VOLTAGE),
                Execution.onThreads(1));
        Pixels pixels = new Pixels(MapPictures.contours("Rail", map, 0).image());
        int left = 14 + Axes.LEFT;
        int right = 940 - 14 - 78;
        int top = 14 + 26 + 20 + StackDrawing.HEADING;
        int bottom = top + 430;
        Levels levels = Levels.between(1, 16, Unit.VOLT, false);
        for (double u : new double[] {0.04, 0.35, 0.62, 0.8}) {
            for (double v : new double[] {0.04, 0.4, 0.93}) {
                double volt = (0.1 + 0.7 * u) * (10 + 10 * v);
                double strength =
                        0.06 + 0.56 * levels.band(volt) / levels.values().size();
                // the red of the hue is 0
                int red = (int) Math.round(255 * (1 - strength));
                int x = (int) (left + u * (right - left));
                int y = (int) (bottom - v * (bottom - top));
                int shaded = 0;
                for (int k = 0; k < 49; k++) {
                    Color found = new Color(pixels.image().getRGB(x + k % 7 - 3, y + k / 7 - 3));
                    shaded += Math.abs(found.getRed() - red) <= 1 ? 1 : 0;
                }
                assertThat(shaded)
                        .as("shade of %s V at %s of the width and %s of the height", volt, u, v)
                        .isGreaterThan(12);
            }
        }
    }

    @Test
    void aFigureThatIsZeroEverywhereIsDrawnToo() {
        Converter closed = rail().withDutyCycle(1).withLoad(Load.current(1));
        OperatingMap map = OperatingMap.of(
                closed,
                Axis.inputVoltage(9, 15, 3),
                Axis.loadCurrent(1, 2, 2),
                List.of(StageFigure.of(StageMeasurement.Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE)),
                Execution.onThreads(1));
        assertThat(map.value(0, 1, 1)).isZero();
        assertThat(MapPictures.contours("Rail", map, 0).svg()).contains("Output voltage peak to peak");
    }

    @Test
    void levelsAreRoundAndWrittenWithoutNeedlessDigits() {
        Levels levels = Levels.between(0.901, 0.963, Unit.ONE, true);
        assertThat(levels.values()).hasSize(6);
        assertThat(levels.values().get(0)).isCloseTo(0.91, within(1e-12));
        assertThat(levels.label(0)).isEqualTo("91");
        assertThat(levels.band(0.9)).isZero();
        assertThat(levels.band(0.97)).isEqualTo(6);
    }

    @Test
    void refusesWhatItCannotDraw() {
        assertThatThrownBy(() -> MapPictures.contours("Rail", map(List.of()), 0))
                .hasMessageContaining("0 figures");
        OperatingMap thin = OperatingMap.of(
                rail(),
                new Axis("load", Unit.OHM, List.of(1.0), false, (c, v) -> c),
                Axis.inputVoltage(9, 15, 3),
                List.of(),
                Execution.onThreads(1));
        assertThatThrownBy(() -> MapPictures.conduction("Rail", thin)).hasMessageContaining("1 across and 3 up");
        Figure<ConverterSteadyState> none = Figure.of("nothing", Unit.VOLT, steady -> Double.NaN);
        assertThatThrownBy(() -> MapPictures.contours("Rail", map(List.of(none)), 0))
                .hasMessageContaining("nothing exists at no point");
    }
}
