package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.plot.PanelArea;
import org.voltsecond.plot.Waves;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What a viewer shows and measures, without a screen. */
class ViewModelTest {
    private static final double END = Waves.switchNode().repeated(3).endTime();

    private static ViewModel model() {
        return new ViewModel(Viewer.builder("three periods")
                .panel(Waves.switchNode().repeated(3))
                .panel(Waves.inductorCurrent().repeated(3))
                .period(Waves.PERIOD)
                .content());
    }

    @Test
    void zoomKeepsTheTimeAtThePointer() {
        ViewModel model = model();
        double about = 0.4 * END;
        model.zoom(0.5, about);
        assertThat(model.time().length()).isCloseTo(0.5 * END, within(1e-12 * END));
        assertThat((about - model.time().from()) / model.time().length()).isCloseTo(0.4, within(1e-12));
        model.zoom(100, about);
        assertThat(model.time()).isEqualTo(new TimeWindow(0, END));
    }

    @Test
    void panStopsAtTheEndsAndKeepsTheLength() {
        ViewModel model = model();
        model.select(10e-6, 14e-6);
        model.pan(1e-6);
        assertThat(model.time().from()).isCloseTo(11e-6, within(1e-18));
        model.pan(1);
        assertThat(model.time().to()).isEqualTo(END);
        assertThat(model.time().length()).isCloseTo(4e-6, within(1e-17));
        model.pan(-1);
        assertThat(model.time().from()).isZero();
        assertThat(model.time().length()).isCloseTo(4e-6, within(1e-17));
    }

    @Test
    void zoomEndsBeforeTheDigitsDo() {
        ViewModel model = model();
        for (int i = 0; i < 500; i++) {
            model.zoom(0.5, 7e-6);
        }
        assertThat(model.time().length()).isBetween(1e-9 * END * 0.99, 1e-9 * END * 1.01);
        assertThat(model.time().contains(7e-6)).isTrue();
        assertThat(draw(model)).hasSize(2);
    }

    @Test
    void backTakesAWheelAsOneStepAndEveryDragAsItsOwn() {
        ViewModel model = model();
        model.select(0, 20e-6);
        model.select(5e-6, 15e-6);
        for (int i = 0; i < 7; i++) {
            model.zoom(0.8, 10e-6);
        }
        model.back();
        assertThat(model.time()).isEqualTo(new TimeWindow(5e-6, 15e-6));
        model.back();
        assertThat(model.time()).isEqualTo(new TimeWindow(0, 20e-6));
        model.back();
        assertThat(model.time()).isEqualTo(new TimeWindow(0, END));
        assertThat(model.canGoBack()).isFalse();
        model.back();
        assertThat(model.time()).isEqualTo(new TimeWindow(0, END));
    }

    /** A value of the design was changed: one looks at the same place of the new waveforms. */
    @Test
    void newWaveformsAreSeenAtTheSameZoom() {
        ViewModel model = model();
        model.select(5e-6, 15e-6);
        model.selectValues(1, new ValueSpan(-0.1, 0.1));
        model.place(Which.A, 7e-6);
        model.place(Which.B, 25e-6);
        model.switchTrace(model.traces().get(0), false);
        Waveform current = Waves.inductorCurrent().repeated(2).times(3).named("Inductor current");
        model.replace(Viewer.builder("two periods, three times the current")
                .panel(Waves.switchNode().repeated(2).named("Switch node"))
                .panel(current)
                .panel(Waves.outputVoltage())
                .content());
        assertThat(model.time()).isEqualTo(new TimeWindow(5e-6, 15e-6));
        assertThat(model.view().values()).isEqualTo(Map.of(1, new ValueSpan(-0.1, 0.1)));
        assertThat(model.cursor(Which.A)).isEqualTo(7e-6);
        assertThat(model.cursor(Which.B)).isEqualTo(current.endTime());
        assertThat(model.readout().of("Inductor current").a().after()).isEqualTo(current.at(7e-6));
        assertThat(model.traces().stream().map(model::isOn)).containsExactly(false, true, true);
        assertThat(model.hasPeriods()).isFalse();
        model.back();
        model.back();
        assertThat(model.time()).isEqualTo(new TimeWindow(0, current.endTime()));
        model.replace(Viewer.builder("current alone").panel(current.repeated(3)).content());
        assertThat(model.time()).isEqualTo(new TimeWindow(0, current.repeated(3).endTime()));
        assertThat(model.traces().stream().map(model::isOn)).containsExactly(true);
        model.selectValues(0, new ValueSpan(-1, 1));
        model.replace(model().content());
        assertThat(model.view().values()).isEmpty();
    }

