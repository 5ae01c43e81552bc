package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.plot.page.SchematicItem.Branch;
import org.voltsecond.plot.page.SchematicItem.Kind;

/**
 * Which column and which rows each part of a schematic takes, for one order of its nodes from left to right. Every node is a
 * horizontal line in a row, ground the lowest. A part lies in the row where one of its nodes ends or the other begins, and
 * stands upright in a column otherwise; no two parts share a place, so that none meets another and no line a symbol,
 * whatever the circuit.
 */
final class SchematicPlan {
    /** From the middle of a column to its border, where what lies in it ends, in columns. */
    static final double EDGE = 0.4;

    /** The line of an inverting input stands a little nearer than that of the other. */
    static final double INNER_EDGE = 0.3;

    private static final double COST_OF_CROSSING = 4;
    private static final double COST_OF_ROW = 3;
    private static final double COST_OF_RETURN = 30;
    private static final double COST_OF_BEND = 0.7;
    private static final double COST_OF_LENGTH = 0.15;

    /** Where a branch has come to: upright, or lying in a row, in the n-th layer above it. */
    record Spot(SchematicItem item, int branch, int column, boolean upright, int layer) {
        Branch what() {
            return item.branches().get(branch);
        }
    }

    private final List<String> order;
    private final Map<String, Integer> positions = new HashMap<>();
    private final List<SchematicItem> sequence;
    private final List<Spot> spots = new ArrayList<>();
    private final Map<String, double[]> spans = new HashMap<>();
    private final Map<String, Integer> rows = new HashMap<>();
    private final Map<String, String> begunBy = new HashMap<>();
    private int columns;
    private int lastRow;

    SchematicPlan(List<SchematicItem> items, List<String> order) {
        this.order = order;
        for (int i = 0; i < order.size(); i++) {
            positions.put(order.get(i), i);
        }
        sequence = sequence(items);
        place();
        assignRows();
        share();
    }

    /** Each item stands where the last of its nodes begins: what leads to the node first, then what hangs on it. */
    private List<SchematicItem> sequence(List<SchematicItem> items) {
        List<SchematicItem> sorted = new ArrayList<>(items);
        sorted.sort(Comparator.comparingInt(this::last)
                .thenComparing(item -> item.nodes().size() == 1)
                .thenComparing(item -> item.isPair())
                .thenComparing(item -> -first(item))
                .thenComparing(item -> item.branches().get(0).symbol().rank()));
        return sorted;
    }

    private int last(SchematicItem item) {
        return item.nodes().stream().mapToInt(this::position).max().orElse(0);
    }

    private int first(SchematicItem item) {
        return item.nodes().stream().mapToInt(this::position).min().orElse(0);
    }

    private int position(String node) {
        return positions.getOrDefault(node, 0);
    }

    private void place() {
        Map<String, SchematicItem> begins = new HashMap<>();
        Map<String, SchematicItem> ends = new HashMap<>();
        for (SchematicItem item : sequence) {
            for (String node : item.nodes()) {
                begins.putIfAbsent(node, item);
                ends.put(node, item);
            }
        }
        for (SchematicItem item : sequence) {
            if (item.kind() == Kind.AMPLIFIER) {
                placeAmplifier(item);
            } else if (item.isPair() && !item.isGrounded() && item.nodes().size() == 2) {
                placeBetween(item, begins, ends);
            } else {
                List<Integer> sorted = new ArrayList<>();
                for (int k = 0; k < item.branches().size(); k++) {
                    sorted.add(k);
                }
                if (item.isPair()) {
                    sorted.sort(Comparator.comparingInt(
                            k -> item.branches().get(k).symbol().rank()));
                } else {
                    sorted.sort(Comparator.comparingDouble(
                            k -> middle(item.branches().get(k))));
                }
                sorted.forEach(k -> placeUpright(item, k));
            }
        }
    }

    private double middle(Branch branch) {
        return List.of(branch.plus(), branch.minus()).stream()
                .filter(positions::containsKey)
                .mapToInt(this::position)
                .average()
                .orElse(0);
    }

    private void placeUpright(SchematicItem item, int branch) {
        spots.add(new Spot(item, branch, columns, true, 0));
        touch(item.branches().get(branch).plus(), columns);
        touch(item.branches().get(branch).minus(), columns);
        columns++;
    }

