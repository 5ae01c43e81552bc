package org.voltsecond.plot.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.design.DesignTree;
import org.voltsecond.plot.Picture;

/**
 * A page for a browser, in one file that needs no other and no network: it can be mailed, printed, read on a telephone and
 * in the dark. Texts appear as they are, whatever is in them. To be filled by one thread.
 *
 * <pre>{@code
 * Page page = Page.titled("logic rail")
 *         .heading("Stage")
 *         .schematic(rail.circuit())
 *         .heading("Start-up")
 *         .waveforms(WaveformFigure.over("start-up", 0, milli(2)).panel(start.of(rail.outputVoltage())));
 * Files.writeString(folder.resolve("rail.html"), page.html());
 * }</pre>
 */
public final class Page {
    /** Where the package of the plotting script puts its files; the version is that of the dependency. */
    private static final String SCRIPT_FOLDER = "META-INF/resources/webjars/uplot/1.6.30/";

    /** A telephone shows some 370 of a page's units across, so text shrinks by a sixth and stays readable. */
    private static final int SLIM_WIDTH = 440;

    /** A value of more letters gets the width of two tiles. */
    private static final int WIDE_TILE = 16;

    private final String title;
    private final StringBuilder body = new StringBuilder(1 << 16);
    private int headings;
    private String section = "";
    /** The names of what can be scrolled in the present section. */
    private final Set<String> regions = new HashSet<>();
    /** Where the content of each section begins. */
    private final Map<String, Integer> sections = new LinkedHashMap<>();

    private int figures;
    private int pictures;
    private boolean moves;
    private final StringBuilder contents = new StringBuilder();
    private String look = "";
    private @Nullable DesignTree live;

    private Page(String title) {
        this.title = title;
    }

    /**
     * Begins a page.
     *
     * @param title its title; any text
     * @return a page without content
     */
    public static Page titled(String title) {
        return new Page(title);
    }

    /**
     * Begins a section.
     *
     * @param text its heading; any text
     * @return this page
     */
    public Page heading(String text) {
        headings++;
        section = text;
        regions.clear();
        String markup = Markup.of(text);
        body.append(headings == 1 ? "" : "</section>\n")
                .append("<section id=\"part-")
                .append(headings)
                .append("\">\n<h2><bdi>")
                .append(markup)
                .append("</bdi></h2>\n");
        sections.put(text, body.length());
        contents.append("<a href=\"#part-")
                .append(headings)
                .append("\">")
                .append(markup)
                .append("</a>\n");
        return this;
    }

    /**
     * Adds a paragraph.
     *
     * @param text any text
     * @return this page
     */
    public Page paragraph(String text) {
        body.append("<p><bdi>").append(Markup.of(text)).append("</bdi></p>\n");
        return this;
    }

    /**
     * Adds a list that warns.
     *
     * @param lines its entries; any text
     * @return this page
     */
    public Page cautions(List<String> lines) {
        body.append("<ul class=\"caution\">\n");
        lines.forEach(line -> body.append("<li><bdi>").append(Markup.of(line)).append("</bdi></li>\n"));
        body.append("</ul>\n");
        return this;
    }

    /**
     * Adds figures in large letters.
     *
     * @param labels what each figure is; any text
     * @param values the figures with their units, one for each label
     * @return this page
     * @throws IllegalArgumentException if there are more labels than values or fewer
     */
    public Page highlights(List<String> labels, List<String> values) {
        if (labels.size() != values.size()) {
            throw new IllegalArgumentException(
                    labels.size() + " labels but " + values.size() + " values given; valid: as many of both");
        }
        body.append("<dl class=\"highlights\">\n");
        for (int i = 0; i < labels.size(); i++) {
            boolean wide = values.get(i).length() > WIDE_TILE;
            body.append(wide ? "<div class=\"wide-tile\"><dt><bdi>" : "<div><dt><bdi>")
                    .append(Markup.of(labels.get(i)))
                    .append("</bdi></dt><dd><bdi>")
                    .append(Markup.of(values.get(i)))
                    .append("</bdi></dd></div>\n");
        }
        body.append("</dl>\n");
        return this;
    }

    /**
     * Adds a table.
     *
     * @param table the table
     * @return this page
     */
    public Page table(PageTable table) {
        table.appendTo(body, this::region);
        return this;
    }

    /** A name that no other region of the page has, since who hears a page goes from one to the next by their names. */
    private String region(String what) {
        String name = section.isEmpty() ? what : section + ": " + what;
        String unlike = name;
        for (int k = 2; !regions.add(unlike); k++) {
            unlike = name + ", " + k;
        }
        return unlike;
    }

    /**
     * Adds text line by line in letters of one width, as the text of a file.
     *
     * @param text any text
     * @return this page
     */
    public Page verbatim(String text) {
        body.append(Markup.scrolling("pre", "dir=\"ltr\"", region("text of a file")));
        text.lines()
                .forEach(line -> body.append("<bdi>").append(Markup.of(line)).append("</bdi>\n"));
        body.append("</pre>\n");
        return this;
    }

    /**
     * Adds the schematic of a circuit, or a list of its parts if there are too many for a drawing.
     *
     * @param circuit the circuit
     * @return this page
     */
    public Page schematic(Circuit circuit) {
        Optional<String> drawing = Schematic.svg(circuit);
        if (drawing.isEmpty()) {
            return paragraph("The circuit has " + circuit.parts().size()
                            + " parts, too many for a drawing that can be followed. They are:")
                    .table(Schematic.table(circuit));
        }
        body.append("<figure class=\"schematic\">")
                .append(Markup.scrolling("div", "class=\"wide\"", region("schematic")))
                .append(drawing.get())
                .append("</div></figure>\n");
        return this;
    }

