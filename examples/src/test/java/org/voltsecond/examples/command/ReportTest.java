package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.design.RegulatedDesigns;
import org.voltsecond.examples.Json;
import org.voltsecond.plot.page.Page;

/** The page that the command writes for a design. */
class ReportTest {
    private static final String STEADY_RIPPLE = "steady_state.signals.output_voltage.peak_to_peak";

    private static final String TRANSIENT = """
            [limits]
            output_ripple = "50 mV"
            peak_inductor_current = "3 A"
            droop = "0.1 V"
            [transient]
            duration = "1 ms"
            [[transient.change]]
            time = "0.6 ms"
            load = { resistance = "5 Ω" }
            """;

    @TempDir
    Path folder;

    private Path report(String design) throws IOException {
        Path file = Designs.write(folder, "rail.toml", design);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"));
        assertThat(run.err()).isEmpty();
        return folder.resolve("out/rail/report.html");
    }

    private static List<Map<String, Object>> figures(String html) {
        return Pattern.compile("<script type=\"application/json\">(.*?)</script>", Pattern.DOTALL)
                .matcher(html)
                .results()
                .map(found -> json(found.group(1)))
                .toList();
    }

    private static Map<String, Object> json(String text) {
        try {
            return Json.read(text);
        } catch (IOException e) {
            throw new AssertionError(text.substring(0, Math.min(200, text.length())), e);
        }
    }

    /** All values of the traces of a figure with a name. */
    private static DoubleStream values(Map<String, Object> figure, String name) {
        return ((List<?>) Json.at(figure, "panels"))
                .stream()
                        .flatMap(panel -> Objects.requireNonNull((List<?>) ((Map<?, ?>) panel).get("traces")).stream())
                        .map(trace -> (Map<?, ?>) trace)
                        .filter(trace -> name.equals(trace.get("name")))
                        .flatMapToDouble(trace -> trace.entrySet().stream()
                                .filter(entry -> List.of("value", "low", "high").contains(entry.getKey()))
                                .flatMapToDouble(entry -> Arrays.stream(numbers(String.valueOf(entry.getValue())))));
    }

    private static double[] numbers(String base64) {
        ByteBuffer bytes = ByteBuffer.wrap(Base64.getDecoder().decode(base64)).order(ByteOrder.LITTLE_ENDIAN);
        double[] numbers = new double[bytes.remaining() / Double.BYTES];
        bytes.asDoubleBuffer().get(numbers);
        return numbers;
    }

    @Test
    void holdsEverythingAboutTheDesign() throws IOException {
        String html = Files.readString(report(Designs.BUCK + TRANSIENT));
        List<String> headings = new ArrayList<>(headings(html));
        // only where the script is that computes, whose own text has the marks of a heading in it
        headings.removeIf(heading -> heading.chars().noneMatch(Character::isLetter));
        assertThat(headings.removeAll(List.of("Try other values", "All figures")))
                .isEqualTo(Page.canCompute());
        assertThat(headings)
                .containsExactly(
                        "At a glance",
                        "Cautions",
                        "Limits",
                        "Stage",
                        "Steady state",
                        "How it works",
                        "Stress",
                        "Losses",
                        "A linear regulator instead",
                        "Conduction over load and line",
                        "Transient",
                        "Energy audit",
                        "Design file",
                        "About this report");
        assertThat(html)
                .contains("no safety approval", ">L1</text>", "22 µH, 30 mΩ", "inductance = &quot;22 µH&quot;")
                .contains("continuous", "Two periods of the steady state", "The whole transient", "load 5 Ω");
        assertThat(figures(html)).hasSize(3);
    }

    /** From 12 V to 5.0252 V at 2.0101 A by hand: V_out / V_in, 12 V times the current, and input less output as heat of both. */
    @Test
    void comparesWithALinearRegulator() throws IOException {
        String html = Files.readString(report(Designs.BUCK)).replace('\u00a0', ' ');
        assertThat(html)
                .contains("<bdi>efficiency</bdi></th><td><bdi>93.05 %</bdi></td><td><bdi>41.88 %</bdi></td>")
                .contains("<bdi>power from the source</bdi></th><td><bdi>10.86 W</bdi></td><td><bdi>24.12 W</bdi></td>")
                .contains("<bdi>heat</bdi></th><td><bdi>754.8 mW</bdi></td><td><bdi>14.02 W</bdi></td>");
    }

    private static List<String> headings(String html) {
        return Pattern.compile("<h2><bdi>(.*?)</bdi></h2>")
                .matcher(html)
                .results()
                .map(found -> found.group(1))
                .toList();
    }

