package org.voltsecond.plot.page;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.AffineTransform;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Port;
import org.voltsecond.plot.RowBuilder.Sketch;
import org.voltsecond.plot.TraceStyle;
import org.voltsecond.plot.page.SchematicLayout.Name;
import org.voltsecond.plot.page.SchematicLayout.Placed;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A schematic with the currents in it: parts and lines that carry are bold, in proportion to their current, with an arrow where a part
 * ends; the others are faint. It is laid out as {@link Schematic} does, with currents in place of the values of parts.
 *
 * <pre>{@code
 * Map<String, Double> currents = Map.of("V1", -2.0, "Q1", 2.0, "L1", 2.0, "R1", 2.0); // A, from the first to the second terminal
 * RowBuilder.Sketch on = CurrentDrawing.plan(rail.circuit()).orElseThrow().with(currents, Map.of("L1", 7.0));
 * new RowBuilder("Logic rail").row("on", on, Pictures.stack().panel(steady.of(rail.inductorCurrent()))).build();
 * }</pre>
 */
public final class CurrentDrawing {
    private static final Color FAINT = new Color(0xb4, 0xb4, 0xb4);
    private static final Color INK = new Color(0x22, 0x22, 0x22);
    private static final Color ARROW = new TraceStyle(1, 0).color();

    /** A part with less of the largest current carries none: rounding, or the leakage of a model. */
    private static final double CARRIES = 1e-6;

    /** With less of the largest current an arrow would be a dot. */
    private static final double LEAST_ARROW = 0.01;

    /** The lead that it lies on is hardly longer. */
    private static final double LONGEST_ARROW = 28;

    private static final double THIN = 1.2;
    private static final double THICKEST = 5;
    /** Thicker lines would fill a symbol. */
    private static final double THICKEST_SYMBOL = 3.4;
    /** So much wider lines are at most in a drawing that is shrunk with its letters: symbols shrink as well. */
    private static final double BOLDEST = 2;

    private static final double PLAIN = 1.8;
    private static final int DIGITS = 3;

    /** Larger letters with the sizes of the currents meet what lies around them. */
    private static final double LARGEST_TYPE = 30;

    /** From one line of letters to the next, against their size. */
    private static final double LINE = 1.23;

    /** As wide as any label that may stand there, so that the schematic of each interval is laid out alike. */
    private static final String PLACEHOLDER = "-0.00 mA";

    private final SchematicLayout layout;
    private final Told told;
    private final Map<String, Double> currents;
    private final Map<String, Double> voltages;
    /** By symbols: whether the first terminal of the port is the left or upper end. */
    private final Map<String, Boolean> plusFirst;

    private final double largest;
    private final WireCurrents wires;

    /**
     * Where a drawing is shown.
     *
     * @param width its width, more than 0
     * @param height its height, more than 0
     * @param letters how large letters are to be there at least
     */
    public record Room(double width, double height, double letters) {}

    /** What stands beside a symbol besides its name. */
    private enum Told {
        NOTHING,
        CURRENTS,
        VALUES
    }

    private CurrentDrawing(
            SchematicLayout layout,
            Told told,
            Map<String, Double> currents,
            Map<String, Double> voltages,
            Map<String, Boolean> plusFirst,
            Map<Terminal, Double> into) {
        this.layout = layout;
        this.told = told;
        this.currents = currents;
        this.voltages = voltages;
        this.plusFirst = plusFirst;
        this.largest = currents.values().stream().mapToDouble(Math::abs).max().orElse(0);
        this.wires = WireCurrents.of(layout.wires, into);
    }

    /** A schematic that is laid out and has no currents in it yet: the search for its layout takes longer than all else. */
    public static final class Plan {
        private final Circuit circuit;
        private final SchematicLayout layout;

        private Plan(Circuit circuit) {
            this.circuit = circuit;
            this.layout = layout(circuit, Told.CURRENTS);
        }

        /**
         * Draws currents in it.
         *
         * @param currents by the names of ports, A, from the first terminal to the second; a port that is not named carries none
         * @param voltages by the names of ports, V, of the first terminal against the second: those whose polarity is marked
         * @return the drawing
         */
        public Sketch with(Map<String, Double> currents, Map<String, Double> voltages) {
            return drawing(circuit, layout, Told.CURRENTS, currents, voltages);
        }
    }

    /**
     * Lays a circuit out, to draw several sets of currents in it.
     *
     * @param circuit the circuit
     * @return its layout; empty if the circuit has too many parts for one that can be followed
     */
    public static Optional<Plan> plan(Circuit circuit) {
        return Schematic.isDrawn(circuit) ? Optional.of(new Plan(circuit)) : Optional.empty();
    }

