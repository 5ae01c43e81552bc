package org.voltsecond.examples.command;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeoutException;
import java.util.zip.GZIPOutputStream;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree;
import org.voltsecond.design.DesignTree.Setting;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.report.PageAnswer;

/**
 * The page that computes, worked in a browser without a network: after each change of a control every figure is that of the Java
 * machine. Skipped where there is no browser, or where the build was told to make no script (-DnoLive).
 */
class LivePageTest {
    /** Math functions of a browser may differ in the last digit, which a search makes somewhat more of. */
    private static final double CLOSE = 1e-9;

    /** What can be mailed and is opened at once: bytes of a page with all that it holds. */
    private static final int MOST_OF_A_PAGE = 3_000_000;

    @TempDir
    Path folder;

    private static final String RUN = """
            [transient]
            duration = "0.2 ms"
            start = "steady-state"
            [[transient.change]]
            time = "0.1 ms"
            load = { resistance = "5 Ω" }
            [limits]
            output_ripple = "50 mV"
            """;

    private static final String OWN = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "sw"], on_resistance = "80 mΩ" },
                { name = "D1", kind = "rectifier", between = ["ground", "sw"], forward_drop = "0.4 V" },
                { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2.5 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.5, switching_frequency = "300 kHz" } ]
            output = { between = ["out", "ground"] }
            """;

    private OpenPage open(String design, String page)
            throws IOException, InterruptedException, ExecutionException, TimeoutException {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "there is no browser on this computer");
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path file = Designs.write(folder, "rail.toml", design);
        assertThat(CommandRun.of(file, "--into", folder.resolve("out")).exitCode())
                .isZero();
        return OpenPage.open(browser.get(), folder.resolve("out/rail/" + page), 1200);
    }

    private static final String CHANGE = """
            new Promise(done => {
              const field = document.querySelector('[data-key="KEY"]');
              field.value = "VALUE";
              for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, {bubbles: true}));
              const look = () => document.documentElement.dataset.live === "ready"
                ? done([...document.querySelectorAll("[data-figure]")].map(each => each.dataset.figure + "=" + each.dataset.value).join(";"))
                : setTimeout(look, 5);
              look();
            })""";

    private static void holdFiguresAgainstTheMachine(OpenPage page, DesignTree tree, Setting setting, int changes)
            throws DesignException, InterruptedException, ExecutionException, TimeoutException {
        for (int k = 1; k <= changes; k++) {
            double value = setting.value() == 0 ? 0.001 * k : setting.value() * (1 + 0.004 * (k % 2 == 0 ? k : -k));
            Map<String, String> expected = PageAnswer.of(
                            tree.with(setting.key(), value).design("rail"), true)
                    .figures();
            String seen = page.evaluate(CHANGE.replace("KEY", setting.key()).replace("VALUE", String.valueOf(value)));
            int held = 0;
            for (String figure : seen.split(";", -1)) {
                String place = figure.substring(0, figure.indexOf('='));
                String found = figure.substring(figure.indexOf('=') + 1);
                String wanted = expected.getOrDefault(place, "null");
                if (wanted.equals("null") || place.contains("residual")) {
                    assertThat(found.isEmpty()).as(place).isEqualTo(wanted.equals("null"));
                    continue;
                }
                double exact = Double.parseDouble(wanted);
                // a mean of what goes to and fro is rounding of its swing
                double least = place.endsWith("/mean") || place.contains("multipliers") || place.endsWith("/error")
                        ? 1e-12
                        : 0;
                assertThat(Double.parseDouble(found))
                        .as("%s with %s at %s", place, setting.key(), value)
                        .satisfiesAnyOf(
                                number -> assertThat(number).isCloseTo(exact, Percentage.withPercentage(100 * CLOSE)),
                                number -> assertThat(number).isCloseTo(exact, within(least)));
                held++;
            }
            assertThat(held).isGreaterThan(40);
        }
        page.evaluate("document.querySelector('.live-reset').click()");
    }

    @Test
    void everyFigureFollowsEveryControl() throws Exception {
        String design = Designs.BUCK + RUN;
        DesignTree tree = DesignFile.tree("rail.toml", design);
        try (OpenPage page = open(design, "explore.html")) {
            for (String key : List.of(
                    "drive.duty_cycle",
                    "input.voltage",
                    "load.resistance",
                    "inductor.inductance",
                    "output_capacitor.capacitance",
                    "output_capacitor.resistance",
                    "rectifier.forward_drop",
                    "drive.switching_frequency")) {
                Setting setting = tree.settings().stream()
                        .filter(each -> each.key().equals(key))
                        .findFirst()
                        .orElseThrow();
                holdFiguresAgainstTheMachine(page, tree, setting, 2);
            }
            assertThat(page.console()).isEmpty();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"regulated", "own circuit"})
    void soDoOtherKindsOfConverters(String kind) throws Exception {
        String design =
                kind.equals("own circuit") ? OWN : Designs.BUCK.substring(0, Designs.BUCK.indexOf("[drive]")) + """
                        [drive]
                        kind = "voltage-mode"
                        switching_frequency = "300 kHz"
                        reference = "1 V"
                        divider = 0.2
                        ramp = { valley = "0 V", peak = "1 V" }
                        maximum_duty_cycle = 0.95
                        [drive.compensator]
                        kind = "type-2"
                        integrator_gain = 1500
                        zero = "4557 Hz"
                        pole = "100 kHz"
                        """;
        DesignTree tree = DesignFile.tree("rail.toml", design);
        try (OpenPage page = open(design, "report.html")) {
            for (Setting setting : tree.settings()) {
                if (List.of("drive.reference", "drive.compensator.zero", "L1.inductance", "gate[1].duty_cycle")
                        .contains(setting.key())) {
                    holdFiguresAgainstTheMachine(page, tree, setting, 2);
                }
            }
            assertThat(page.console()).isEmpty();
        }
    }

    @Test
    void aWrongValueIsToldBesideItsFieldAndCanBeUndone() throws Exception {
        try (OpenPage page = open(Designs.BUCK, "explore.html")) {
            String mean =
                    "document.querySelector('[data-figure=\"steady_state/signals/output_voltage/mean\"]').dataset.value";
            String before = page.evaluate(mean);
            page.evaluate(CHANGE.replace("KEY", "inductor.inductance").replace("VALUE", "22 mF"));
            assertThat(page.evaluate("[...document.querySelectorAll('.fault')].map(each => each.textContent).join('')"))
                    .contains("\"22 mF\" is a capacitance; valid: more than 0 H");
            assertThat(page.evaluate("document.querySelectorAll('td.old').length > 40"))
                    .isEqualTo("true");
            assertThat(page.evaluate(mean)).isEqualTo(before);
            page.evaluate(CHANGE.replace("KEY", "inductor.inductance").replace("VALUE", "33 µH"));
            page.evaluate(CHANGE.replace("KEY", "input.voltage").replace("VALUE", "15 V"));
            assertThat(Double.parseDouble(page.evaluate(mean))).isGreaterThan(6);
            assertThat(page.evaluate("document.querySelector('.live-link').hash"))
                    .isEqualTo("#set=input.voltage=15%20V&inductor.inductance=33%20%C2%B5H");
            assertThat(page.evaluate("file('input.voltage\\t15')")).contains("[input]\nvoltage = 15.0");
            page.evaluate("[1, 2, 3].forEach(() => document.querySelector('.live-undo').click())");
            page.await("Math.abs(" + mean + " - " + before + ") <= 1e-12");
            assertThat(page.evaluate("document.querySelector('[data-key=\"input.voltage\"]').value"))
                    .isEqualTo("12");
            assertThat(Double.parseDouble(page.evaluate(mean))).isCloseTo(Double.parseDouble(before), within(1e-12));
            // every control is in the order of the keyboard, with a name
            assertThat(
                            page.evaluate(
                                    "[...document.querySelectorAll('form.live input, form.live button')]"
                                            + ".every(each => each.tabIndex === 0 && (each.labels?.length || each.ariaLabel || each.textContent))"))
                    .isEqualTo("true");
            assertThat(page.console()).isEmpty();
        }
    }

    /** A value is changed again while the run of the one before is under way beside the page. */
    @Test
    void anEarlierAnswerNeverTakesThePlaceOfALaterOne() throws Exception {
        try (OpenPage page = open(Designs.BUCK + RUN, "explore.html")) {
            String seen = page.evaluate("""
                    new Promise(done => {
                      const field = document.querySelector('[data-key="input.voltage"]');
                      const figure = document.querySelector('[data-figure="steady_state/signals/output_voltage/mean"]');
                      const set = value => { field.value = value; field.dispatchEvent(new Event("input", {bubbles: true})); };
                      const seen = [];
                      const look = () => {
                        if (seen[seen.length - 1] !== figure.dataset.value) seen.push(figure.dataset.value);
                        if (document.documentElement.dataset.live === "ready") done(seen.join(" ")); else setTimeout(look, 1);
                      };
                      set("13");
                      setTimeout(() => { set("15"); look(); }, 150);
                    })""");
            List<String> values = List.of(seen.split(" ", -1));
            assertThat(values).doesNotHaveDuplicates();
            assertThat(Double.parseDouble(values.get(values.size() - 1))).isGreaterThan(5.9);
            assertThat(page.console()).isEmpty();
        }
    }

    @Test
    void whereThePageCannotComputeItIsTheReport() throws Exception {
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path file = Designs.write(folder, "rail.toml", Designs.BUCK);
        assertThat(CommandRun.of(file, "--into", folder.resolve("out")).exitCode())
                .isZero();
        String page = Files.readString(folder.resolve("out/rail/report.html"));
        assertThat(page).contains("<form class=\"live\" hidden", "data-key=\"load.resistance\"");
        assertThat(page.length()).isLessThan(MOST_OF_A_PAGE);
        int from = page.indexOf("<script id=\"engine\">");
        String script = page.substring(from, page.indexOf("</script>", from));
        assertThat(script.length()).isBetween(500_000, 1_300_000);
        ByteArrayOutputStream packed = new ByteArrayOutputStream();
        try (GZIPOutputStream packer = new GZIPOutputStream(packed)) {
            packer.write(script.getBytes(UTF_8));
        }
        // 400 kB is what it is to be
        assertThat(packed.size()).isLessThan(400_000);
    }
}