    /** Against the polynomials of which the waveforms are made. */
    @Test
    void cursorsReadBothSidesOfAJump() {
        ViewModel model = model();
        model.placeNear(Which.A, Waves.PERIOD + Waves.ON + 0.04e-6, 0.05e-6);
        model.placeNear(Which.B, Waves.PERIOD + Waves.ON + Waves.OFF - 0.04e-6, 0.05e-6);
        Readout readout = model.readout();
        assertThat(readout.interval()).isCloseTo(Waves.OFF, within(1e-18));
        assertThat(readout.frequency()).isCloseTo(250e3, within(1e-6));
        CursorReading node = readout.of("Switch node");
        assertThat(node.a()).isEqualTo(new CursorValue(12, -0.4, true));
        assertThat(node.b()).isEqualTo(new CursorValue(-0.4, 5, true));
        assertThat(node.difference()).isCloseTo(5.4, within(1e-15));
        CursorReading current = readout.of("Inductor current");
        assertThat(current.a().jumps()).isFalse();
        assertThat(current.a().after()).isCloseTo(0.28, within(1e-15));
        assertThat(current.difference()).isCloseTo(-0.28, within(1e-15));
        assertThatThrownBy(() -> readout.of("Output voltage"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("Switch node");
    }

    @Test
    void cursorsBetweenInstantsStayWhereTheyArePut() {
        ViewModel model = model();
        model.placeNear(Which.A, 1e-6, 0.1e-6);
        assertThat(model.cursor(Which.A)).isEqualTo(1e-6);
        assertThat(model.readout().of("Inductor current").a().after()).isCloseTo(0.112, within(1e-15));
        model.toNextInstant();
        assertThat(model.cursor(Which.A)).isEqualTo(Waves.ON);
        model.toNextInstant();
        model.toPreviousInstant();
        model.toPreviousInstant();
        assertThat(model.cursor(Which.A)).isZero();
        model.toPreviousInstant();
        assertThat(model.cursor(Which.A)).isZero();
        model.place(Which.B, 1);
        assertThat(model.cursor(Which.B)).isEqualTo(END);
        model.nudge(-1e-6);
        assertThat(model.cursor(Which.B)).isCloseTo(END - 1e-6, within(1e-18));
    }

    @Test
    void aTraceThatHasEndedHasNoValueAndLeavesThePictureToTheOthers() {
        ViewModel model = new ViewModel(Viewer.builder("of unequal length")
                .trace(Waves.switchNode())
                .trace(Waves.outputVoltage().repeated(2))
                .content());
        model.place(Which.B, 1.5 * Waves.PERIOD);
        assertThat(model.readout().of("Switch node").b().exists()).isFalse();
        assertThat(model.readout().of("Switch node").difference()).isNaN();
        assertThat(model.readout().of("Output voltage").b().exists()).isTrue();
        model.select(1.2 * Waves.PERIOD, 1.8 * Waves.PERIOD);
        assertThat(draw(model)).hasSize(1);
        assertThat(model.hidden()).containsExactly(model.traces().get(0));
    }

    @Test
    void tracesOfOneUnitShareAPanel() {
        ViewerContent content = Viewer.builder("")
                .trace(Waves.switchNode())
                .trace(Waves.outputVoltage())
                .trace(Waves.inductorCurrent())
                .panel(Waves.outputVoltage())
                .trace(Waves.switchNode())
                .content();
        assertThat(content.panels().stream().map(panel -> panel.waveforms().size()))
                .containsExactly(2, 1, 1, 1);
    }

    @Test
    void aPanelWithoutTracesGivesItsRoomAway() {
        ViewModel model = model();
        List<PanelArea> both = draw(model);
        model.switchTrace(model.traces().get(0), false);
        List<PanelArea> one = draw(model);
        assertThat(one).hasSize(1);
        assertThat(one.get(0).panel()).isEqualTo(1);
        assertThat(one.get(0).height()).isGreaterThan(1.8 * both.get(1).height());
        model.switchTrace(model.traces().get(1), false);
        assertThat(model.showsAnything()).isFalse();
    }

    @Test
    void periodsAreMarkedWhereTheyCanBeToldApart() {
        ViewModel model = model();
        assertThat(model.marksFor(100))
                .containsExactly(new double[] {0, Waves.PERIOD, 2 * Waves.PERIOD, 3 * Waves.PERIOD}, within(1e-18));
        assertThat(model.marksFor(3)).isEmpty();
        assertThat(model.tooManyPeriods(3)).isTrue();
        model.select(5e-6, 15e-6);
        assertThat(model.marksFor(3)).containsExactly(Waves.PERIOD);
        model.setPeriodMarks(false);
        assertThat(model.marksFor(100)).isEmpty();
        assertThatThrownBy(() -> Viewer.builder("rail").period(0)).hasMessageContaining("more than 0 s");
        assertThatThrownBy(() -> Viewer.builder("rail")
                        .panel(Waves.switchNode())
                        .period(1e-15)
                        .content())
                .hasMessageContaining("valid: up to");
        assertThatThrownBy(() -> Viewer.builder("rail").content()).hasMessageContaining("nothing to show");
    }

    @Test
    void valuesZoomAboutThePointerAndFitAgain() {
        ViewModel model = model();
        PanelArea before = draw(model).get(0);
        double about = 12;
        model.selectValues(0, new ValueSpan(before.low(), before.high()).zoomed(0.1, about));
        PanelArea after = draw(model).get(0);
        assertThat(after.y(about)).isCloseTo(before.y(about), within(1e-9));
        assertThat(after.high() - after.low()).isCloseTo(0.1 * (before.high() - before.low()), within(1e-12));
        model.selectValues(0, new ValueSpan(12, 12 + 1e-15));
        assertThat(draw(model).get(0)).isEqualTo(after);
        model.fitValues();
        assertThat(draw(model).get(0)).isEqualTo(before);
    }

    /** One needle of 1 µs in 20,000 periods, up to 5 V where the others reach 2 V. */
    @Test
    void noPeakIsLostAtAnyZoom() {
        Waveform run = Waves.longRun("long run", 20_000);
        double needle = run.timeOfMaximum();
        ViewModel model = new ViewModel(Viewer.builder("").panel(run).content());
        for (double length : new double[] {run.endTime(), 1e-2, 1e-3, 1e-4, 2e-5, 2e-6}) {
            model.select(needle - 0.4 * length, needle + 0.6 * length);
            BufferedImage image = new BufferedImage(1000, 400, BufferedImage.TYPE_INT_RGB);
            PanelArea area = draw(model, image).get(0);
            assertThat(area.high()).as("axis at %s s", length).isCloseTo(5 + 0.08 * 4, within(1e-9));
            assertThat(topOfColour(image, area))
                    .as("row of the peak at %s s", length)
                    .isBetween(area.y(5) - 3, area.y(5) + 3);
        }
    }

    private static double topOfColour(BufferedImage image, PanelArea area) {
        for (int y = (int) area.top(); y < area.top() + area.height(); y++) {
            for (int x = (int) area.left() + 2; x < area.left() + area.width() - 2; x++) {
                Color color = new Color(image.getRGB(x, y));
                if (color.getBlue() > color.getRed() + 60) {
                    return y;
                }
            }
        }
        return -1;
    }

    @Test
    void namesOfUnitsComeFromTheTraces() {
        assertThat(model().readout().of("Inductor current").unit()).isEqualTo(Unit.AMPERE);
    }

    private static List<PanelArea> draw(ViewModel model) {
        return draw(model, new BufferedImage(900, 600, BufferedImage.TYPE_INT_RGB));
    }

    private static List<PanelArea> draw(ViewModel model, BufferedImage image) {
        Graphics2D g = image.createGraphics();
        try {
            return model.picture().drawInto(g, image.getWidth(), image.getHeight());
        } finally {
            g.dispose();
        }
    }
}