    @Test
    void losesNoStudyAndTellsNothingTwice() throws IOException {
        String html = Files.readString(report(Designs.BUCK + """
                [limits]
                efficiency = 0.5
                [losses]
                turn_on_time = "50 ns"
                turn_off_time = "50 ns"
                [map]
                across = { quantity = "load_current", from = "20 mA", to = "2 A", points = 7 }
                up = { quantity = "input_voltage", from = "9 V", to = "15 V", points = 3 }
                figures = ["output_ripple"]
                [tolerance]
                designs = 20
                [tolerance.values]
                inductance = 0.2
                [transient]
                start = "steady-state"
                duration = "1 ms"
                [[transient.change]]
                time = "0.1 ms"
                load = { resistance = "5 Ω" }
                """));
        assertThat(headings(html))
                .contains("Losses", "Operating map", "Tolerances")
                .doesNotContain("Conduction over load and line")
                .doesNotHaveDuplicates();
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        double all = number(figures, "losses.efficiency");
        assertThat(all).isLessThan(number(figures, "steady_state.power.efficiency"));
        assertThat(((Map<?, ?>) ((List<?>) Json.at(figures, "checks")).get(0)).get("value"))
                .isEqualTo(all);
        assertThat(html)
                .contains("<dt><bdi>efficiency, all losses</bdi></dt><dd><bdi>"
                        + String.format(java.util.Locale.ROOT, "%.2f\u00a0%%", 100 * all))
                .containsPattern("efficiency</bdi></th><td[^>]*><bdi>[0-9.]+\u00a0%")
                .contains("logic rail: output voltage peak to peak");
        assertThat(figures(html)).as("steady state and whole transient").hasSize(2);
    }

    @Test
    void saysOfEachLimitWhetherItIsMetAndByHowMuch() throws IOException {
        String html = Files.readString(report(Designs.BUCK + TRANSIENT));
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        List<?> checks = (List<?>) Json.at(figures, "checks");
        assertThat(checks).hasSize(3);
        Map<?, ?> ripple = (Map<?, ?>) checks.get(0);
        // with half of the load the inductor's ripple is a little larger, since less is lost in the resistances
        double found = ((Number) Objects.requireNonNull(ripple.get("value"))).doubleValue();
        assertThat(found).isBetween(1.001 * number(figures, STEADY_RIPPLE), 1.01 * number(figures, STEADY_RIPPLE));
        assertThat(ripple.get("where")).isEqualTo("after the change at 600 µs");
        assertThat(ripple.get("limit")).isEqualTo("output_ripple");
        assertThat(ripple.get("met")).isEqualTo(true);
        assertThat(ripple.get("margin")).isEqualTo(0.05 - found);
        Map<?, ?> current = (Map<?, ?>) checks.get(1);
        assertThat(current.get("value")).isEqualTo(number(figures, "transient.signals.inductor_current.maximum"));
        assertThat(current.get("met")).isEqualTo(false);
        assertThat(html).contains("✓ met, ", "✗ not met, by ");
    }

    /** A fixed command of the inductor current holds no output: its map is that of the converter as it is. */
    @Test
    void conductionIsMappedWithTheOutputThatIsHeld() throws IOException {
        String held =
                "The output is held at 5.000 V, as the regulator does. At 12.00 V conduction is discontinuous above ";
        assertThat(Files.readString(report(RegulatedDesigns.VOLTAGE_MODE))).contains(held);
        String command = """
                [drive]
                kind = "peak-current-mode"
                switching_frequency = "300 kHz"
                current_command = "1.5 A"
                slope_compensation = "100 mA/µs"
                """;
        assertThat(Files.readString(report(RegulatedDesigns.STAGE + command)))
                .contains("Mode of conduction around the design", "At 12.00 V conduction")
                .doesNotContain("The output is held");
    }

    @Test
    void aLimitWithoutAnythingToCheckIsNotMet() throws IOException {
        String html = Files.readString(report(Designs.BUCK + "[limits]\ndroop = \"1 V\"\n"));
        assertThat(html).contains("class=\"open\"", "not checked: ").doesNotContain("✓ met");
    }

    @Test
    void tenThousandPeriodsStaySmallAndLoseNoPeak() throws IOException {
        String html = Files.readString(report(Designs.BUCK + "[transient]\nduration = " + 10_000 / 300e3 + "\n"));
        assertThat(html).hasSizeLessThan(3_000_000);
        Map<String, Object> run = figures(html).get(1);
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        String voltage = "transient.signals.output_voltage.";
        String current = "transient.signals.inductor_current.";
        assertThat(values(run, "output voltage").max()).hasValue(number(figures, voltage + "maximum"));
        assertThat(values(run, "output voltage").min().orElseThrow())
                .as("round-off is told as 0")
                .isCloseTo(number(figures, voltage + "minimum"), within(1e-15));
        assertThat(values(run, "inductor current").max()).hasValue(number(figures, current + "maximum"));
        assertThat(values(run, "inductor current").min().orElseThrow())
                .isCloseTo(number(figures, current + "minimum"), within(1e-15));
    }

