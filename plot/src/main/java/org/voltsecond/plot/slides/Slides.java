package org.voltsecond.plot.slides;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.voltsecond.converter.Converter;
import org.voltsecond.plot.page.Deck;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;

/**
 * The slides about a design: first the design, then what was chosen as far as it applies, last the cautions. Immutable.
 *
 * <pre>{@code
 * Slides slides = Slides.of(rail);
 * slides.writeTo(folder); // slides.html, and each slide as PNG and SVG, light and dark, in a folder of its own
 * String first = slides.slides().get(0).message(); // "buck: 12.0 V in, 5.03 V out at 2.01 A, 93.0 % efficient"
 * String why = slides.leftOut().get("start"); // "no transient is asked for"
 * }</pre>
 *
 * @param title what they are about
 * @param slides in order
 * @param leftOut what was chosen and does not apply, by name, with the reason
 */
public record Slides(String title, List<Slide> slides, Map<String, String> leftOut) {
    private static final Map<String, Function<Findings, Result<List<Slide>>>> SUBJECTS = subjects();

    /** Shown only where asked for: what it says, others say as well. */
    private static final Set<String> FURTHER = Set.of("inductances");

    private static Map<String, Function<Findings, Result<List<Slide>>>> subjects() {
        Map<String, Function<Findings, Result<List<Slide>>>> all = new LinkedHashMap<>();
        all.put("current-paths", ofSteady(SteadySlides::currentPaths));
        all.put("balance", ofSteady(SteadySlides::balance));
        all.put("conversion-ratio", ofSteady(RatioSlides::conversionRatio));
        all.put("boundary", ofSteady(RatioSlides::boundary));
        all.put("ripple", ofSteady(SteadySlides::ripple));
        all.put("inductances", ofSteady(SteadySlides::inductances));
        all.put("start", RunSlides::start);
        all.put("load-step", RunSlides::loadStep);
        all.put("pulses", RunSlides::pulses);
        all.put("losses", ofSteady(HeatSlides::losses));
        all.put("linear", ofSteady(HeatSlides::linear));
        all.put("tolerance", ofSteady(HeatSlides::tolerance));
        return all;
    }

    private static Function<Findings, Result<List<Slide>>> ofSteady(
            Function<SteadySlides.Orbit, Result<List<Slide>>> subject) {
        return findings -> findings.steadyState().exists()
                ? subject.apply(SteadySlides.Orbit.of(findings))
                : Result.missing("it has no steady state");
    }

    /**
     * Makes list and map unmodifiable.
     *
     * @param title what they are about
     * @param slides in order
     * @param leftOut what was chosen and does not apply
     */
    public Slides {
        slides = List.copyOf(slides);
        leftOut = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(leftOut));
    }

    /**
     * Returns what can be chosen.
     *
     * @return the names of the subjects, in the order in which they are shown where nothing is chosen
     */
    public static Set<String> names() {
        return java.util.Collections.unmodifiableSet(new LinkedHashSet<>(SUBJECTS.keySet()));
    }

    /**
     * Makes the slides of a converter in its steady state.
     *
     * @param converter the converter
     * @return the usual slides
     */
    public static Slides of(Converter converter) {
        return of(Findings.of(converter));
    }

    /**
     * Makes the usual slides.
     *
     * @param findings what was found about the design
     * @return the slides
     */
    public static Slides of(Findings findings) {
        return of(
                findings,
                SUBJECTS.keySet().stream()
                        .filter(name -> !FURTHER.contains(name))
                        .toList());
    }

    /**
     * Makes slides.
     *
     * @param findings what was found about the design
     * @param chosen names of subjects, in the order wanted; none for the design and the cautions alone
     * @return the slides
     * @throws IllegalArgumentException if a name is not one of {@link #names()}
     */
    public static Slides of(Findings findings, List<String> chosen) {
        List<String> unknown =
                chosen.stream().filter(name -> !SUBJECTS.containsKey(name)).toList();
        if (!unknown.isEmpty()) {
            throw new IllegalArgumentException(
                    "no slides: " + String.join(", ", unknown) + "; valid: " + String.join(", ", SUBJECTS.keySet()));
        }
        List<Slide> slides = new ArrayList<>(List.of(FrameSlides.design(findings)));
        Map<String, String> leftOut = new LinkedHashMap<>();
        for (String name : new LinkedHashSet<>(chosen)) {
            Result<List<Slide>> found =
                    SUBJECTS.getOrDefault(name, none -> Result.missing("")).apply(findings);
            if (found.exists()) {
                slides.addAll(found.get());
            } else {
                leftOut.put(name, found.reason());
            }
        }
        slides.add(FrameSlides.cautions(findings));
        return new Slides(Printable.of(findings.name()), slides, leftOut);
    }

    /**
     * Returns the slides as one page for a browser.
     *
     * @return the text of an HTML file that needs no other, to be written as UTF-8
     */
    public String html() {
        Deck deck = new Deck(title);
        for (Slide slide : slides) {
            deck.slide(slide.message(), slide.drawing().slide("", slide.below()), slide.notes());
        }
        return deck.html();
    }

    /**
     * Writes slides.html, and into a folder "slides" beside it each slide as PNG and SVG, light and dark.
     *
     * @param folder where to; made if it does not exist
     * @throws IOException if a file cannot be written
     */
    public void writeTo(Path folder) throws IOException {
        Path pictures = Files.createDirectories(folder.resolve("slides"));
        Files.write(folder.resolve("slides.html"), html().getBytes(StandardCharsets.UTF_8));
        for (int k = 0; k < slides.size(); k++) {
            Slide slide = slides.get(k);
            String name = String.format(Locale.ROOT, "%02d-%s", k + 1, slide.name());
            slide.picture().writePng(pictures.resolve(name + ".png"));
            slide.picture().writeSvg(pictures.resolve(name + ".svg"));
            slide.picture().dark().writePng(pictures.resolve(name + "-dark.png"));
            slide.picture().dark().writeSvg(pictures.resolve(name + "-dark.svg"));
        }
    }
}
