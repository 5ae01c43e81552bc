package org.voltsecond.plot.viewer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree.Setting;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.waveform.Waveform;

/** A design under sliders, without a screen: the test is the thread of events. */
class DesignModelTest {
    static final String RAIL = """
            name = "logic rail"
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            resistance = "30 mΩ"
            [output_capacitor]
            capacitance = "47 µF"
            resistance = "5 mΩ"
            [transistor]
            on_resistance = "80 mΩ"
            [rectifier]
            forward_drop = "0.4 V"
            [load]
            resistance = "2.5 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            [limits]
            output_ripple = "5 mV"
            """;

    private static final String WITH_RUN = RAIL + """
            [transient]
            duration = "1 ms"
            [[transient.change]]
            time = "0.5 ms"
            load = { resistance = "5 Ω" }
            """;

    private final BlockingQueue<Runnable> events = new LinkedBlockingQueue<>();
    private DesignModel model = modelOf(RAIL);

    private DesignModel modelOf(String text) {
        try {
            boolean run = text.contains("[transient]");
            return new DesignModel(DesignFile.tree("rail.toml", text), "rail", run, events::add);
        } catch (DesignException e) {
            throw new IllegalArgumentException(e);
        }
    }

    @AfterEach
    void stop() {
        model.stop();
    }

    private void await(BooleanSupplier condition) throws InterruptedException {
        while (!condition.getAsBoolean()) {
            Runnable event = events.poll(20, TimeUnit.SECONDS);
            assertThat(event).as("an answer within 20 s").isNotNull();
            Objects.requireNonNull(event).run();
        }
    }

    private void await() throws InterruptedException {
        await(() -> !model.isBusy());
    }

    private Setting setting(String key) {
        return model.settings().stream()
                .filter(setting -> setting.key().equals(key))
                .findFirst()
                .orElseThrow();
    }

    private Findings found() {
        return Objects.requireNonNull(model.found());
    }

    private static void same(Waveform one, Waveform other) {
        assertThat(one.mean()).isEqualTo(other.mean());
        assertThat(one.rms()).isEqualTo(other.rms());
        assertThat(one.minimum()).isEqualTo(other.minimum());
        assertThat(one.maximum()).isEqualTo(other.maximum());
    }

    /** The same bits as of a file that says the same. */
    @ParameterizedTest
    @CsvSource({
        "drive.duty_cycle, 0.45, 0.3, 0.3",
        "input.voltage, '\"12 V\"', 9 V, '\"9 V\"'",
        "load.resistance, '\"2.5 Ω\"', 100, 100",
        "inductor.inductance, '\"22 µH\"', 10uH, '\"10 µH\"'",
        "output_capacitor.capacitance, '\"47 µF\"', 94 µF, '\"94 µF\"'",
        "output_capacitor.resistance, '\"5 mΩ\"', 20 mohm, '\"20 mΩ\"'",
        "drive.switching_frequency, '\"300 kHz\"', 150 kHz, '\"150 kHz\"'",
        "rectifier.forward_drop, '\"0.4 V\"', 0.7 V, '\"0.7 V\"'"
    })
    void aTypedValueGivesWhatTheFileWouldGive(String key, String was, String typed, String written) throws Exception {
        String name = key.substring(key.indexOf('.') + 1);
        String section = key.substring(0, key.indexOf('.'));
        int from = RAIL.indexOf(name + " = " + was, RAIL.indexOf("[" + section + "]"));
        String changed =
                RAIL.substring(0, from) + name + " = " + written + RAIL.substring(from + (name + " = " + was).length());
        Converter converter = DesignFile.parse("rail.toml", "rail", changed).converter();
        ConverterSteadyState expected = converter.steadyState();
        model.begin();
        model.type(setting(key), typed);
        await();
        ConverterSteadyState steady = found().steadyState().get();
        assertThat(steady.conduction()).isEqualTo(expected.conduction());
        assertThat(steady.efficiency()).isEqualTo(expected.efficiency());
        same(steady.of(found().converter().outputVoltage()), expected.of(converter.outputVoltage()));
        same(steady.of(found().converter().inductorCurrent()), expected.of(converter.inductorCurrent()));
        assertThat(DesignFigures.of(found()))
                .isEqualTo(DesignFigures.of(Findings.of(DesignFile.parse("rail.toml", "rail", changed))));
        assertThat(DesignFigures.of(found())).isNotEqualTo(DesignFigures.of(model.start()));
        assertThat(DesignFile.parse("saved.toml", "rail", model.file())
                        .converter()
                        .steadyState()
                        .efficiency())
                .isEqualTo(expected.efficiency());
    }

