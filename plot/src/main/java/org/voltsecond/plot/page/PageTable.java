package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;

/**
 * A table of a page. The first column heads its rows. To be filled by one thread.
 *
 * <pre>{@code
 * PageTable.headed("signal", "mean", "ripple").row("output voltage", "5.025 V", "4.403 mV");
 * }</pre>
 */
public final class PageTable {
    private final List<String> headings;
    private final List<List<Cell>> rows = new ArrayList<>();

    private PageTable(List<String> headings) {
        this.headings = headings;
    }

    /**
     * Begins a table.
     *
     * @param headings the heading of each column; any text
     * @return a table without rows
     */
    public static PageTable headed(String... headings) {
        return new PageTable(List.of(headings));
    }

    /**
     * Adds a row.
     *
     * @param texts as many texts as there are columns
     * @return this table
     * @throws IllegalArgumentException if there are more or fewer
     */
    public PageTable row(String... texts) {
        return row(Arrays.stream(texts).map(Cell::of).toList());
    }

    /**
     * Adds a row.
     *
     * @param cells as many cells as there are columns
     * @return this table
     * @throws IllegalArgumentException if there are more or fewer
     */
    public PageTable row(List<Cell> cells) {
        if (cells.size() != headings.size()) {
            throw new IllegalArgumentException("the table has " + headings.size() + " columns " + headings
                    + " but the row has " + cells.size() + " cells; valid: one for each column");
        }
        rows.add(List.copyOf(cells));
        return this;
    }

    void appendTo(StringBuilder html, UnaryOperator<String> name) {
        boolean cards = becomesCards();
        html.append(Markup.scrolling("div", "class=\"wide\"", name.apply("table of " + String.join(", ", headings))))
                .append("<table")
                .append(cards ? " class=\"cards\"" : "")
                .append(">\n<thead><tr>");
        headings.forEach(heading -> html.append("<th scope=\"col\"><bdi>")
                .append(Markup.of(heading))
                .append("</bdi></th>"));
        html.append("</tr></thead>\n<tbody>\n");
        for (List<Cell> row : rows) {
            html.append("<tr>");
            for (int i = 0; i < row.size(); i++) {
                append(html, row.get(i), i == 0 ? "th" : "td", attributes(i, cards));
            }
            html.append("</tr>\n");
        }
        html.append("</tbody></table></div>\n");
    }

    /** A telephone shows each row on its own, one value below another, unless the columns are read against each other. */
    private boolean becomesCards() {
        return headings.size() > 3
                && rows.stream()
                        .flatMap(List::stream)
                        .noneMatch(cell -> cell.tone().isOfKind());
    }

    private String attributes(int column, boolean cards) {
        if (column == 0) {
            return " scope=\"row\"";
        }
        return cards ? " data-label=\"" + Markup.of(headings.get(column)) + "\"" : "";
    }

    private static void append(StringBuilder html, Cell cell, String tag, String attributes) {
        html.append('<').append(tag).append(attributes);
        if (cell.tone() != Cell.Tone.PLAIN) {
            html.append(" class=\"")
                    .append(cell.tone().name().toLowerCase(Locale.ROOT))
                    .append('"');
        }
        Cell.Told told = cell.told();
        if (told != null) {
            html.append(" data-figure=\"")
                    .append(Markup.of(told.place()))
                    .append("\" data-unit=\"")
                    .append(Markup.of(told.unit()))
                    .append("\" data-value=\"")
                    .append(Double.isNaN(told.value()) ? "" : String.valueOf(told.value()))
                    .append('"');
        }
        html.append("><bdi>")
                .append(cell.tone().sign())
                .append(Markup.of(cell.text()))
                .append("</bdi></")
                .append(tag)
                .append('>');
    }
}