    /**
     * Draws the currents of a circuit in letters that are large enough when the drawing is shrunk into a room; where that leaves no place
     * for the sizes of the currents, these are left out.
     *
     * @param circuit the circuit
     * @param currents by the names of ports, A, from the first terminal to the second; none to have the values of the parts instead
     * @param voltages by the names of ports, V, of the first terminal against the second: those whose polarity is marked
     * @param room where it is to be shown
     * @return the drawing; empty if the circuit has too many parts for one that can be followed
     */
    public static Optional<Sketch> lettered(
            Circuit circuit, Map<String, Double> currents, Map<String, Double> voltages, Room room) {
        if (!Schematic.isDrawn(circuit)) {
            return Optional.empty();
        }
        Told told = currents.isEmpty() ? Told.VALUES : Told.CURRENTS;
        SchematicLayout layout = layout(circuit, told).lettered(room, false);
        if (layout.type > LARGEST_TYPE) {
            told = Told.NOTHING;
            layout = layout(circuit, told).lettered(room, true);
        }
        return Optional.of(drawing(circuit, layout, told, currents, voltages));
    }

    private static SchematicLayout layout(Circuit circuit, Told told) {
        return SchematicLayout.of(circuit, symbol -> switch (told) {
            case VALUES -> symbol;
            case CURRENTS -> symbol.valued(PLACEHOLDER);
            case NOTHING -> symbol.valued("");
        });
    }

    private static Sketch drawing(
            Circuit circuit,
            SchematicLayout layout,
            Told told,
            Map<String, Double> currents,
            Map<String, Double> voltages) {
        Map<String, Double> bySymbol = new LinkedHashMap<>();
        Map<String, Double> across = new LinkedHashMap<>();
        Map<String, Port> ports = new LinkedHashMap<>();
        for (Port port : circuit.ports()) {
            String symbol = SchematicItem.symbolOf(port, circuit);
            ports.put(symbol, port);
            bySymbol.put(symbol, currents.getOrDefault(port.name(), 0.0));
            Double voltage = voltages.get(port.name());
            if (voltage != null) {
                across.put(symbol, voltage);
            }
        }
        Map<String, Boolean> plusFirst = new LinkedHashMap<>();
        Map<Terminal, Double> into = new LinkedHashMap<>();
        for (Terminal terminal : layout.terminals) {
            Port port = ports.get(terminal.part());
            double current = bySymbol.getOrDefault(terminal.part(), 0.0);
            boolean isPlus = port != null && port.plus().equals(terminal.node());
            into.put(terminal, isPlus ? -current : current);
            plusFirst.putIfAbsent(terminal.part(), isPlus); // the left or upper terminal comes first
        }
        CurrentDrawing drawing = new CurrentDrawing(layout, told, bySymbol, across, plusFirst, into);
        return new Sketch(layout.width(), layout.height(), drawing::draw);
    }

    private double share(double current) {
        return largest > 0 ? Math.abs(current) / largest : 0;
    }

    /** Lines of a drawing that is shrunk with its letters are as wide as others. */
    private double bold() {
        return Math.min(BOLDEST, layout.type / SchematicLayout.TYPE);
    }

    /** Where no currents are told every part is drawn as one that carries. */
    private boolean carries(double current) {
        return largest == 0 || share(current) > CARRIES;
    }

    private void pen(Graphics2D g, double current, double thickest) {
        g.setPaint(carries(current) ? INK : FAINT);
        double width = largest == 0 ? PLAIN : carries(current) ? 2 + (thickest - 2) * share(current) : THIN;
        g.setStroke(new BasicStroke((float) (width * bold()), BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND));
    }

    private void draw(Graphics2D g) {
        g.setFont(g.getFont().deriveFont((float) layout.type));
        // those that carry come last, so that none of them is crossed by a faint one
        wires.each((line, current) -> {
            if (!carries(current)) {
                pen(g, current, THICKEST);
                g.draw(line);
            }
        });
        wires.each((line, current) -> {
            if (carries(current)) {
                pen(g, current, THICKEST);
                g.draw(line);
            }
        });
        layout.symbols.forEach(placed -> symbol(g, placed));
        g.setPaint(INK);
        for (Terminal joint : layout.joints()) {
            double radius = 3.5 * bold();
            g.fill(new Ellipse2D.Double(joint.x() - radius, joint.y() - radius, 2 * radius, 2 * radius));
        }
        g.setStroke(new BasicStroke((float) (THIN * bold())));
        layout.cores.forEach(core -> {
            g.draw(new Line2D.Double(core.x() - 3, core.y() - 24, core.x() - 3, core.y() + 24));
            g.draw(new Line2D.Double(core.x() + 3, core.y() - 24, core.x() + 3, core.y() + 24));
        });
        ground(g);
        g.setPaint(Color.GRAY);
        for (Name name : told == Told.NOTHING ? List.<Name>of() : layout.names) {
            g.drawString(name.node(), name.x(), name.y());
        }
    }

    private void ground(Graphics2D g) {
        int[] at = layout.ground();
        if (at.length > 0) {
            g.draw(new Line2D.Double(at[0], at[1], at[0], at[1] + 10));
            for (int k = 0; k < 3; k++) {
                g.draw(new Line2D.Double(
                        at[0] - 12 + 4 * k, at[1] + 10 + 5 * k, at[0] + 12 - 4 * k, at[1] + 10 + 5 * k));
            }
        }
    }

