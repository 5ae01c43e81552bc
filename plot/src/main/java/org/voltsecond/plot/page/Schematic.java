package org.voltsecond.plot.page;

import java.util.Optional;
import java.util.stream.Collectors;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.plot.page.SchematicItem.Branch;
import org.voltsecond.plot.page.SchematicLayout.Core;
import org.voltsecond.plot.page.SchematicLayout.Name;
import org.voltsecond.plot.page.SchematicLayout.Placed;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.plot.page.SchematicLayout.Wire;

/**
 * Draws any circuit, with its values: each node is a line, ground the lowest, and power flows from the first source at the
 * left to the right. What leads on lies in the line of its node, what hangs on a node stands below it, the windings of a
 * transformer stand side by side with a dot at their first ends, an amplifier is a triangle. A part that carries no current
 * whatever happens is left out. Lines that cross without a dot are not joined.
 *
 * <p>Symbols follow IEC 60617, from memory.
 *
 * <pre>{@code
 * String svg = Schematic.svg(rail.circuit()).orElseThrow();
 * Files.writeString(folder.resolve("schematic.svg"), svg);
 * }</pre>
 */
public final class Schematic {
    /** Beyond this many columns a drawing is wider than any screen, and nobody follows its lines. */
    private static final int MOST_COLUMNS = 32;

    /** So far a page may shrink it, percent of its width, before it lets it scroll: names stay legible. */
    private static final int LEAST_SHARE = 65;

    private final SchematicLayout layout;
    private final StringBuilder drawing = new StringBuilder();

    private Schematic(SchematicLayout layout) {
        this.layout = layout;
    }

    /**
     * Draws a circuit.
     *
     * @param circuit the circuit
     * @return an SVG element in the colour of the text around it, with a title and a description in words; empty if the
     *     circuit has too many parts for a drawing that can be followed: {@link #table} then lists them
     */
    public static Optional<String> svg(Circuit circuit) {
        if (!isDrawn(circuit)) {
            return Optional.empty();
        }
        SchematicLayout layout = SchematicLayout.of(circuit);
        return layout.columns() > MOST_COLUMNS
                ? Optional.empty()
                : Optional.of(new Schematic(layout).draw(description(circuit)));
    }

    /** Whether a circuit may be laid out at all. */
    static boolean isDrawn(Circuit circuit) {
        return circuit.ports().size() <= 2 * MOST_COLUMNS && circuit.nodes().size() <= MOST_COLUMNS;
    }

    /**
     * Lists the parts of a circuit.
     *
     * @param circuit the circuit
     * @return a row for each part and each winding: its name, kind, values, and the nodes it lies between
     */
    public static PageTable table(Circuit circuit) {
        PageTable table = PageTable.headed("part", "kind", "value", "between");
        for (SchematicItem item : SchematicItem.of(circuit)) {
            for (Branch branch : item.branches()) {
                Symbol symbol = branch.symbol();
                table.row(
                        symbol.name(),
                        symbol.kind(),
                        String.join(", ", symbol.values()),
                        branch.plus() + ", " + branch.minus());
            }
        }
        return table;
    }

    private static String description(Circuit circuit) {
        return SchematicItem.of(circuit).stream()
                .flatMap(item -> item.branches().stream())
                .map(branch -> branch.symbol().name() + ", " + branch.symbol().kind()
                        + branch.symbol().values().stream()
                                .map(value -> ", " + value)
                                .collect(Collectors.joining())
                        + ", between " + branch.plus() + " and " + branch.minus())
                .collect(Collectors.joining("; "));
    }

    private String draw(String description) {
        layout.wires.forEach(this::line);
        layout.joints().forEach(this::dot);
        layout.symbols.forEach(this::symbol);
        layout.names.forEach(this::name);
        layout.cores.forEach(this::core);
        int[] ground = layout.ground();
        if (ground.length > 0) {
            ground(ground[0], ground[1]);
        }
        return "<svg viewBox=\"0 0 " + layout.width() + ' ' + layout.height() + "\" width=\"" + layout.width()
                + "\" height=\"" + layout.height() + "\" style=\"min-width: " + (layout.width() * LEAST_SHARE / 100)
                + "px\" role=\"img\" aria-label=\"schematic: "
                + Markup.of(description) + "\">\n<title>schematic</title><desc>" + Markup.of(description)
                + "</desc>\n" + drawing + "</svg>\n";
    }

    private void dot(Terminal at) {
        drawing.append("<circle class=\"dot\" cx=\"")
                .append(at.x())
                .append("\" cy=\"")
                .append(at.y())
                .append("\" r=\"3.5\"/>");
    }

    private void name(Name name) {
        label(name.x(), name.y(), "start", "node", name.node());
    }

    private void core(Core core) {
        path(core.x() - 3, core.y() - 24, core.x() - 3, core.y() + 24);
        path(core.x() + 3, core.y() - 24, core.x() + 3, core.y() + 24);
    }

    private void ground(int x, int y) {
        path(x, y, x, y + 10);
        for (int k = 0; k < 3; k++) {
            path(x - 12 + 4 * k, y + 10 + 5 * k, x + 12 - 4 * k, y + 10 + 5 * k);
        }
    }

    private void symbol(Placed placed) {
        Symbol symbol = placed.symbol();
        int half = Symbol.LENGTH / 2;
        int x = placed.upright() ? placed.x() : placed.x() - half;
        int y = placed.upright() ? placed.y() - half : placed.y();
        drawing.append("<g transform=\"translate(")
                .append(x)
                .append(',')
                .append(y)
                .append(placed.upright() ? ") rotate(90)" : ") rotate(0)")
                .append(symbol.turned() ? " translate(100,0) scale(-1,1)" : "")
                .append("\">")
                .append(symbol.shape())
                .append("</g>\n");
        if (placed.upright()) {
            uprightLabels(placed);
        } else {
            int name = symbol.values().isEmpty() ? 21 : 37;
            label(placed.x(), placed.y() - name, "middle", "part", symbol.name());
            label(placed.x(), placed.y() - 21, "middle", "value", String.join(", ", symbol.values()));
        }
    }

    private void uprightLabels(Placed placed) {
        Symbol symbol = placed.symbol();
        String anchor = placed.labelLeft() ? "end" : "start";
        int x = placed.labelLeft() ? placed.x() - 22 : placed.x() + 25;
        int y = placed.y() - 8 * symbol.values().size() + 4;
        label(x, y, anchor, "part", symbol.name());
        for (String value : symbol.values()) {
            y += 16;
            label(x, y, anchor, "value", value);
        }
    }

    private void line(Wire wire) {
        path(wire.x1(), wire.y1(), wire.x2(), wire.y2());
    }

    private void path(int x1, int y1, int x2, int y2) {
        drawing.append("<path d=\"M")
                .append(x1)
                .append(' ')
                .append(y1)
                .append('L')
                .append(x2)
                .append(' ')
                .append(y2)
                .append("\"/>");
    }

    private void label(int x, int y, String anchor, String kind, String text) {
        if (text.isEmpty()) {
            return;
        }
        drawing.append("<text class=\"")
                .append(kind)
                .append("\" x=\"")
                .append(x)
                .append("\" y=\"")
                .append(y)
                .append("\" text-anchor=\"")
                .append(anchor)
                .append("\">")
                .append(Markup.of(text))
                .append("</text>");
    }
}
