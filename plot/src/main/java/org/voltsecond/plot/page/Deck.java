package org.voltsecond.plot.page;

import java.util.List;
import org.voltsecond.plot.Picture;

/**
 * Slides as one page for a browser, in one file that needs no other and no network. One is shown at a time: arrow keys, space, Page Up
 * and Down, Home and End, or a finger go on; N shows the notes, D turns light into dark. Printed, each has a page. To be filled by one
 * thread.
 *
 * <pre>{@code
 * Picture picture = Pictures.stacked(steady, rail.inductorCurrent());
 * Deck deck = new Deck("logic rail").slide("The current swings by 0.46 A", picture.slide("", ""), List.of("Peak to peak."));
 * Files.writeString(folder.resolve("slides.html"), deck.html());
 * }</pre>
 */
public final class Deck {
    private final String title;
    private final StringBuilder slides = new StringBuilder(1 << 16);
    private int count;

    /**
     * Begins a page.
     *
     * @param title its title; any text
     */
    public Deck(String title) {
        this.title = title;
    }

    /**
     * Adds a slide.
     *
     * @param message what it says, which is also the description of the picture; any text
     * @param picture the picture, without the message
     * @param notes for who speaks; any text
     * @return this page
     */
    public Deck slide(String message, Picture picture, List<String> notes) {
        count++;
        String drawing = new InlineDrawing(picture.svg(), "slide-" + count).labelled(message);
        slides.append("<section class=\"slide\" id=\"")
                .append(count)
                .append("\" tabindex=\"-1\" aria-labelledby=\"message-")
                .append(count)
                .append("\">\n<h2 id=\"message-")
                .append(count)
                .append("\"><bdi>")
                .append(Markup.of(message))
                .append("</bdi></h2>\n<figure>")
                .append(drawing)
                .append("</figure>\n<aside class=\"notes\" aria-label=\"notes\">\n");
        notes.forEach(note -> slides.append("<p><bdi>").append(Markup.of(note)).append("</bdi></p>\n"));
        slides.append("</aside>\n</section>\n");
        return this;
    }

    /**
     * Returns the page.
     *
     * @return the text of an HTML file, to be written as UTF-8
     */
    public String html() {
        return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                + "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; "
                + "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
                + "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                + "<meta name=\"color-scheme\" content=\"light dark\">\n<title>" + Markup.of(title)
                + "</title>\n<style>\n"
                + Page.resource("deck.css") + "</style>\n</head>\n<body>\n<h1 class=\"spoken\"><bdi>" + Markup.of(title)
                + "</bdi></h1>\n<main>\n" + slides + "</main>\n"
                + "<nav aria-label=\"slides\" hidden>\n"
                + "<button type=\"button\" class=\"back\" aria-label=\"previous slide\">◀</button>\n"
                + "<span class=\"place\" aria-live=\"polite\"></span>\n"
                + "<button type=\"button\" class=\"on\" aria-label=\"next slide\">▶</button>\n"
                + "<button type=\"button\" class=\"note\" aria-pressed=\"false\" aria-keyshortcuts=\"n\">Notes (N)</button>\n"
                + "<button type=\"button\" class=\"dark\" aria-pressed=\"false\" aria-keyshortcuts=\"d\">Dark (D)</button>\n"
                + "</nav>\n<script>\n" + Page.resource("deck.js") + "</script>\n</body>\n</html>\n";
    }
}