    /**
     * Adds a picture, drawn sharp at any zoom.
     *
     * @param picture the picture
     * @param description what it shows, for readers who do not see it; any text
     * @return this page
     */
    public Page picture(Picture picture, String description) {
        pictures++;
        String name = "picture-" + pictures;
        body.append("<figure class=\"picture\">")
                .append(drawing("roomy", picture, name, description))
                .append(drawing("slim", picture.slim(SLIM_WIDTH), name + "-slim", description))
                .append("</figure>\n");
        return this;
    }

    private static String drawing(String kind, Picture picture, String name, String description) {
        return "<div class=\"" + kind + "\">" + new InlineDrawing(picture.svg(), name).labelled(description) + "</div>";
    }

    /**
     * Adds where the current flows over one period, as something that moves; nothing where the circuit has too many parts for a drawing
     * that can be followed.
     *
     * @param flow what flows
     * @return this page
     */
    public Page flow(CurrentFlow flow) {
        flow.html().ifPresent(markup -> {
            moves = true;
            body.append(markup);
        });
        return this;
    }

    /**
     * Adds waveforms.
     *
     * @param figure the figure
     * @return this page
     */
    public Page waveforms(WaveformFigure figure) {
        figures++;
        body.append("<figure class=\"waves\" id=\"figure-")
                .append(figures)
                .append("\"><figcaption><bdi>")
                .append(Markup.of(figure.title()))
                .append("</bdi></figcaption>\n<script type=\"application/json\">")
                .append(figure.toJson())
                .append("</script>\n<noscript>The waveforms need a browser that runs scripts.</noscript></figure>\n");
        return this;
    }

    /**
     * Adds controls for the values of a design, by which the reader can work it out anew; nothing where the script is missing that
     * computes in a page.
     *
     * @param design the design; its key figures and sections have to be on the page
     * @return this page
     */
    public Page controls(DesignTree design) {
        live = design;
        body.append(ControlPanel.html(design));
        return this;
    }

    /**
     * Tells whether a page can compute.
     *
     * @return whether the build has made the script that it needs
     */
    public static boolean canCompute() {
        return ControlPanel.engine().isPresent();
    }

    /**
     * Lays the page out with its controls beside all else, where there is room.
     *
     * @return this page
     */
    public Page besideControls() {
        look = " class=\"explore\"";
        return this;
    }

    /**
     * Returns what stands below each heading.
     *
     * @return markup by heading, in order
     */
    public Map<String, String> sections() {
        Map<String, String> found = new LinkedHashMap<>();
        List<String> names = List.copyOf(sections.keySet());
        for (int i = 0; i < names.size(); i++) {
            int from = Objects.requireNonNull(sections.get(names.get(i)));
            int to = i + 1 < names.size()
                    ? body.lastIndexOf("</section>", Objects.requireNonNull(sections.get(names.get(i + 1))))
                    : body.length();
            found.put(names.get(i), body.substring(from, to));
        }
        return found;
    }

    /**
     * Returns the page.
     *
     * @return the text of an HTML file, to be written as UTF-8
     */
    public String html() {
        StringBuilder html = new StringBuilder(body.length() + (1 << 17));
        html.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
                // The page may run what it carries and load nothing at all.
                .append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; ")
                .append(
                        "script-src 'unsafe-inline' blob:; worker-src blob:; style-src 'unsafe-inline'; base-uri 'none'; "
                                + "form-action 'none'\">\n")
                .append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
                .append("<meta name=\"color-scheme\" content=\"light dark\">\n<title>")
                .append(Markup.of(title))
                .append("</title>\n<style>\n")
                .append(figures > 0 ? script("dist/uPlot.min.css") : "")
                .append(resource("page.css"))
                .append("</style>\n</head>\n<body")
                .append(look)
                .append(">\n<header><h1><bdi>")
                .append(Markup.of(title))
                .append("</bdi></h1>\n<nav>\n")
                .append(contents)
                .append("</nav></header>\n<main>\n")
                .append(body)
                .append(headings > 0 ? "</section>\n" : "")
                .append("</main>\n");
        appendScripts(html);
        return html.append("</body>\n</html>\n").toString();
    }

    private void appendScripts(StringBuilder html) {
        if (figures > 0) {
            html.append("<script>\n/* uPlot 1.6.30\n")
                    .append(script("LICENSE"))
                    .append("*/\n")
                    .append(script("dist/uPlot.iife.min.js"))
                    .append("\n</script>\n<script>\n")
                    .append(resource("page.js"))
                    .append("</script>\n");
        }
        if (moves) {
            html.append("<script>\n").append(resource("flow.js")).append("</script>\n");
        }
        if (live != null) {
            html.append(ControlPanel.data(live))
                    .append("<script id=\"engine\">\n")
                    .append(ControlPanel.engine().orElse(""))
                    .append("\n</script>\n<script>\n")
                    .append(resource("live.js"))
                    .append("</script>\n");
        }
    }

    static String resource(String name) {
        return text(name, Page.class.getResourceAsStream(name));
    }

    /** By the class loader, which also finds what lies in another module. */
    private static String script(String name) {
        String place = SCRIPT_FOLDER + name;
        return text(place, Page.class.getClassLoader().getResourceAsStream(place));
    }

    private static String text(String name, @Nullable InputStream resource) {
        try (InputStream stream = resource) {
            if (stream == null) {
                throw new IllegalStateException(
                        "the class path or module path lacks " + name + ", which pages are made with");
            }
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