    private void placeAmplifier(SchematicItem item) {
        spots.add(new Spot(item, 0, columns, true, 0));
        touch(item.branches().get(0).plus(), columns - EDGE);
        touch(item.branches().get(0).minus(), columns - INNER_EDGE);
        touch(item.branches().get(1).plus(), columns + EDGE);
        columns++;
    }

    /** Lying where a line ends or begins with it; a transistor of a bridge stands, so that its leg is seen. */
    private void placeBetween(SchematicItem item, Map<String, SchematicItem> begins, Map<String, SchematicItem> ends) {
        String left = node(item, first(item));
        String right = node(item, last(item));
        boolean endsLeft = item.equals(ends.get(left));
        boolean beginsRight = item.equals(begins.get(right));
        boolean lies =
                (endsLeft && beginsRight) || ((endsLeft || beginsRight) && !isLeg(item, endsLeft ? left : right));
        if (!lies) {
            for (int k = 0; k < item.branches().size(); k++) {
                placeUpright(item, k);
            }
            return;
        }
        for (int k = 0; k < item.branches().size(); k++) {
            spots.add(new Spot(item, k, columns, false, k));
        }
        touch(left, columns - EDGE);
        touch(right, columns + EDGE);
        if (endsLeft && beginsRight) {
            begunBy.put(right, left);
        } else if (endsLeft) {
            touch(left, columns + EDGE + 0.05);
        } else {
            touch(right, columns - EDGE - 0.05);
        }
        columns++;
    }

    private boolean isLeg(SchematicItem item, String middle) {
        return item.branches().get(0).symbol().isSwitch()
                && sequence.stream()
                        .filter(other -> !other.equals(item)
                                && other.isPair()
                                && other.nodes().contains(middle))
                        .anyMatch(other -> other.branches().get(0).symbol().isSwitch()
                                || (other.branches().get(0).symbol().isRectifier() && other.isGrounded()));
    }

    private static String node(SchematicItem item, int position, Map<String, Integer> positions) {
        return item.nodes().stream()
                .filter(node -> positions.getOrDefault(node, 0) == position)
                .findFirst()
                .orElseThrow();
    }

    private String node(SchematicItem item, int position) {
        return node(item, position, positions);
    }

    private void touch(String node, double at) {
        spans.merge(node, new double[] {at, at}, (a, b) -> new double[] {Math.min(a[0], b[0]), Math.max(a[1], b[1])});
    }

    /** The row of the node that leads to it, or the next below that is free. */
    private void assignRows() {
        List<String> sorted = new ArrayList<>(order);
        sorted.sort(Comparator.comparingDouble((String node) -> span(node)[0]).thenComparingInt(this::position));
        for (String node : sorted) {
            String before = begunBy.get(node);
            int wanted = before != null && rows.containsKey(before) ? rows.get(before) : wanted(node);
            int row = wanted;
            for (int distance = 0; !isFree(node, row); distance++) {
                int above = wanted - distance;
                row = above >= 0 && isFree(node, above) ? above : wanted + distance;
            }
            rows.put(node, row);
            lastRow = Math.max(lastRow, row);
        }
    }

    /** Below a node that a part standing upright comes down from. */
    private int wanted(String node) {
        for (Spot spot : spots) {
            Branch branch = spot.what();
            String other = branch.plus().equals(node) ? branch.minus() : branch.plus();
            boolean both = branch.plus().equals(node) || branch.minus().equals(node);
            if (both && spot.upright() && spot.item().isPair() && rows.containsKey(other)) {
                return rows.get(other) + 1;
            }
        }
        return 0;
    }

    private boolean isFree(String node, int row) {
        double[] own = span(node);
        for (Map.Entry<String, Integer> other : rows.entrySet()) {
            double[] taken = span(other.getKey());
            if (other.getValue() == row && !other.getKey().equals(node) && own[0] <= taken[1] && taken[0] <= own[1]) {
                return false;
            }
        }
        return true;
    }

    /** A part stands above or below another in one column where their rows allow it. */
    private void share() {
        for (int column = columns - 1; column > 0; column--) {
            List<Spot> here = in(column);
            List<Spot> before = in(column - 1);
            if (canStand(here, before) && moved(column)) {
                columns--;
            }
        }
    }

