package org.voltsecond.plot;

import java.awt.BasicStroke;
import java.awt.Graphics2D;
import java.awt.geom.AffineTransform;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Collects a picture of rows: in each a sketch, such as a schematic, with waveforms beside it, or below it where there is no
 * room beside it.
 *
 * <pre>{@code
 * RowBuilder.Sketch bar = new RowBuilder.Sketch(200, 100, graphics -> graphics.drawRect(0, 0, 199, 99));
 * Picture picture = new RowBuilder("Logic rail")
 *         .row("on", bar, Pictures.stack().panel(steady.of(rail.inductorCurrent())))
 *         .build();
 * }</pre>
 */
public final class RowBuilder {
    private static final int WIDTH = 1100;
    private static final int HEADING = 26;

    /** What waveforms need less than with a line of caution below them. */
    private static final int NO_CAUTION = 24;

    private final String title;
    private final List<Row> rows = new ArrayList<>();
    private String subtitle = "";
    private String caution = Sheet.CAUTION;

    /**
     * Something drawn in a size of its own, and scaled to the room there is.
     *
     * @param width its width, more than 0
     * @param height its height, more than 0
     * @param drawing draws it into the rectangle from (0, 0) to its width and height
     */
    public record Sketch(double width, double height, Consumer<Graphics2D> drawing) {
        /**
         * Checks the size.
         *
         * @param width its width, more than 0
         * @param height its height, more than 0
         * @param drawing draws it
         * @throws IllegalArgumentException if a size is not more than 0
         */
        public Sketch {
            if (!(width > 0 && height > 0)) {
                throw new IllegalArgumentException(
                        "a sketch must be larger than 0 each way but was to measure " + width + " x " + height);
            }
        }
    }

    private record Row(
            String heading, Sketch sketch, @Nullable StackDrawing waves, double wavesHeight) {
        double headingHeight() {
            return heading.isEmpty() ? 0 : HEADING;
        }
    }

    /**
     * Starts a picture.
     *
     * @param title in bold at the top
     */
    public RowBuilder(String title) {
        this.title = title;
    }

    /**
     * Sets the line below the title.
     *
     * @param text for example the operating point
     * @return this builder
     */
    public RowBuilder subtitle(String text) {
        subtitle = text;
        return this;
    }

    /**
     * Replaces the caution at the bottom.
     *
     * @param text what the reader must know before relying on the picture; not blank
     * @return this builder
     */
    public RowBuilder caution(String text) {
        caution = text;
        return this;
    }

    /**
     * Adds a row below those there are.
     *
     * @param heading what it shows; short
     * @param sketch what stands at the left
     * @param waves what stands beside it; its title and caution are not drawn
     * @return this builder
     * @throws IllegalArgumentException if the waveforms could not be drawn alone
     */
    public RowBuilder row(String heading, Sketch sketch, StackBuilder waves) {
        rows.add(new Row(heading, sketch, waves.bare(), waves.height() - NO_CAUTION));
        return this;
    }

    /**
     * Adds a row of a sketch alone.
     *
     * @param heading what it shows; empty for none
     * @param sketch the sketch
     * @return this builder
     */
    public RowBuilder row(String heading, Sketch sketch) {
        rows.add(new Row(heading, sketch, null, 0));
        return this;
    }

    /**
     * Builds the picture.
     *
     * @return the picture
     * @throws IllegalArgumentException if there is no row, or the caution is blank
     */
    public Picture build() {
        if (rows.isEmpty() || caution.isBlank()) {
            throw new IllegalArgumentException("picture of rows " + title + ": "
                    + (rows.isEmpty() ? "it has no row; add one with row(...)" : "its caution must not be blank"));
        }
        Rows drawing = new Rows(new Sheet(title, subtitle, caution), List.copyOf(rows));
        return new Picture(drawing, WIDTH, drawing.heightAt(WIDTH), 1);
    }

