package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.micro;

import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.plot.page.SchematicLayout.Placed;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.plot.page.SchematicLayout.Wire;
import org.xml.sax.InputSource;

/** Whatever the circuit, its drawing is whole and can be followed: checked by geometry. */
class SchematicTest {
    private static final Map<String, Circuit> CIRCUITS = new LinkedHashMap<>(GatheredCircuits.all());

    static Stream<String> names() {
        return GatheredCircuits.all().keySet().stream();
    }

    private static Circuit circuit(String name) {
        return Objects.requireNonNull(CIRCUITS.get(name));
    }

    /** What a symbol covers, its leads left out. */
    private static Rectangle2D body(Placed placed) {
        int along = SchematicLayout.BODY;
        int across = SchematicLayout.THICK;
        return placed.upright()
                ? new Rectangle2D.Double(placed.x() - across, placed.y() - along, 2 * across, 2 * along)
                : new Rectangle2D.Double(placed.x() - along, placed.y() - across, 2 * along, 2 * across);
    }

    /** What a symbol covers with its name and values, as wide as letters of 13 pixels are in most fonts. */
    private static Rectangle2D labels(Placed placed) {
        double letter = 7.2;
        int longest =
                placed.symbol().values().stream().mapToInt(String::length).max().orElse(0);
        int lines = 1 + placed.symbol().values().size();
        if (!placed.upright()) {
            double wide = letter * SchematicLayout.oneLine(placed.symbol()).length();
            return new Rectangle2D.Double(placed.x() - wide / 2, placed.y() - 48, wide, 30);
        }
        double wide = letter * Math.max(longest, placed.symbol().name().length());
        double x = placed.labelLeft() ? placed.x() - 22 - wide : placed.x() + 25;
        return new Rectangle2D.Double(x, placed.y() - 8 * lines, wide, 16 * lines);
    }

    private static Line2D line(Wire wire) {
        return new Line2D.Double(wire.x1(), wire.y1(), wire.x2(), wire.y2());
    }

