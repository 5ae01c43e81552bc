package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.Design;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.units.JsonText;

/**
 * What a page that computes is told about one setting of its controls: the figures at their places, and the sections of the
 * report that follow from them.
 *
 * <pre>{@code
 * PageAnswer answer = PageAnswer.of(design, false);
 * String output = answer.figures().get("steady_state/signals/output_voltage/mean");
 * }</pre>
 *
 * @param figures values as JSON writes them, by their places in figures.json
 * @param sections markup by headings
 */
public record PageAnswer(Map<String, String> figures, Map<String, String> sections) {
    /**
     * Works out one setting.
     *
     * @param design the design with the values of the controls
     * @param whole whether to run its transient as well, if it has one, and to draw the schematic
     * @return the answer
     * @throws org.voltsecond.engine.SwitchingException if a run cannot go on
     */
    public static PageAnswer of(Design design, boolean whole) {
        Findings found = Findings.ofPoint(design, whole);
        Map<String, String> figures = new LinkedHashMap<>();
        for (PlacedFigure figure : figures(found)) {
            figures.put(figure.place(), written(figure.value()));
        }
        return new PageAnswer(figures, HtmlReport.ofPoint(found).sectionsOfPoint(whole));
    }

    private static String written(@Nullable Object value) {
        return value instanceof Double number
                ? JsonText.number(number)
                : value instanceof String text ? JsonText.quoted(text) : String.valueOf(value);
    }

    static List<PlacedFigure> figures(Findings found) {
        FigureSink.Places places = new FigureSink.Places();
        try {
            FiguresJson.writePoint(found, places);
        } catch (IOException e) {
            throw new UncheckedIOException("nothing that is kept in memory fails", e);
        }
        return places.figures();
    }
}
