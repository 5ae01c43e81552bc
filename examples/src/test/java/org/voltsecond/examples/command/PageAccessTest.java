package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.plot.page.Page;

/**
 * The pages for who does without mouse, without sight, with little light or on a telephone. Skipped where there is no browser, or
 * where the build was told to make no script (-DnoLive).
 */
class PageAccessTest {
    @TempDir
    Path folder;

    private static final String REGULATED = Designs.BUCK.substring(0, Designs.BUCK.indexOf("[drive]")) + """
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            [drive.compensator]
            kind = "type-2"
            integrator_gain = 1500
            zero = "4557 Hz"
            pole = "100 kHz"
            [transient]
            duration = "0.2 ms"
            start = "steady-state"
            [[transient.change]]
            time = "0.1 ms"
            load = { resistance = "5 Ω" }
            """;

    private static final String FLYBACK = """
            [stage]
            topology = "flyback"
            [input]
            voltage = "48 V"
            [transformer]
            turns = { primary = 3, secondary = 1 }
            magnetizing_inductance = "500 µH"
            [output_capacitor]
            capacitance = "100 µF"
            [load]
            resistance = "10 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.4
            switching_frequency = "100 kHz"
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

    private static String resource(String name) throws IOException {
        try (InputStream stream =
                Objects.requireNonNull(PageAccessTest.class.getClassLoader().getResourceAsStream(name), name)) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private Path written(String name, String design) throws IOException {
        Path file = Designs.write(folder, name + ".toml", design);
        assertThat(CommandRun.of(file, "--into", folder.resolve("out")).exitCode())
                .isZero();
        Path page = folder.resolve("out/" + name + "/report.html");
        // with the script that computes: what can be mailed and is opened at once
        assertThat(Files.size(page)).isBetween(10_000L, 3_000_000L);
        return page;
    }

    private OpenPage open(Path page, int width)
            throws IOException, InterruptedException, ExecutionException, TimeoutException {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "there is no browser on this computer");
        return OpenPage.open(browser.get(), page, width);
    }

    private static void set(OpenPage page, String scheme, int width)
            throws InterruptedException, ExecutionException, TimeoutException {
        page.call(
                "Emulation.setEmulatedMedia",
                "{\"features\":[{\"name\":\"prefers-color-scheme\",\"value\":\"" + scheme + "\"}]}");
        page.call(
                "Emulation.setDeviceMetricsOverride",
                "{\"width\":" + width + ",\"height\":900,\"deviceScaleFactor\":1,\"mobile\":false}");
    }

    /** What axe-core finds, each with the place of the first element, and how far the page leads aside. A picture counts as one thing. */
    private static final String LOOK_OVER = """
            axe.run({exclude: [["figure.picture svg > *"]]}, {resultTypes: ["violations"], runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]})
              .then(found => JSON.stringify(found.violations.map(each => [each.id, each.nodes[0].target.join(" "), each.nodes[0].failureSummary]))
                + " " + Math.max(0, document.documentElement.scrollWidth - innerWidth))""";

    @Test
    void nothingBarsAReader() throws Exception {
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        String axe = resource("axe.min.js");
        List<Path> reports = new ArrayList<>();
        reports.add(written("buck", REGULATED));
        reports.add(written("flyback", FLYBACK));
        reports.add(written("own", OWN));
        reports.add(written("radio", resource("demo/radio-rail.toml")));
        try (OpenPage page = open(reports.get(0), 1200)) {
            for (Path report : reports) {
                for (String name : List.of("report.html", "explore.html")) {
                    page.call(
                            "Page.navigate",
                            "{\"url\":\"" + report.resolveSibling(name).toUri() + "\"}");
                    page.awaitPage(name);
                    page.evaluate("(() => {" + axe + "})()");
                    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })");
                    // each kind of page is seen both ways, each page one way, since a look takes a second
                    boolean dark = (reports.indexOf(report) + name.length()) % 2 == 0;
                    set(page, dark ? "dark" : "light", dark ? 390 : 1200);
                    assertThat(page.evaluate(LOOK_OVER))
                            .as("%s %s, %s", report, name, dark ? "dark and narrow" : "light and wide")
                            .isEqualTo("[] 0");
                }
            }
        }
    }

    private static final String HELD = """
            (() => {
              const held = document.activeElement;
              const {outlineStyle} = getComputedStyle(held);
              return [held.dataset.key || held.ariaLabel || (held.labels && held.labels[0] || held).textContent.trim(),
                outlineStyle !== "none" ? "seen" : "unseen", held.tagName].join("|");
            })()""";

    /** Goes through the page by the tabulator key, with every group of controls unfolded on the way. */
    private static List<String> walk(OpenPage page) throws InterruptedException, ExecutionException, TimeoutException {
        List<String> held = new ArrayList<>();
        for (int k = 0; k < 200; k++) {
            page.key("Tab");
            String now = page.evaluate(HELD);
            if (now.endsWith("BODY") || (k > 3 && now.equals(held.get(0)))) {
                break;
            }
            if (now.endsWith("SUMMARY")) {
                page.key("Enter");
            }
            held.add(now);
        }
        return held;
    }

    @Test
    void theKeyboardReachesAll() throws Exception {
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path explorer = written("buck", REGULATED).resolveSibling("explore.html");
        try (OpenPage page = open(explorer, 1200)) {
            String keys = page.evaluate(
                    "[...document.querySelectorAll('form.live [data-key]')].map(each => each.dataset.key).join()");
            List<String> held = walk(page);
            assertThat(held).allMatch(each -> each.contains("|seen|"));
            List<String> controls = held.stream()
                    .filter(each -> each.endsWith("INPUT"))
                    .map(each -> each.substring(0, each.indexOf('|')))
                    .toList();
            assertThat(controls).containsSubsequence(keys.split(","));
            // what is asked first comes first
            assertThat(controls).containsSubsequence("input.voltage", "load.resistance", "inductor.inductance");
            assertThat(held).anyMatch(each -> each.contains("Two periods of the steady state; arrow keys"));
            assertThat(held).anyMatch(each -> each.startsWith("Take as design file"));
            assertThat(page.console()).isEmpty();
        }
    }

    @Test
    void arrowKeysChangeAValueAndItIsHeard() throws Exception {
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path explorer = written("buck", Designs.BUCK).resolveSibling("explore.html");
        try (OpenPage page = open(explorer, 1200)) {
            String output =
                    "document.querySelector('[data-figure=\"steady_state/signals/output_voltage/mean\"]').dataset.value";
            double before = Double.parseDouble(page.evaluate(output));
            page.evaluate("document.querySelector('[aria-label=\"input voltage, slider\"]').focus()");
            page.key("ArrowRight");
            page.key("ArrowRight");
            page.await(output + " > " + before);
            String said = "document.querySelector('.live-state').textContent";
            page.await(said + ".startsWith('output voltage 5.0')");
            String heard = page.evaluate(said);
            assertThat(heard).hasSizeLessThan(120);
            // no other region of the panel speaks, and the cursor of a waveform waits until it rests
            assertThat(
                            page.evaluate(
                                    "[...document.querySelectorAll('form.live output')].every(each => each.ariaLive === 'off')"))
                    .isEqualTo("true");
            page.evaluate("document.querySelector('.live-undo').focus()");
            page.key("Enter");
            page.key("Enter");
            page.await("Math.abs(" + output + " - " + before + ") <= 1e-12");
            // the cursor of the waveforms, and a closer look at them
            page.evaluate("document.querySelector('.plots').focus()");
            page.key("ArrowRight");
            page.key("ArrowRight");
            assertThat(page.evaluate("document.querySelector('.instant').textContent"))
                    .startsWith("at ");
            page.key("+");
            assertThat(page.evaluate(
                            "(figure => figure.window()[1] - figure.window()[0] < 0.6 * (figure.to - figure.from))"
                                    + "(document.querySelector('figure.waves').figure)"))
                    .isEqualTo("true");
            assertThat(page.console()).isEmpty();
        }
    }

    @Test
    void aFingerHasRoomAndTwoOfThemZoom() throws Exception {
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path explorer = written("buck", Designs.BUCK).resolveSibling("explore.html");
        try (OpenPage page = open(explorer, 600)) {
            page.call("Emulation.setTouchEmulationEnabled", "{\"enabled\":true,\"maxTouchPoints\":2}");
            page.call(
                    "Emulation.setDeviceMetricsOverride",
                    "{\"width\":390,\"height\":844,\"deviceScaleFactor\":2,\"mobile\":true}");
            assertThat(page.evaluate("matchMedia('(pointer: coarse)').matches")).isEqualTo("true");
            assertThat(page.evaluate(
                            "[...document.querySelectorAll('nav a, button, summary, form.live input, .live-link, .reading label')]"
                                    + ".filter(each => each.offsetParent && (each.closest('label') || each).getBoundingClientRect().height < 44)"
                                    + ".map(each => each.outerHTML).join()"))
                    .isEmpty();
            String[] place = page.evaluate(
                            "(() => { const over = document.querySelector('.u-over'); over.scrollIntoView({block: 'center'});"
                                    + " const box = over.getBoundingClientRect(); return [box.left + box.width / 2, box.top + box.height / 2].join(); })()")
                    .split(",", -1);
            double x = Double.parseDouble(place[0]);
            double y = Double.parseDouble(place[1]);
            page.touch("touchStart", y, x - 20, x + 20);
            page.touch("touchMove", y, x - 40, x + 40);
            page.touch("touchEnd", y);
            String share =
                    page.evaluate("(figure => (figure.window()[1] - figure.window()[0]) / (figure.to - figure.from))"
                            + "(document.querySelector('figure.waves').figure)");
            assertThat(Double.parseDouble(share)).isBetween(0.45, 0.55);
        }
    }
}
