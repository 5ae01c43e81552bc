package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.plot.page.SchematicItem.Branch;
import org.voltsecond.plot.page.SchematicItem.Kind;
import org.voltsecond.plot.page.SchematicPlan.Spot;

/** Where everything of a schematic lies, in pixels. */
final class SchematicLayout {
    private static final int LAYER = 76;
    private static final int GAP = 150;
    private static final int FLAT_GAP = 84;
    private static final int MARGIN = 34;
    private static final int TOP = 60;
    /** The size of letters in a page, pixels. */
    static final double TYPE = 13;
    /** Larger letters make a wider drawing, whose letters have to be larger still; after so many rounds less than a hundredth is missing. */
    private static final int ROUNDS = 40;
    /** Two lines of larger letters above a lying symbol take so much more for each pixel of their size. */
    private static final double TALLER = 2.2;
    /** Half the room that a symbol takes across, with its gate. */
    static final int THICK = 20;
    /** From the middle of a symbol to the ends of its body. */
    static final int BODY = 22;

    /** From a winding to the core. */
    private static final int WINDING_STEP = 20;
    /** Text of 13 pixels is about as wide as this for each letter. */
    private static final double LETTER = 7.6;

    /** So many orders of nodes are tried at most: a large circuit is drawn as well as a second allows. */
    private static final int MOST_ORDERS = 3000;

    /** A symbol from its left or upper end on; x, y is its middle. */
    record Placed(Symbol symbol, int x, int y, boolean upright, boolean labelLeft) {}

    /** A line of a node. */
    record Wire(String node, int x1, int y1, int x2, int y2) {}

    /** Where a part is joined to its node. */
    record Terminal(String part, String node, int x, int y) {}

    /** The name of a node, its first letter at x. */
    record Name(String node, int x, int y) {}

    /** The core beside a winding. */
    record Core(int x, int y) {}

    final List<Placed> symbols = new ArrayList<>();
    final List<Wire> wires = new ArrayList<>();
    final List<Terminal> terminals = new ArrayList<>();
    final List<Name> names = new ArrayList<>();
    final List<Core> cores = new ArrayList<>();

    private final SchematicPlan plan;
    final double type;
    private final boolean brief;
    private final double letter;
    private final int layer;
    private final int flatGap;
    private final int top;
    private final int[] middle;
    private final int[] half;
    private final int[] y;
    private final Map<String, int[]> reach = new LinkedHashMap<>();

    private SchematicLayout(SchematicPlan plan, double type, boolean brief) {
        this.plan = plan;
        this.brief = brief;
        this.type = type;
        letter = LETTER * type / TYPE;
        int taller = (int) Math.max(0, TALLER * (type - TYPE));
        layer = LAYER + taller;
        flatGap = FLAT_GAP + taller;
        top = TOP + taller;
        middle = new int[plan.columns()];
        half = new int[plan.columns()];
        y = new int[plan.groundRow() + 1];
        setColumns();
        setRows();
        for (Spot spot : plan.spots()) {
            place(spot);
        }
        addCores();
        addLines();
    }

    static SchematicLayout of(Circuit circuit) {
        return of(circuit, UnaryOperator.identity());
    }

    /** With something else written beside each symbol. */
    static SchematicLayout of(Circuit circuit, UnaryOperator<Symbol> labels) {
        List<SchematicItem> items = SchematicItem.of(circuit).stream()
                .map(item -> item.with(labels))
                .toList();
        List<String> nodes = circuit.nodes().stream()
                .filter(node -> items.stream().anyMatch(item -> item.nodes().contains(node)))
                .toList();
        return new SchematicLayout(best(items, nodes), TYPE, false);
    }

    /** The same with room for larger letters, so that they are still of a size when it is shrunk into a room; brief with the name of a transformer alone at its windings. */
    SchematicLayout lettered(CurrentDrawing.Room room, boolean shortened) {
        double type = TYPE;
        SchematicLayout found = this;
        for (int round = 0; round < ROUNDS; round++) {
            type = Math.max(
                    TYPE, room.letters() * Math.max(found.width() / room.width(), found.height() / room.height()));
            found = new SchematicLayout(plan, type, shortened);
        }
        return found;
    }

    /** Moves one node at a time to where that makes the drawing easier to read; the input stays at the left. */
    private static SchematicPlan best(List<SchematicItem> items, List<String> nodes) {
        SchematicPlan best = new SchematicPlan(items, nodes);
        int tried = 0;
        for (int round = 0; tried < MOST_ORDERS; round++) {
            SchematicPlan before = best;
            for (int from = 1; from < nodes.size(); from++) {
                for (int to = 1; to < nodes.size(); to++) {
                    List<String> order = new ArrayList<>(before.order());
                    if (round % 2 == 0) {
                        order.add(to, order.remove(from));
                    } else {
                        Collections.swap(order, from, to);
                    }
                    tried++;
                    SchematicPlan plan = new SchematicPlan(items, order);
                    if (plan.cost() < best.cost() - 1e-9) {
                        best = plan;
                    }
                }
            }
            if (nodes.size() < 3 || (best == before && round % 2 == 1)) {
                return best;
            }
        }
        return best;
    }

