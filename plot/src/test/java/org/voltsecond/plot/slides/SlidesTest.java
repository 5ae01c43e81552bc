package org.voltsecond.plot.slides;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.explain.Stages;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Axis;
import org.voltsecond.study.ConductionBoundary;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.xml.sax.InputSource;

class SlidesTest {
    private static final Pattern SIZE = Pattern.compile("font-size:([0-9.]+)px");
    private static final Pattern FACTOR = Pattern.compile("(matrix|scale)\\(([-0-9.e]+),([-0-9.e]+)");

    @TempDir
    Path folder;

    /** The usual slides of each stage, made once. */
    private static final Map<String, Slides> MADE = new ConcurrentHashMap<>();

    private static Slides usual(String name) {
        if (!MADE.containsKey(name)) {
            MADE.put(name, Slides.of(stage(name)));
        }
        return Objects.requireNonNull(MADE.get(name));
    }

    private static Converter stage(String name) {
        return Objects.requireNonNull(Stages.all().get(name));
    }

    private static Map<String, Double> values(Slide slide) {
        return slide.values().stream()
                .collect(Collectors.toMap(Slide.Value::words, Slide.Value::value, (one, same) -> one));
    }

    private static Slide named(Slides slides, String name) {
        return slides.slides().stream()
                .filter(slide -> slide.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new AssertionError(name + " is left out: " + slides.leftOut()));
    }

    /** A text as it is seen: its size in the units of the picture. */
    private record Letters(String text, double size) {}

