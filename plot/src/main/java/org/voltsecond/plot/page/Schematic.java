package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;

/**
 * Draws a circuit as a ladder, with its values: the nodes stand side by side on a rail, in the order in which the parts name
 * them, and ground runs below. That fits every circuit whose two-terminal parts lie between neighbours or between a node
 * and ground, as those of the converter stages do. A part that carries no current whatever happens is left out.
 *
 * <p>Symbols follow IEC 60617, from memory.
 *
 * <pre>{@code
 * String svg = Schematic.svg(rail.circuit()).orElseThrow();
 * Files.writeString(folder.resolve("schematic.svg"), svg);
 * }</pre>
 */
public final class Schematic {
    private static final int SLOT = 118;
    private static final int SPAN = 150;
    private static final int LAYER = 76;
    private static final int HEIGHT = 150;
    private static final int MARGIN = 40;
    private static final int TOP = 56;

    private final List<String> nodes;
    /** Parts from each node to ground, and from each node to the next. */
    private final List<List<Symbol>> down = new ArrayList<>();

    private final List<List<Symbol>> along = new ArrayList<>();
    private final Map<String, Integer> positions = new HashMap<>();
    private final StringBuilder drawing = new StringBuilder();
    private int rail;

    private Schematic(Circuit circuit) {
        nodes = circuit.nodes();
        for (int i = 0; i < nodes.size(); i++) {
            positions.put(nodes.get(i), i);
            down.add(new ArrayList<>());
            along.add(new ArrayList<>());
        }
    }

    /**
     * Draws a circuit.
     *
     * @param circuit the circuit
     * @return an SVG element in the colour of the text around it; empty if the circuit is no ladder
     */
    public static Optional<String> svg(Circuit circuit) {
        Schematic schematic = new Schematic(circuit);
        for (Part part : circuit.parts()) {
            if (Symbol.isVisible(part) && !schematic.place(part)) {
                return Optional.empty();
            }
        }
        return Optional.of(schematic.draw());
    }

    private boolean place(Part part) {
        Optional<Symbol> symbol = Symbol.of(part);
        if (symbol.isEmpty()) {
            return false;
        }
        Port port = part.ports().get(0);
        int from = positions.getOrDefault(port.plus(), -1);
        int to = positions.getOrDefault(port.minus(), -1);
        if (from < 0 || to < 0) {
            down.get(Math.max(from, to)).add(from < 0 ? symbol.get().reversed() : symbol.get());
            return Math.max(from, to) >= 0;
        }
        if (Math.abs(from - to) == 1) {
            along.get(Math.min(from, to)).add(from > to ? symbol.get().reversed() : symbol.get());
        }
        return Math.abs(from - to) == 1;
    }

    private String draw() {
        int layers = along.stream().mapToInt(List::size).max().orElse(0);
        rail = TOP + Math.max(0, layers - 1) * LAYER;
        int x = MARGIN + 20;
        int firstGround = -1;
        int lastGround = -1;
        for (int i = 0; i < nodes.size(); i++) {
            int begin = x;
            for (Symbol symbol : down.get(i)) {
                vertical(symbol, x);
                firstGround = firstGround < 0 ? x : firstGround;
                lastGround = x;
                x += SLOT;
            }
            int end = Math.max(begin, x - SLOT);
            node(nodes.get(i), begin, end, down.get(i).isEmpty());
            if (!along.get(i).isEmpty()) {
                x = end + SPAN;
                horizontals(along.get(i), end, x);
            }
        }
        ground(firstGround, lastGround);
        int width = x + 20;
        int height = rail + HEIGHT + 40;
        return "<svg viewBox=\"0 0 " + width + ' ' + height + "\" width=\"" + width + "\" height=\"" + height
                + "\" role=\"img\" aria-label=\"schematic\">\n" + drawing + "</svg>\n";
    }

    private void node(String name, int begin, int end, boolean bare) {
        if (end > begin) {
            line(begin, rail, end, rail);
        }
        int at = bare ? begin : end;
        drawing.append("<circle class=\"dot\" cx=\"")
                .append(at)
                .append("\" cy=\"")
                .append(rail)
                .append("\" r=\"3.5\"/>");
        label(at - 7, rail - 9, "end", "node", name);
    }

    private void ground(int first, int last) {
        if (first < 0) {
            return;
        }
        int y = rail + HEIGHT;
        line(first, y, last, y);
        for (int k = 0; k < 3; k++) {
            line(first - 12 + 4 * k, y + 10 + 5 * k, first + 12 - 4 * k, y + 10 + 5 * k);
        }
        line(first, y, first, y + 10);
    }

    /** Stretches the leads of a symbol, which is 100 long, to the height. */
    private void vertical(Symbol symbol, int x) {
        int lead = (HEIGHT - Symbol.LENGTH) / 2;
        line(x, rail, x, rail + lead);
        line(x, rail + lead + Symbol.LENGTH, x, rail + HEIGHT);
        symbol(symbol, x, rail + lead, 90);
        int y = rail + HEIGHT / 2 - 8 * symbol.values().size() + 4;
        label(x + 25, y, "start", "part", symbol.name());
        for (String value : symbol.values()) {
            y += 16;
            label(x + 25, y, "start", "value", value);
        }
    }

    private void horizontals(List<Symbol> symbols, int from, int to) {
        for (int k = 0; k < symbols.size(); k++) {
            int y = rail - k * LAYER;
            int inset = (to - from - Symbol.LENGTH) / 2;
            line(from, rail, from, y);
            line(to, rail, to, y);
            line(from, y, from + inset, y);
            line(to - inset, y, to, y);
            symbol(symbols.get(k), from + inset, y, 0);
            int middle = (from + to) / 2;
            label(middle, y - 37, "middle", "part", symbols.get(k).name());
            label(
                    middle,
                    y - 21,
                    "middle",
                    "value",
                    String.join(", ", symbols.get(k).values()));
        }
    }

    private void symbol(Symbol symbol, int x, int y, int angle) {
        drawing.append("<g transform=\"translate(")
                .append(x)
                .append(',')
                .append(y)
                .append(") rotate(")
                .append(angle)
                .append(symbol.turned() ? ") translate(100,0) scale(-1,1)\">" : ")\">")
                .append(symbol.shape())
                .append("</g>\n");
    }

    private void line(int x1, int y1, int x2, int y2) {
        if (x1 != x2 || y1 != y2) {
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
    }

    private void label(int x, int y, String anchor, String kind, String text) {
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