    private int width(String text) {
        return (int) Math.ceil(letter * text.length());
    }

    private int labelWidth(Symbol symbol) {
        int widest = width(label(symbol));
        for (String value : symbol.values()) {
            widest = Math.max(widest, width(value));
        }
        return widest;
    }

    private void setColumns() {
        int[] left = new int[middle.length];
        int[] right = new int[middle.length];
        for (Spot spot : plan.spots()) {
            int c = spot.column();
            Symbol symbol = spot.what().symbol();
            if (spot.item().kind() == Kind.AMPLIFIER) {
                half[c] = 78;
                left[c] = Math.max(left[c], 88);
                right[c] = Math.max(right[c], 88);
            } else if (!spot.upright()) {
                half[c] = Math.max(half[c], Math.max(62, width(oneLine(symbol)) / 2 + 6));
                left[c] = Math.max(left[c], half[c] + 10);
                right[c] = Math.max(right[c], half[c] + 10);
            } else if (isFirstWinding(spot)) {
                left[c] = Math.max(left[c], 30 + labelWidth(symbol));
                right[c] = Math.max(right[c], WINDING_STEP);
            } else {
                left[c] = Math.max(left[c], spot.item().kind() == Kind.WINDINGS ? WINDING_STEP + 6 : 26);
                right[c] = Math.max(right[c], 34 + labelWidth(symbol));
            }
        }
        for (String node : plan.order()) {
            int c = (int) Math.rint(plan.span(node)[0]);
            right[c] = Math.max(right[c], half[c] + width(node) - 10);
        }
        int x = MARGIN;
        for (int c = 0; c < middle.length; c++) {
            middle[c] = x + left[c];
            x = middle[c] + right[c];
        }
    }

    /** The name as it stands beside a symbol. */
    String label(Symbol symbol) {
        return brief ? symbol.name().split(" ", 2)[0] : symbol.name();
    }

    static String oneLine(Symbol symbol) {
        String values = String.join(", ", symbol.values());
        return values.length() > symbol.name().length() ? values : symbol.name();
    }

    private static int firstColumn(Spot spot, List<Spot> all) {
        return all.stream()
                .filter(other -> other.item().equals(spot.item()))
                .mapToInt(Spot::column)
                .min()
                .orElse(0);
    }

    private boolean isFirstWinding(Spot spot) {
        return spot.item().kind() == Kind.WINDINGS && spot.column() == firstColumn(spot, plan.spots());
    }

    private void setRows() {
        int[] layers = new int[y.length];
        boolean[] standing = new boolean[y.length];
        for (Spot spot : plan.spots()) {
            if (spot.upright()) {
                standing[gap(spot)] = true;
            } else {
                layers[plan.rowOf(spot)] = Math.max(layers[plan.rowOf(spot)], spot.layer());
            }
        }
        y[0] = top + layers[0] * layer;
        for (int row = 1; row < y.length; row++) {
            int room = flatGap + layers[row] * layer;
            y[row] = y[row - 1] + (standing[row - 1] ? Math.max(GAP, room) : room);
        }
    }

    /** Between which row and the next an upright symbol stands: the lowest that it can, windings of one core side by side. */
    private int gap(Spot spot) {
        if (spot.item().kind() == Kind.AMPLIFIER) {
            Branch inputs = spot.what();
            int lowest = Math.max(plan.row(inputs.plus()), plan.row(inputs.minus()));
            return Math.min(plan.groundRow() - 1, lowest);
        }
        int low = plan.top(spot);
        int high = Math.max(low, plan.bottom(spot) - 1);
        if (spot.item().kind() == Kind.PAIR) {
            return high;
        }
        int common = 0;
        int most = plan.groundRow();
        for (Spot other : plan.spots()) {
            if (other.item().equals(spot.item())) {
                common = Math.max(common, plan.top(other));
                most = Math.min(most, Math.max(plan.top(other), plan.bottom(other) - 1));
            }
        }
        return common <= most ? common : low;
    }

    private void place(Spot spot) {
        if (spot.item().kind() == Kind.AMPLIFIER) {
            placeAmplifier(spot);
        } else if (spot.upright()) {
            placeUpright(spot);
        } else {
            placeLying(spot);
        }
    }

    private void placeUpright(Spot spot) {
        Branch branch = spot.what();
        int x = middle[spot.column()];
        int gap = gap(spot);
        int centre = (y[gap] + y[gap + 1]) / 2;
        boolean plusAbove = plan.row(branch.plus()) <= plan.row(branch.minus());
        String above = plusAbove ? branch.plus() : branch.minus();
        String below = plusAbove ? branch.minus() : branch.plus();
        Symbol symbol = plusAbove ? branch.symbol() : branch.symbol().reversed();
        symbols.add(new Placed(symbol, x, centre, true, isFirstWinding(spot)));
        lead(symbol.name(), above, x, centre - Symbol.LENGTH / 2, y[plan.row(above)]);
        lead(symbol.name(), below, x, centre + Symbol.LENGTH / 2, y[plan.row(below)]);
    }

