package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.plot.page.SchematicLayout.Wire;

class WireCurrentsTest {
    /** A line with a source of 3 A at its left end, 1 A taken in the middle by a lead, 2 A at its right end. */
    @Test
    void aLineCarriesWhatIsFedInAtItsOneSide() {
        List<Wire> wires = List.of(new Wire("n", 0, 0, 100, 0), new Wire("n", 40, 0, 40, 50));
        Map<Terminal, Double> into = Map.of(
                new Terminal("V1", "n", 0, 0), 3.0,
                new Terminal("R1", "n", 40, 50), -1.0,
                new Terminal("R2", "n", 100, 0), -2.0);
        Map<String, Double> found = new HashMap<>();
        WireCurrents.of(wires, into)
                .each((line, current) -> found.put(
                        (int) Math.min(line.getX1(), line.getX2()) + "-" + (int) Math.max(line.getX1(), line.getX2()),
                        Math.abs(current)));
        assertThat(found).hasSize(3);
        assertThat(found.get("0-40")).isCloseTo(3, within(0.0));
        assertThat(found.get("40-40")).isCloseTo(1, within(0.0));
        assertThat(found.get("40-100")).isCloseTo(2, within(0.0));
    }

    @Test
    void linesOfOtherNodesThatCrossCarryNothingOfIt() {
        List<Wire> wires = List.of(new Wire("n", 0, 0, 100, 0), new Wire("m", 50, -50, 50, 50));
        Map<Terminal, Double> into = Map.of(new Terminal("V1", "n", 0, 0), 3.0, new Terminal("R2", "n", 100, 0), -3.0);
        Map<Integer, Double> found = new HashMap<>();
        WireCurrents.of(wires, into).each((line, current) -> found.put((int) line.getY1(), Math.abs(current)));
        assertThat(found.values()).containsExactlyInAnyOrder(3.0, 0.0);
    }

    @Test
    void piecesOfASymbolAreReadFromItsMarkup() {
        List<SymbolShape> pieces = SymbolShape.of("<path d=\"M0 0H30M70 0H100\"/><path d=\"M30 0"
                + "a5 5 0 0 1 10 0".repeat(4) + "\"/><circle class=\"full\" cx=\"26\" cy=\"-9\" r=\"3\"/>");
        assertThat(pieces)
                .extracting(SymbolShape::kind)
                .containsExactly(SymbolShape.Kind.LINE, SymbolShape.Kind.LINE, SymbolShape.Kind.FULL);
        assertThat(pieces.get(0).shape().getBounds2D().getMaxX()).isEqualTo(100);
        assertThat(pieces.get(1).shape().getBounds2D().getMinY()).isCloseTo(-5, within(1e-9));
        assertThat(pieces.get(1).shape().getBounds2D().getMaxX()).isCloseTo(70, within(1e-9));
        assertThat(pieces.get(2).shape().getBounds2D().getMinX()).isEqualTo(23);
    }
}
