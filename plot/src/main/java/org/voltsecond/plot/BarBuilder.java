package org.voltsecond.plot;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.voltsecond.units.Unit;

/**
 * Collects what a bar chart shows, for example the losses of each part.
 *
 * <pre>{@code
 * StageLosses losses = steady.losses();
 * Picture picture = Pictures.bars("Logic rail at 2 A", "loss", Unit.WATT)
 *         .bar("transistor", losses.transistor())
 *         .bar("rectifier", losses.rectifier())
 *         .bar("inductor", losses.inductor())
 *         .build();
 * }</pre>
 */
public final class BarBuilder {
    private static final int WIDTH = 940;
    private static final int BAR_HEIGHT = 26;

    private final String title;
    private final String quantity;
    private final Unit unit;
    private final List<Bar> bars = new ArrayList<>();
    private String subtitle = "";
    private String caution = Sheet.CAUTION;
    private boolean stacked;
    private double origin;
    private final Map<String, Double> marks = new LinkedHashMap<>();

    /** One bar. */
    record Bar(String category, String series, double value) {}

    BarBuilder(String title, String quantity, Unit unit) {
        this.title = title;
        this.quantity = quantity;
        this.unit = unit;
    }

    /**
     * Sets the line below the title.
     *
     * @param text for example the operating point
     * @return this builder
     */
    public BarBuilder subtitle(String text) {
        subtitle = text;
        return this;
    }

    /**
     * Replaces the caution at the bottom.
     *
     * @param text what the reader must know before relying on the picture; not blank
     * @return this builder
     */
    public BarBuilder caution(String text) {
        caution = text;
        return this;
    }

    /**
     * Adds a bar below those there are.
     *
     * @param category what the bar stands for, for example a part
     * @param value its length, in the unit of the chart, not negative
     * @return this builder
     */
    public BarBuilder bar(String category, double value) {
        return bar(category, "", value);
    }

    /**
     * Adds a bar of one of several designs that are compared.
     *
     * @param category what the bar stands for, for example a part
     * @param series the design; bars of one design have one colour
     * @param value its length, in the unit of the chart, not negative
     * @return this builder
     */
    public BarBuilder bar(String category, String series, double value) {
        bars.add(new Bar(category, series, value));
        return this;
    }

    /**
     * Puts the bars of one category end to end in one row, with their sum behind, instead of one below the other.
     *
     * @return this builder
     */
    public BarBuilder stacked() {
        stacked = true;
        return this;
    }

    /**
     * Lets the bars begin elsewhere than at zero, as temperatures do at the ambient.
     *
     * @param value where they begin, in the unit of the chart
     * @return this builder
     */
    public BarBuilder from(double value) {
        origin = value;
        return this;
    }

    /**
     * Marks what a category is limited to.
     *
     * @param category which
     * @param limit in the unit of the chart; not a number for none
     * @return this builder
     */
    public BarBuilder mark(String category, double limit) {
        if (!Double.isNaN(limit)) {
            marks.put(category, limit);
        }
        return this;
    }

    /**
     * Builds the picture.
     *
     * @return the picture
     * @throws IllegalArgumentException if there is no bar, a bar is given twice and not stacked, a value is negative or not finite, or the
     *     caution is blank; all faults at once
     */
    public Picture build() {
        List<String> faults = new ArrayList<>();
        if (bars.isEmpty()) {
            faults.add("it has no bar; add one with bar(category, value)");
        }
        Set<List<String>> known = new HashSet<>();
        for (Bar bar : bars) {
            if (!known.add(List.of(bar.category, bar.series)) && !stacked) {
                faults.add("bar " + bar.category + (bar.series.isEmpty() ? "" : " of " + bar.series)
                        + " is given twice, and one would lie over the other; add its values up, or put them "
                        + "end to end with stacked()");
            }
            if (!(bar.value >= origin && bar.value < Double.POSITIVE_INFINITY)) {
                faults.add("bar " + bar.category + ": the value must be from "
                        + (origin == 0 ? "0" : String.valueOf(origin)) + " " + unit.symbol() + " up but was "
                        + bar.value);
            }
        }
        if (caution.isBlank()) {
            faults.add("its caution must not be blank");
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("bar chart " + title + ": " + String.join("; ", faults));
        }
        Set<String> categories = new LinkedHashSet<>();
        bars.forEach(bar -> categories.add(bar.category));
        Sheet sheet = new Sheet(title, subtitle, caution);
        int rows = stacked ? categories.size() : bars.size();
        int height = sheet.height() + 110 + BAR_HEIGHT * rows + 14 * categories.size();
        return new Picture(
                new BarDrawing(sheet, quantity, unit, List.copyOf(bars), stacked, origin, marks), WIDTH, height, 1);
    }
}