    /** Draws the rows. */
    private record Rows(Sheet sheet, List<Row> rows) implements Picture.Drawing {
        private static final int GAP = 10;
        /** Below this width waveforms beside a sketch are too narrow to read. */
        private static final int LEAST_BESIDE = 760;
        /** Share of the width that a sketch has beside waveforms. */
        private static final double SHARE = 0.56;
        /** A sketch that would have to shrink further than this stands above its waveforms: its letters of 13 become 9. */
        private static final double LEAST_SCALE = 0.68;

        /** The height that the picture wants. */
        private int heightAt(int width) {
            double inner = Sheet.innerWidth(width);
            double all = rows.stream().mapToDouble(row -> wanted(row, inner)).sum();
            return (int) Math.ceil(sheet.height() + all + Sheet.MARGIN);
        }

        @Override
        public int slimHeight(int width, int height) {
            return heightAt(width);
        }

        private boolean isBeside(double inner) {
            double widest =
                    rows.stream().mapToDouble(row -> row.sketch.width()).max().orElse(1);
            return inner > LEAST_BESIDE && SHARE * inner > LEAST_SCALE * widest;
        }

        /** A sketch alone has all the width. */
        private boolean isBeside(Row row, double inner) {
            return row.waves != null && isBeside(inner);
        }

        private double scale(Row row, double room) {
            return Math.min(1, room / row.sketch.width());
        }

        private double wanted(Row row, double inner) {
            boolean beside = isBeside(row, inner);
            double sketch = scale(row, beside ? SHARE * inner : inner) * row.sketch.height();
            return row.headingHeight() + GAP + (beside ? Math.max(sketch, row.wavesHeight) : sketch + row.wavesHeight);
        }

        @Override
        public Picture.Drawing on(Sheet other) {
            return new Rows(other, rows);
        }

        @Override
        public void draw(Graphics2D g, int width, int height) {
            Rectangle2D inner = sheet.draw(g, width, height);
            double all = rows.stream()
                    .mapToDouble(row -> wanted(row, inner.getWidth()))
                    .sum();
            double y = inner.getY();
            for (Row row : rows) {
                double room = wanted(row, inner.getWidth()) * inner.getHeight() / all;
                if (!row.heading.isEmpty()) {
                    heading(g, row, inner, y);
                }
                draw(
                        g,
                        row,
                        new Rectangle2D.Double(
                                inner.getX(),
                                y + row.headingHeight(),
                                inner.getWidth(),
                                room - row.headingHeight() - GAP),
                        isBeside(row, inner.getWidth()));
                y += room;
            }
        }

        private static void heading(Graphics2D g, Row row, Rectangle2D inner, double y) {
            g.setPaint(Look.GRID);
            g.setStroke(new BasicStroke(1));
            g.draw(new Line2D.Double(inner.getX(), y + 3, inner.getMaxX(), y + 3));
            String text = Text.fit(g, Look.HEADING, row.heading, inner.getWidth());
            Text.draw(g, Look.HEADING, Look.INK, text, inner.getX(), y + 21);
        }

        private void draw(Graphics2D g, Row row, Rectangle2D room, boolean beside) {
            double wide = beside ? SHARE * room.getWidth() : room.getWidth();
            double scale = scale(row, wide);
            StackDrawing waves = row.waves;
            boolean alone = waves == null;
            double high =
                    beside || alone ? room.getHeight() : Math.min(scale * row.sketch.height(), 0.6 * room.getHeight());
            double above = beside ? 0.35 : alone ? 0.5 : 0;
            scale = Math.min(scale, high / row.sketch.height());
            AffineTransform before = g.getTransform();
            g.translate(
                    room.getX() + 0.5 * (wide - scale * row.sketch.width()),
                    room.getY() + above * (high - scale * row.sketch.height()));
            g.scale(scale, scale);
            g.setFont(Look.LABEL);
            row.sketch.drawing().accept(g);
            g.setTransform(before);
            if (waves == null) {
                return;
            }
            double left = beside ? room.getX() + wide : room.getX();
            double top = beside ? room.getY() : room.getY() + high;
            g.translate(left, top);
            waves.draw(g, (int) (room.getMaxX() - left), (int) (room.getMaxY() - top));
            g.setTransform(before);
        }
    }
}