    @Test
    void hostileTextIsNeverMarkup() throws IOException {
        String html = Files.readString(report(hostile()));
        assertThat(html)
                .doesNotContain("<script>document", "<img src=x", "onerror=alert(1)>", "\u202e")
                .contains("&lt;/script&gt;");
        // what is drawn and by what; where a page can compute the design, the keys, the engine and the controls as well
        assertThat(Pattern.compile("</script").matcher(html).results()).hasSize(Page.canCompute() ? 9 : 5);
    }

    private static String hostile() {
        String name = "</script><script>document.title='taken'</script><img src=x onerror=alert(1)>\\u202e&amp;"
                + "x".repeat(20_000);
        return Designs.BUCK.replace("\"logic rail\"", '"' + name + '"')
                + "# </pre><script>document.title='taken'</script>\n";
    }

    /** Does what a reader does, and writes into the page what then is to be seen. */
    private static final String READER = """
            <script>
            const figure = document.querySelector("#figure-2").figure;
            const seen = {figures: document.querySelectorAll("figure.waves canvas").length};
            seen.wide = document.documentElement.scrollWidth <= window.innerWidth;
            seen.highest = figure.traces.map(trace => Math.max(...(trace.high || trace.value)));
            const labels = figure.plots.flatMap(plot => plot.labels || []).sort((a, b) => a.from - b.from);
            seen.labels = labels.length;
            seen.apart = labels.every((label, i) => i === 0 || label.from > labels[i - 1].to);
            figure.point(200);
            seen.instant = figure.host.querySelector(".instant").textContent;
            seen.readings = figure.traces.map(trace => trace.label.textContent);
            figure.zoom(0.5);
            const box = figure.host.querySelector("input[type=checkbox]");
            box.click();
            setTimeout(() => {
              const spans = figure.plots.map(plot => plot.scales.x.max - plot.scales.x.min);
              seen.zoomed = spans.every(span => Math.abs(span - (figure.to - figure.from) / 2) < 1e-12);
              seen.hidden = figure.traces[0].series.every(index => figure.traces[0].plot.series[index].show === false);
              seen.shown = figure.traces[1].series.every(index => figure.traces[1].plot.series[index].show === true);
              const result = document.createElement("pre");
              result.id = "seen";
              result.textContent = JSON.stringify(seen).replace(/[<>&]/g, "");
              document.body.append(result);
            }, 500);
            </script>
            """;

    private Browser.Visit visit(Path report) throws IOException, InterruptedException {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "no browser that runs without a window is installed");
        Path page = folder.resolve("visited.html");
        Files.writeString(page, Files.readString(report).replace("</body>", READER + "</body>"));
        return browser.orElseThrow().open(page, folder.resolve("profile"));
    }

    private static Map<String, Object> seen(Browser.Visit visit) throws IOException {
        var found = Pattern.compile("<pre id=\"seen\">(.*?)</pre>").matcher(visit.dom());
        assertThat(found.find())
                .as("the page has run its scripts; console: %s", visit.log())
                .isTrue();
        return Json.read(found.group(1));
    }

    @Test
    void inABrowserOneZoomsReadsAndSwitchesTraces() throws IOException, InterruptedException {
        Path report = report(Designs.BUCK + "[transient]\nduration = " + 10_000 / 300e3 + "\n");
        Browser.Visit visit = visit(report);
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        Map<String, Object> seen = seen(visit);
        assertThat(visit.log()).doesNotContain("CONSOLE");
        assertThat(seen).containsEntry("figures", 7.0).containsEntry("wide", true);
        assertThat((List<?>) seen.get("highest"))
                .first()
                .isEqualTo(number(figures, "transient.signals.output_voltage.maximum"));
        assertThat(String.valueOf(seen.get("instant"))).startsWith("from ").contains("lowest to highest");
        assertThat(String.valueOf(seen.get("readings"))).contains("&nbsp;V … ", "&nbsp;A … ");
        assertThat(seen)
                .containsEntry("zoomed", true)
                .containsEntry("hidden", true)
                .containsEntry("shown", true);
    }

    @Test
    void inABrowserNoLabelOfAChangeLiesOverAnother() throws IOException, InterruptedException {
        String changes = "";
        for (String time : List.of("5 ms", "5.1 ms", "5.2 ms", "9 ms")) {
            changes += "[[transient.change]]\ntime = \"" + time + "\"\nload = { resistance = \"3 Ω\" }\n";
        }
        Map<String, Object> seen = seen(visit(report(Designs.BUCK + "[transient]\nduration = 10e-3\n" + changes)));
        assertThat(seen).containsEntry("labels", 2.0).containsEntry("apart", true);
    }

    @Test
    void inABrowserHostileTextStaysText() throws IOException, InterruptedException {
        Browser.Visit visit = visit(report(hostile() + TRANSIENT));
        assertThat(seen(visit)).containsEntry("wide", true);
        assertThat(visit.log()).doesNotContain("CONSOLE");
        assertThat(visit.dom()).doesNotContain("<title>taken").contains("<title>&lt;/script&gt;");
    }
}