    private void symbol(Graphics2D g, Placed placed) {
        Symbol symbol = placed.symbol();
        double current = currents.getOrDefault(symbol.name(), 0.0);
        AffineTransform before = g.getTransform();
        int half = Symbol.LENGTH / 2;
        g.translate(
                placed.upright() ? placed.x() : placed.x() - half, placed.upright() ? placed.y() - half : placed.y());
        if (placed.upright()) {
            g.rotate(Math.PI / 2);
        }
        AffineTransform turned = g.getTransform();
        if (symbol.turned()) {
            g.translate(Symbol.LENGTH, 0);
            g.scale(-1, 1);
        }
        pen(g, current, THICKEST_SYMBOL);
        for (SymbolShape piece : SymbolShape.of(symbol.shape())) {
            if (piece.kind() == SymbolShape.Kind.FULL) {
                g.fill(piece.shape());
            } else {
                if (piece.kind() == SymbolShape.Kind.BOLD) {
                    g.setStroke(new BasicStroke((float) ((carries(current) ? 4 : 2) * bold())));
                }
                g.draw(piece.shape());
                pen(g, current, THICKEST_SYMBOL);
            }
        }
        g.setTransform(turned);
        if (share(current) > LEAST_ARROW) {
            arrow(g, towardsEnd(placed, current), share(current));
        }
        g.setTransform(before);
        labels(g, placed, current);
    }

    /** Whether the current flows from the left or upper end to the other. */
    private boolean towardsEnd(Placed placed, double current) {
        return current > 0 == firstIsPlus(placed);
    }

    private boolean firstIsPlus(Placed placed) {
        return plusFirst.getOrDefault(placed.symbol().name(), true);
    }

    /** On the lead behind the body, so that it hides nothing of the symbol. */
    private void arrow(Graphics2D g, boolean towardsEnd, double share) {
        double size = Math.min(LONGEST_ARROW, (6 + 8 * share) * bold());
        double tip = towardsEnd ? 88 + 0.5 * size : 88 - 0.5 * size;
        double back = towardsEnd ? tip - size : tip + size;
        Path2D head = new Path2D.Double();
        head.moveTo(tip, 0);
        head.lineTo(back, -0.6 * size);
        head.lineTo(back, 0.6 * size);
        head.closePath();
        g.setPaint(ARROW);
        g.fill(head);
    }

    private List<String> lines(Placed placed, double current) {
        Symbol symbol = placed.symbol();
        List<String> lines = new ArrayList<>(List.of(layout.label(symbol)));
        if (told == Told.VALUES && !symbol.values().isEmpty()) {
            lines.addAll(placed.upright() ? symbol.values() : List.of(String.join(", ", symbol.values())));
        } else if (told == Told.CURRENTS && share(current) > LEAST_ARROW) {
            lines.add(Quantity.format(Math.abs(current), Unit.AMPERE, DIGITS));
        }
        return lines;
    }

    private void labels(Graphics2D g, Placed placed, double current) {
        List<String> lines = lines(placed, current);
        double step = LINE * layout.type;
        g.setPaint(carries(current) ? INK : Color.GRAY);
        double y = placed.upright()
                ? placed.y() - 0.5 * step * (lines.size() - 1) + 0.3 * layout.type
                : placed.y() - 21 - step * (lines.size() - 1);
        for (String line : lines) {
            int width = g.getFontMetrics().stringWidth(line);
            double x = !placed.upright()
                    ? placed.x() - 0.5 * width
                    : placed.labelLeft() ? placed.x() - 24 - width : placed.x() + 26;
            g.drawString(line, (float) x, (float) y);
            y += step;
        }
        Double voltage = voltages.get(placed.symbol().name());
        if (voltage != null && voltage != 0) {
            polarity(g, placed, voltage);
        }
    }

    private void polarity(Graphics2D g, Placed placed, double voltage) {
        boolean plusAtStart = voltage > 0 == firstIsPlus(placed);
        g.setPaint(ARROW);
        String start = plusAtStart ? "+" : "−";
        String end = plusAtStart ? "−" : "+";
        String size = Quantity.format(Math.abs(voltage), Unit.VOLT, DIGITS);
        double sign = g.getFontMetrics().stringWidth("+");
        double below = placed.y() + 9 + layout.type;
        double half = told == Told.NOTHING
                ? 30
                : Math.max(30, 0.5 * g.getFontMetrics().stringWidth(size) + 6);
        if (placed.upright()) {
            g.drawString(start, (float) (placed.x() - 9 - sign), placed.y() - 24);
            g.drawString(end, (float) (placed.x() - 9 - sign), (float) (placed.y() + 21 + layout.type));
        } else {
            g.drawString(start, (float) (placed.x() - half - sign), (float) below);
            g.drawString(end, (float) (placed.x() + half), (float) below);
            if (told != Told.NOTHING) {
                g.drawString(size, placed.x() - g.getFontMetrics().stringWidth(size) / 2f, (float) below);
            }
        }
    }
}