    private boolean canStand(List<Spot> here, List<Spot> before) {
        for (Spot a : here) {
            for (Spot b : before) {
                boolean apart = top(a) >= bottom(b) || bottom(a) <= top(b);
                if (!a.upright()
                        || !b.upright()
                        || a.item().kind() == Kind.AMPLIFIER
                        || b.item().kind() == Kind.AMPLIFIER
                        || !apart) {
                    return false;
                }
            }
        }
        return true;
    }

    /** Takes all from a column on one to the left, unless two lines of one row would meet. */
    private boolean moved(int from) {
        Map<String, double[]> kept = new HashMap<>(spans);
        spans.replaceAll((node, span) -> new double[] {moved(span[0], from), moved(span[1], from)});
        if (order.stream().anyMatch(node -> !isFree(node, row(node)))) {
            spans.clear();
            spans.putAll(kept);
            return false;
        }
        spots.replaceAll(spot -> spot.column() < from
                ? spot
                : new Spot(spot.item(), spot.branch(), spot.column() - 1, spot.upright(), spot.layer()));
        return true;
    }

    private static double moved(double at, int from) {
        return at > from - 0.5 ? at - 1 : at;
    }

    List<Spot> in(int column) {
        return spots.stream().filter(spot -> spot.column() == column).toList();
    }

    List<Spot> spots() {
        return spots;
    }

    int columns() {
        return columns;
    }

    /** The row of ground, below all others. */
    int groundRow() {
        return lastRow + 1;
    }

    int row(String node) {
        return node.equals(Circuit.GROUND) ? groundRow() : rows.getOrDefault(node, 0);
    }

    double[] span(String node) {
        return spans.getOrDefault(node, new double[2]);
    }

    List<String> order() {
        return order;
    }

    /** The node at the left end of what lies in a row. */
    String left(Spot spot) {
        return node(spot.item(), first(spot.item()));
    }

    String right(Spot spot) {
        return node(spot.item(), last(spot.item()));
    }

    /** The row that a lying part lies in: that of the line which ends with it, or else begins. */
    int rowOf(Spot spot) {
        double edge = spot.column() + EDGE;
        boolean endsLeft = span(left(spot))[1] < edge + 0.1;
        return row(endsLeft ? left(spot) : right(spot));
    }

    int top(Spot spot) {
        return Math.min(row(spot.what().plus()), row(spot.what().minus()));
    }

    int bottom(Spot spot) {
        return Math.max(row(spot.what().plus()), row(spot.what().minus()));
    }

    /** The less, the easier to read. */
    double cost() {
        double cost = columns + COST_OF_ROW * lastRow;
        for (Spot spot : spots) {
            if (spot.upright()) {
                cost += COST_OF_CROSSING * crossings(spot.column(), top(spot), bottom(spot));
                cost += spot.what().isGrounded() ? 0 : COST_OF_BEND;
            } else {
                int row = rowOf(spot);
                cost += upright(spot.column() - EDGE, row, row(left(spot)));
                cost += upright(spot.column() + EDGE, row, row(right(spot)));
            }
        }
        for (String node : order) {
            cost += COST_OF_LENGTH * (span(node)[1] - span(node)[0]);
        }
        int output = Math.max(position("out"), position("output"));
        long behind = order.stream()
                .skip(output + 1L)
                .filter(node -> output > 0 && switches(node))
                .count();
        return cost + COST_OF_RETURN * behind;
    }

    /** Whether power passes there; what only senses may stand behind the output. */
    private boolean switches(String node) {
        return sequence.stream()
                .filter(item -> item.nodes().contains(node))
                .anyMatch(item -> item.branches().get(0).symbol().isSwitch()
                        || item.branches().get(0).symbol().isRectifier());
    }

    private double upright(double at, int row, int other) {
        return row == other
                ? 0
                : COST_OF_BEND + COST_OF_CROSSING * crossings(at, Math.min(row, other), Math.max(row, other));
    }

    private long crossings(double at, int top, int bottom) {
        return order.stream()
                .filter(node -> row(node) > top && row(node) < bottom && span(node)[0] < at && span(node)[1] > at)
                .count();
    }
}