    private static List<Letters> letters(String svg) throws Exception {
        Element root = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(svg)))
                .getDocumentElement();
        List<Letters> found = new ArrayList<>();
        gather(root, 12, 1, found);
        return found;
    }

    private static void gather(Element element, double size, double scale, List<Letters> found) {
        Matcher own = SIZE.matcher(element.getAttribute("style"));
        double letters = own.find() ? Double.parseDouble(own.group(1)) : size;
        double factor = scale;
        for (Matcher turned = FACTOR.matcher(element.getAttribute("transform")); turned.find(); ) {
            factor *= Math.hypot(
                    Double.parseDouble(turned.group(2)),
                    turned.group(1).equals("matrix") ? Double.parseDouble(turned.group(3)) : 0);
        }
        if (element.getTagName().equals("text")) {
            found.add(new Letters(element.getTextContent().strip(), letters * factor));
        }
        for (Node child = element.getFirstChild(); child != null; child = child.getNextSibling()) {
            if (child instanceof Element inner) {
                gather(inner, letters, factor, found);
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"light buck", "flyback", "full bridge"})
    void everySlideIsReadFromTheLastRow(String name) throws Exception {
        Slides slides = usual(name);
        assertThat(slides.slides()).hasSizeGreaterThan(6);
        assertThat(slides.slides().get(0).name()).isEqualTo("design");
        assertThat(slides.slides().get(slides.slides().size() - 1).name()).isEqualTo("cautions");
        for (Slide slide : slides.slides()) {
            List<Letters> seen = letters(slide.picture().svg());
            assertThat(seen)
                    .as(slide.message())
                    .isNotEmpty()
                    .allSatisfy(text -> assertThat(text.size())
                            .as(slide.name() + ": " + text.text())
                            // two decimals in the file; a thirtieth of the height of 360
                            .isGreaterThan(11.95));
            String title = seen.stream()
                    .filter(text -> text.size() == 18)
                    .map(Letters::text)
                    .collect(Collectors.joining(" "));
            assertThat(title).isEqualTo(slide.message());
            assertThat(seen).noneMatch(text -> text.text().contains("…"));
        }
    }

    @Test
    void aSlideIsSixteenToNineAndLightOrDark() {
        Slide slide = Slides.of(Findings.of(stage("buck")), List.of("losses"))
                .slides()
                .get(1);
        BufferedImage light = slide.picture().image();
        BufferedImage dark = slide.picture().dark().image();
        assertThat(light.getWidth()).isEqualTo(1920);
        assertThat(light.getHeight()).isEqualTo(1080);
        assertThat(new Color(light.getRGB(3, 3))).isEqualTo(Color.WHITE);
        assertThat(new Color(dark.getRGB(3, 3)).getRed()).isBetween(15, 30);
        assertThat(slide.picture().dark().svg())
                .contains("fill:rgb(23,23,23)")
                .doesNotContain("fill:white")
                .doesNotContain("rgb(34,34,34)");
        // hue stays: the blue of a bar is blue on both
        assertThat(slide.picture().svg()).contains("fill:rgb(0,114,178)");
        assertThat(slide.picture().dark().svg()).contains("fill:rgb(77,171,223)");
    }

    @Test
    void theFirstSlideTellsTheDesign() {
        ConverterSteadyState steady = stage("boost").steadyState();
        Slide design = usual("boost").slides().get(0);
        double output = steady.of(steady.converter().outputVoltage()).mean();
        assertThat(values(design)).containsEntry("output voltage", output);
        assertThat(design.message())
                .isEqualTo("boost: 12.0 V in, " + Quantity.format(output, Unit.VOLT, 3) + " out at "
                        + Quantity.format(output / 5, Unit.AMPERE, 3) + ", "
                        + Quantity.format(100 * steady.efficiency().getAsDouble(), Unit.ONE, 3) + " % efficient");
        assertThat(design.notes()).contains("output voltage: " + Quantity.format(output, Unit.VOLT, 6));
    }

    @Test
    void theOutputIsWhatTheStageMakesOfItLessItsDrops() {
        Map<String, String> beginnings = Map.of(
                "buck", "The output is V·D: 12.0 V × 0.400 = 4.80 V, less ",
                "boost", "The output is V/(1−D): 12.0 V / (1 − 0.400) = 20.0 V, less ",
                "inverting", "The output is V·D/(1−D): 12.0 V × 0.400 / (1 − 0.400) = 8.00 V, less ");
        beginnings.forEach((name, beginning) -> {
            ConverterSteadyState steady = stage(name).steadyState();
            Slide slide = named(Slides.of(Findings.of(stage(name)), List.of("conversion-ratio")), "conversion-ratio");
            double output =
                    Math.abs(steady.of(steady.converter().outputVoltage()).mean());
            double ideal = values(slide).getOrDefault("of ideal parts, magnitude", Double.NaN);
            assertThat(slide.message())
                    .isEqualTo(beginning + Quantity.format(ideal - output, Unit.VOLT, 3) + " of drops");
        });
        assertThat(named(usual("light buck"), "conversion-ratio").message())
                .startsWith("The current runs dry, so that the output is ")
                .endsWith(" and not V·D, 4.80 V");
    }

    @Test
    void theCurrentRunsDryWhereTheBoundaryIs() {
        Converter buck = stage("buck");
        double found = ConductionBoundary.find(buck, Axis.loadResistance(2.5, 250, 2), 2.5, 250);
        Slide slide = named(usual("buck"), "boundary");
        assertThat(slide.values().get(0).value()).isCloseTo(found, within(1e-9 * found));
        assertThat(slide.message()).isEqualTo("The current runs dry above " + Quantity.format(found, Unit.OHM, 4));
    }

    @Test
    void whatIsTakenUpIsHandedOn() {
        Slides slides = Slides.of(Findings.of(stage("light buck")), List.of("balance", "current-paths"));
        for (String[] pair : new String[][] {
            {"volt-seconds", "taken up", "handed on"},
            {"charge", "taken up", "handed on"},
            {"energy", "taken up", "handed on"}
        }) {
            Map<String, Double> told = values(named(slides, pair[0]));
            double taken = told.getOrDefault(pair[1], Double.NaN);
            assertThat(taken).as(pair[0]).isPositive();
            assertThat(told.getOrDefault(pair[2], Double.NaN)).as(pair[0]).isCloseTo(taken, within(1e-11 * taken));
        }
        ConverterSteadyState steady = stage("light buck").steadyState();
        Slide on = named(slides, "current-paths-1");
        double mean = steady.of(steady.converter().driven().current("L1"))
                .between(0, steady.onTime())
                .mean();
        assertThat(values(on).getOrDefault("Q1", Double.NaN)).isCloseTo(mean, within(1e-12));
        assertThat(on.message())
                .startsWith("On for 2.00 µs: Q1 carries " + Quantity.format(mean, Unit.AMPERE, 3) + ", L1 sees ");
        assertThat(named(slides, "current-paths-3").message()).endsWith("nothing conducts, C1 alone feeds the load");
    }

    @Test
    void aRunIsToldByItsFigures() {
        Converter buck = stage("buck");
        Findings findings =
                Findings.of(buck).with(buck.startUp(3e-3, Change.at(2e-3).load(Load.resistor(2.5))));
        Slides slides = Slides.of(findings, List.of("start", "load-step", "pulses"));
        assertThat(slides.leftOut()).isEqualTo(Map.of("pulses", "no regulator drives it"));
        double settled = Objects.requireNonNull(findings.transientRun())
                .get()
                .start()
                .get()
                .settlingTime()
                .get();
        assertThat(named(slides, "start").message())
                .startsWith("The output is there " + Quantity.format(settled, Unit.SECOND, 3) + " after the start; ");
        Slide step = named(slides, "load-step");
        double charge = values(step).getOrDefault("charge", Double.NaN);
        assertThat(step.message()).startsWith("C1 gives " + Quantity.format(charge, Unit.COULOMB, 3) + " until ");
    }

    @Test
    void oneMessageASlideWithItsPictureAndNotes() {
        Slides slides = usual("boost");
        String page = slides.html();
        assertThat(page.split("<section class=\"slide\"", -1))
                .hasSize(slides.slides().size() + 1);
        assertThat(page.split("<h2 ", -1)).hasSize(slides.slides().size() + 1);
        for (Slide slide : slides.slides()) {
            String message = slide.message().replace("'", "&#39;");
            assertThat(page)
                    .contains("\"><bdi>" + message + "</bdi></h2>", "<svg role=\"img\" aria-label=\"" + message + "\"");
            slide.notes()
                    .forEach(note -> assertThat(page).contains("<p><bdi>" + note.replace("'", "&#39;") + "</bdi></p>"));
        }
        assertThat(page)
                .doesNotContain("http://www.w3.org/1999/xhtml")
                .doesNotContain("<link")
                .doesNotContain("src=");
    }

    @Test
    void whatIsNoSubjectIsRefused() {
        assertThatThrownBy(() -> Slides.of(Findings.of(stage("buck")), List.of("losses", "weather", "tides")))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no slides: weather, tides; valid: " + String.join(", ", Slides.names()));
    }

    @Test
    void filesAreNumberedInOrder() throws IOException {
        Slides.of(Findings.of(stage("buck")), List.of("losses", "ripple")).writeTo(folder);
        try (Stream<Path> files = Files.list(folder.resolve("slides"))) {
            assertThat(files.map(file -> file.getFileName().toString()).filter(name -> name.endsWith("dark.svg")))
                    .containsExactlyInAnyOrder(
                            "01-design-dark.svg", "02-losses-dark.svg", "03-ripple-dark.svg", "04-cautions-dark.svg");
        }
        assertThat(folder.resolve("slides.html")).isNotEmptyFile();
        assertThat(folder.resolve("slides/03-ripple.png")).isNotEmptyFile();
    }
}