    @Test
    void theTransientFollowsToo() throws Exception {
        model = modelOf(WITH_RUN);
        model.begin();
        model.type(setting("transient.change[1].load.resistance"), "10 Ω");
        await();
        String changed = WITH_RUN.replace("5 Ω\" }", "10 Ω\" }");
        Findings expected = Findings.of(DesignFile.parse("rail.toml", "rail", changed));
        ConverterTransient run =
                Objects.requireNonNull(expected.transientRun()).get().run();
        ViewerContent content = Objects.requireNonNull(model.content());
        assertThat(content.panels()).hasSize(3);
        same(
                content.panels().get(2).waveforms().get(0),
                run.of(expected.converter().outputVoltage()));
        assertThat(DesignFigures.of(found()))
                .isEqualTo(DesignFigures.of(expected))
                .anyMatch(row -> row.label().equals("after 500.00 µs: overshoot")
                        && row.text().endsWith("V"));
        model.showRun(false);
        await();
        assertThat(Objects.requireNonNull(model.content()).title()).contains("steady state");
    }

    @Test
    void theFileStaysInGreyBesideWhatIsChanged() throws Exception {
        model.begin();
        await();
        double ripple = found().steadyState()
                .get()
                .of(found().converter().inductorCurrent())
                .peakToPeak();
        assertThat(Objects.requireNonNull(model.content()).traces()).hasSize(3);
        model.type(setting("inductor.inductance"), "11 µH");
        await();
        List<Traced> traces = Objects.requireNonNull(model.content()).traces();
        assertThat(traces).extracting(trace -> trace.waveform().name()).contains("inductor current, as in the file");
        Waveform now = traces.get(2).waveform();
        Waveform before = traces.get(3).waveform();
        assertThat(before.peakToPeak()).isEqualTo(ripple);
        assertThat(now.peakToPeak()).isGreaterThan(1.9 * ripple);
        assertThat(traces.get(3).style().color().getRed())
                .isEqualTo(traces.get(3).style().color().getBlue());
        model.showStart(false);
        assertThat(Objects.requireNonNull(model.content()).traces()).hasSize(3);
    }

    @Test
    void whatIsUndoneCanBeDoneAgain() throws Exception {
        Setting load = setting("load.resistance");
        model.begin();
        model.type(load, "3 Ω");
        model.settle();
        model.type(load, "4");
        model.type(load, "4 Ω");
        model.settle();
        assertThat(model.canRedo()).isFalse();
        model.undo();
        assertThat(model.text(load)).isEqualTo("3 Ω");
        model.undo();
        assertThat(model.text(load)).isEqualTo("2.5 Ω");
        assertThat(model.canUndo()).isFalse();
        assertThat(model.isChanged()).isFalse();
        model.redo();
        model.redo();
        assertThat(model.text(load)).isEqualTo("4 Ω");
        model.reset();
        assertThat(model.isChanged()).isFalse();
        model.undo();
        await();
        assertThat(found().steadyState()
                                .get()
                                .of(found().converter().outputVoltage())
                                .mean()
                        / 4)
                .isCloseTo(
                        found().steadyState()
                                .get()
                                .of(found().converter().loadCurrent())
                                .mean(),
                        within(1e-12));
    }

    /** Every fault at its field, all at once; what is shown stays that of the last valid values. */
    @Test
    void faultsStandAtTheirFields() throws Exception {
        model.begin();
        await();
        Findings before = found();
        model.type(setting("inductor.inductance"), "22 mF");
        model.type(setting("drive.duty_cycle"), "1.4");
        model.type(setting("load.resistance"), "heavy");
        await();
        assertThat(model.faultOf(setting("inductor.inductance"))).contains("22 mF");
        assertThat(model.faultOf(setting("drive.duty_cycle"))).contains("1.4");
        assertThat(model.faultOf(setting("load.resistance"))).contains("heavy");
        assertThat(model.faultOf(setting("input.voltage"))).isEmpty();
        assertThat(model.found()).isSameAs(before);
        assertThatThrownBy(model::file).isInstanceOf(DesignException.class);
        model.reset();
        await();
        assertThat(model.hasFaults()).isFalse();
    }

    /** Of many requests in a row a few are answered, the last one among them. */
    @Test
    void theNewestRequestWins() throws Exception {
        Setting duty = setting("drive.duty_cycle");
        int[] answers = {0};
        model.onContent(content -> answers[0]++);
        model.begin();
        for (int k = 0; k <= 1000; k++) {
            model.slide(duty, k / 1000.0 * 0.5);
        }
        assertThat(model.isBusy()).isTrue();
        await();
        // what would be answered though nobody waits for it any more comes later
        for (Runnable late = events.poll(500, TimeUnit.MILLISECONDS);
                late != null;
                late = events.poll(500, TimeUnit.MILLISECONDS)) {
            late.run();
        }
        assertThat(answers[0]).isBetween(1, 500);
        assertThat(found().steadyState().get().dutyCycle()).isCloseTo(0.5, within(1e-12));
    }
}