    @ParameterizedTest
    @MethodSource("names")
    void noPartMeetsAnother(String name) {
        List<Placed> symbols = SchematicLayout.of(circuit(name)).symbols;
        for (int i = 0; i < symbols.size(); i++) {
            for (int j = 0; j < symbols.size(); j++) {
                if (i != j) {
                    assertThat(body(symbols.get(i)).intersects(body(symbols.get(j))))
                            .as("%s on %s", symbols.get(i), symbols.get(j))
                            .isFalse();
                    assertThat(labels(symbols.get(i)).intersects(body(symbols.get(j))))
                            .as("the label of %s on %s", symbols.get(i), symbols.get(j))
                            .isFalse();
                    assertThat(labels(symbols.get(i)).intersects(labels(symbols.get(j))))
                            .as("the labels of %s and %s", symbols.get(i), symbols.get(j))
                            .isFalse();
                }
            }
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void noLineCrossesASymbolOrItsLabel(String name) {
        SchematicLayout layout = SchematicLayout.of(circuit(name));
        for (Wire wire : layout.wires) {
            for (Placed placed : layout.symbols) {
                assertThat(line(wire).intersects(body(placed)))
                        .as("%s through %s", wire, placed)
                        .isFalse();
                assertThat(line(wire).intersects(labels(placed)))
                        .as("%s through the label of %s", wire, placed)
                        .isFalse();
            }
        }
    }

    /** Where two lines of different nodes lay along each other or ended at each other, they would seem joined. */
    @ParameterizedTest
    @MethodSource("names")
    void linesOfDifferentNodesOnlyCross(String name) {
        List<Wire> wires = SchematicLayout.of(circuit(name)).wires;
        for (Wire a : wires) {
            for (Wire b : wires) {
                if (!a.node().equals(b.node()) && line(a).intersectsLine(line(b))) {
                    boolean crosses = (a.x1() == a.x2()) != (b.x1() == b.x2());
                    assertThat(crosses && !endsOn(a, b) && !endsOn(b, a))
                            .as("%s and %s", a, b)
                            .isTrue();
                }
            }
        }
    }

    private static boolean endsOn(Wire a, Wire b) {
        return SchematicLayout.holds(b, a.x1(), a.y1()) || SchematicLayout.holds(b, a.x2(), a.y2());
    }

    /** Every terminal of every part hangs together with all others of its node, and with no other. */
    @ParameterizedTest
    @MethodSource("names")
    void everyNodeHangsTogether(String name) {
        Circuit circuit = circuit(name);
        SchematicLayout layout = SchematicLayout.of(circuit);
        Set<String> drawn = new HashSet<>();
        for (Terminal terminal : layout.terminals) {
            drawn.add(terminal.node());
            Set<Wire> reached = reached(layout, terminal);
            layout.terminals.stream()
                    .filter(other -> other.node().equals(terminal.node()))
                    .forEach(other -> assertThat(other.equals(terminal)
                                    || reached.stream()
                                            .anyMatch(wire -> SchematicLayout.holds(wire, other.x(), other.y())))
                            .as("%s with %s", terminal, other)
                            .isTrue());
        }
        Set<String> nodes = new HashSet<>(circuit.nodes());
        nodes.removeIf(node -> node.startsWith("U1."));
        nodes.add(Circuit.GROUND);
        assertThat(drawn).isEqualTo(nodes);
    }

    private static Set<Wire> reached(SchematicLayout layout, Terminal from) {
        Set<Wire> reached = new HashSet<>();
        List<Wire> open = new ArrayList<>();
        layout.wires.stream()
                .filter(wire -> wire.node().equals(from.node()) && SchematicLayout.holds(wire, from.x(), from.y()))
                .forEach(open::add);
        while (!open.isEmpty()) {
            Wire wire = open.remove(open.size() - 1);
            if (reached.add(wire)) {
                layout.wires.stream()
                        .filter(other ->
                                other.node().equals(wire.node()) && line(other).intersectsLine(line(wire)))
                        .forEach(open::add);
            }
        }
        return reached;
    }

    @ParameterizedTest
    @MethodSource("names")
    void everyPartAndEveryNodeIsNamed(String name) throws Exception {
        Circuit circuit = circuit(name);
        String svg = Schematic.svg(circuit).orElseThrow();
        circuit.parts().stream()
                .filter(part -> !part.name().startsWith("U1."))
                .forEach(part -> assertThat(svg).containsPattern(">" + part.name() + "(<| \\w+<)"));
        circuit.nodes().stream()
                .filter(node -> !node.startsWith("U1."))
                .forEach(node -> assertThat(svg).contains("class=\"node\"").contains(">" + node + "<"));
        assertThat(svg).contains("<title>schematic</title>", "<desc>", "role=\"img\"");
        DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
        assertThat(Schematic.svg(circuit)).contains(svg);
    }

    private static Rectangle2D text(SchematicLayout.Name name) {
        return new Rectangle2D.Double(name.x(), name.y() - 9, 6.5 * name.node().length(), 10);
    }

    @ParameterizedTest
    @MethodSource("names")
    void namesOfNodesStandInTheClear(String name) {
        SchematicLayout layout = SchematicLayout.of(circuit(name));
        for (SchematicLayout.Name node : layout.names) {
            for (Placed placed : layout.symbols) {
                assertThat(text(node).intersects(body(placed)) || text(node).intersects(labels(placed)))
                        .as("%s on %s", node, placed)
                        .isFalse();
            }
            for (SchematicLayout.Name other : layout.names) {
                assertThat(!other.equals(node) && text(node).intersects(text(other)))
                        .as("%s on %s", node, other)
                        .isFalse();
            }
        }
    }

    /** Circuits that no one has thought of: parts of all kinds thrown between nodes. */
    @Test
    void anyCircuitIsDrawnSoThatItCanBeFollowed() {
        for (int seed = 0; seed < 80; seed++) {
            Circuit circuit = thrown(new Random(seed));
            String name = "seed " + seed;
            CIRCUITS.put(name, circuit);
            noPartMeetsAnother(name);
            noLineCrossesASymbolOrItsLabel(name);
            linesOfDifferentNodesOnlyCross(name);
            everyNodeHangsTogether(name);
            CIRCUITS.remove(name);
        }
    }

    private static Circuit thrown(Random random) {
        int nodes = 2 + random.nextInt(7);
        Circuit.Builder builder = Circuit.builder().voltageSource("V1", "n0", Circuit.GROUND, 12);
        for (int k = 1; k <= nodes; k++) {
            builder.resistor("R" + k, "n" + k, "n" + random.nextInt(k), k);
        }
        int parts = random.nextInt(10);
        for (int k = 0; k < parts; k++) {
            String a = "n" + random.nextInt(nodes);
            String b = random.nextInt(3) == 0 ? Circuit.GROUND : "n" + nodes;
            switch (random.nextInt(5)) {
                case 0 -> builder.capacitor("C" + k, a, b, micro(1));
                case 1 -> builder.rectifier("D" + k, a, b);
                case 2 -> builder.switchPart("Q" + k, a, b, 1);
                case 3 -> builder.inductor("L" + k, b, a, micro(10));
                default ->
                    builder.idealTransformer(
                                    "T" + k,
                                    List.of(Part.Winding.of("p", a, b), Part.Winding.of("s", "s" + k, Circuit.GROUND)),
                                    2,
                                    1)
                            .resistor("S" + k, "s" + k, Circuit.GROUND, 1);
            }
        }
        return builder.build();
    }

    /** Beyond what can be followed the parts are listed instead. */
    @Test
    void aVeryLargeCircuitIsListed() {
        Circuit.Builder builder = Circuit.builder().voltageSource("V1", "n0", Circuit.GROUND, 12);
        for (int k = 1; k <= 80; k++) {
            builder.resistor("R" + k, "n" + (k - 1), k == 80 ? Circuit.GROUND : "n" + k, k);
        }
        Circuit circuit = builder.build();
        assertThat(Schematic.svg(circuit)).isEmpty();
        assertThat(Page.titled("t").schematic(circuit).html())
                .contains("81 parts", "<bdi>R80</bdi></th>", "<bdi>80 Ω</bdi>", "<bdi>n79, ground</bdi>");
    }
}