    private void lead(String part, String node, int x, int from, int to) {
        terminals.add(new Terminal(part, node, x, from));
        wire(node, x, from, x, to);
        extend(node, x);
    }

    private void placeLying(Spot spot) {
        Branch branch = spot.what();
        int c = spot.column();
        int row = plan.rowOf(spot);
        int line = y[row] - spot.layer() * layer;
        String left = plan.left(spot);
        String right = plan.right(spot);
        Symbol symbol =
                branch.plus().equals(left) ? branch.symbol() : branch.symbol().reversed();
        symbols.add(new Placed(symbol, middle[c], line, false, false));
        side(symbol.name(), left, middle[c] - Symbol.LENGTH / 2, middle[c] - half[c], line);
        side(symbol.name(), right, middle[c] + Symbol.LENGTH / 2, middle[c] + half[c], line);
    }

    private void side(String part, String node, int from, int to, int line) {
        terminals.add(new Terminal(part, node, from, line));
        wire(node, from, line, to, line);
        wire(node, to, line, to, y[plan.row(node)]);
        extend(node, to);
    }

    private void placeAmplifier(Spot spot) {
        Branch inputs = spot.what();
        String output = spot.item().branches().get(1).plus();
        Symbol symbol = inputs.symbol();
        int x = middle[spot.column()];
        int gap = gap(spot);
        int centre = (y[gap] + y[gap + 1]) / 2;
        symbols.add(new Placed(symbol, x, centre, false, false));
        int reachOut = half[spot.column()];
        side(symbol.name(), inputs.plus(), x - 28, x - reachOut, centre + 14);
        side(symbol.name(), inputs.minus(), x - 28, x - reachOut + 22, centre - 14);
        side(symbol.name(), output, x + 28, x + reachOut, centre);
    }

    private void wire(String node, int x1, int y1, int x2, int y2) {
        if (x1 != x2 || y1 != y2) {
            wires.add(new Wire(node, x1, y1, x2, y2));
        }
    }

    private void extend(String node, int x) {
        reach.merge(node, new int[] {x, x}, (a, b) -> new int[] {Math.min(a[0], b[0]), Math.max(a[1], b[1])});
    }

    private void addCores() {
        for (Spot spot : plan.spots()) {
            boolean follows = plan.spots().stream()
                    .anyMatch(first ->
                            first.item().equals(spot.item()) && isFirstWinding(first) && gap(first) == gap(spot));
            if (spot.item().kind() == Kind.WINDINGS && !isFirstWinding(spot) && follows) {
                int gap = gap(spot);
                cores.add(new Core(middle[spot.column()] - WINDING_STEP, (y[gap] + y[gap + 1]) / 2));
            }
        }
    }

    private void addLines() {
        reach.forEach((node, ends) -> wire(node, ends[0], y[plan.row(node)], ends[1], y[plan.row(node)]));
        for (String node : plan.order()) {
            int[] ends = reach.get(node);
            if (ends != null) {
                names.add(new Name(node, ends[0] + 5, y[plan.row(node)] - 6));
            }
        }
    }

    /** Where three lines or more of one node meet. */
    List<Terminal> joints() {
        List<Terminal> joints = new ArrayList<>();
        for (Wire wire : wires) {
            for (int[] end : new int[][] {{wire.x1(), wire.y1()}, {wire.x2(), wire.y2()}}) {
                Terminal joint = new Terminal("", wire.node(), end[0], end[1]);
                if (!joints.contains(joint) && degree(joint) > 2) {
                    joints.add(joint);
                }
            }
        }
        return joints;
    }

    private int degree(Terminal at) {
        int degree = 0;
        for (Wire wire : wires) {
            boolean ends = (wire.x1() == at.x() && wire.y1() == at.y()) || (wire.x2() == at.x() && wire.y2() == at.y());
            if (wire.node().equals(at.node()) && holds(wire, at.x(), at.y())) {
                degree += ends ? 1 : 2;
            }
        }
        return degree
                + (int) terminals.stream()
                        .filter(t -> t.x() == at.x() && t.y() == at.y())
                        .count();
    }

    static boolean holds(Wire wire, int x, int y) {
        return x >= Math.min(wire.x1(), wire.x2())
                && x <= Math.max(wire.x1(), wire.x2())
                && y >= Math.min(wire.y1(), wire.y2())
                && y <= Math.max(wire.y1(), wire.y2());
    }

    /** Where ground is marked: at the left end of its line; none if nothing lies to ground. */
    int[] ground() {
        int[] ends = reach.get(Circuit.GROUND);
        return ends == null ? new int[0] : new int[] {ends[0], y[y.length - 1]};
    }

    int columns() {
        return plan.columns();
    }

    int width() {
        int last = middle.length - 1;
        int right = symbols.stream()
                .mapToInt(placed ->
                        placed.x() + (placed.upright() && !placed.labelLeft() ? 34 + labelWidth(placed.symbol()) : 50))
                .max()
                .orElse(0);
        return Math.max(right, middle[last] + half[last]) + MARGIN;
    }

    int height() {
        return y[y.length - 1] + 40;
    }
}
