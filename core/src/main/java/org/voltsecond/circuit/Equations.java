package org.voltsecond.circuit;

import java.util.List;
import org.voltsecond.numeric.RoundOff;

/**
 * The equations of a circuit in one position of its switches and rectifiers, {@code K y = F x + s}: y holds the node
 * voltages and the currents of those branches that exist, x the states. Branch currents stay unknowns, so that the
 * entries of K are +-1, ratios and resistances and its rank shows in its structure.
 */
final class Equations {
    private final Elements elements;
    private final Supply supply;
    private final int[] position;
    final int nodes;
    final int size;
    /** Number of states that store energy, and of all states. */
    final int stored;

    final int states;
    final double[][] k;
    /** F and s: rows of factors of all states, then the constant. */
    final double[][] right;
    /** Voltage of each coil or current of each capacitance, as rows over y: the matrix S F'. */
    final double[][] output;
    /** Series resistance of each coil, and what goes out of each stored charge. */
    final double[] damping;
    /** Inductance or capacitance of each state. */
    final double[] storage;

    private final Bends bends;
    private final List<Branch> branches;

    Equations(Elements elements, Supply supply, long closed, long conducting) {
        this.elements = elements;
        this.supply = supply;
        nodes = elements.nodeNames().size();
        stored = elements.stateCount();
        states = supply.stateCount();
        bends = elements.bends();
        branches = bends.count() == 0
                ? elements.branches()
                : elements.branches().stream()
                        .map(branch -> onSegment(branch, conducting))
                        .toList();
        storage = bends.storage(elements.storage(), conducting);
        position = new int[branches.size()];
        int next = nodes;
        for (int b = 0; b < position.length; b++) {
            position[b] = exists(branches.get(b), closed, conducting) ? next++ : -1;
        }
        size = next;
        k = new double[size][size];
        right = new double[size][states + 1];
        output = new double[stored][size];
        damping = new double[stored];
        fill();
    }

    private boolean exists(Branch branch, long closed, long conducting) {
        return switch (branch.gate()) {
            case ALWAYS -> true;
            case SWITCH -> (closed >>> branch.device() & 1) != 0;
            case RECTIFIER -> (conducting >>> branch.device() & 1) != 0;
            case SEGMENT -> !bends.isOpen(branch.device(), conducting);
        };
    }

    /** That of a nonlinear resistor or a rectifier has the line of its segment. */
    private Branch onSegment(Branch branch, long conducting) {
        int forward = branch.gate() == Branch.Gate.RECTIFIER ? bends.indexOf(branch.part()) : -1;
        if (forward >= 0 && bends.part(forward) instanceof Bends.Conducting part) {
            Part.Rectifier d = part.rectifier();
            int segment = bends.segment(forward, conducting);
            return branch.withLine(
                    d.resistance() + d.junction().slope(segment, d.forwardDrop()),
                    d.junction().voltageAtNoCurrent(segment, d.forwardDrop()));
        }
        boolean bent = branch.gate() == Branch.Gate.SEGMENT && !bends.isOpen(branch.device(), conducting);
        if (!bent || !(bends.part(branch.device()) instanceof Bends.Resisting part)) {
            return branch;
        }
        int segment = bends.segment(branch.device(), conducting);
        return branch.withLine(part.curve().resistance(segment), part.curve().voltageAtNoCurrent(segment));
    }

    private void fill() {
        for (int b = 0; b < position.length; b++) {
            if (position[b] >= 0) {
                fillBranch(branches.get(b), position[b]);
            }
        }
        for (Elements.Coil coil : elements.coils()) {
            for (int node = 0; node < nodes; node++) {
                right[node][coil.state()] -= coil.column()[node];
                output[coil.state()][node] = coil.column()[node];
            }
            damping[coil.state()] = coil.resistance();
        }
        for (Elements.Charge charge : elements.charges()) {
            for (int node = 0; node < nodes; node++) {
                right[node][charge.state()] += charge.share() * charge.column()[node];
            }
            if (position[charge.branch()] >= 0) {
                output[charge.state()][position[charge.branch()]] = 1;
            }
            damping[charge.state()] = 1 + charge.share();
        }
        for (Elements.Injection injection : elements.injections()) {
            for (int node = 0; node < nodes; node++) {
                if (injection.column()[node] != 0) {
                    supply.addTo(right[node], -injection.column()[node], injection.source());
                }
            }
        }
    }

    private void fillBranch(Branch branch, int at) {
        for (int node = 0; node < nodes; node++) {
            k[node][at] = branch.column()[node];
            k[at][node] = branch.row()[node];
        }
        k[at][at] -= branch.resistance();
        if (branch.controlPort() >= 0) {
            double factor = branch.controlFactor();
            addCurrent(branch.controlPort(), factor, k[at], -factor, right[at]);
        }
        Branch.Drive drive = branch.drive();
        right[at][states] += drive.constant();
        if (drive.state() >= 0) {
            right[at][drive.state()] += 1;
            output[drive.state()][at] = 1;
        }
        if (drive.source() >= 0) {
            supply.addTo(right[at], 1, drive.source());
        }
    }

    /** Adds multiples of the current of a port to a row over y and to a row over the states and the constant. */
    void addCurrent(int port, double factor, double[] overUnknowns, double stateFactor, double[] overStates) {
        Branch.PortCurrent current = elements.portCurrents().get(port);
        double[] ofStates = current.states();
        for (int j = 0; j < stored; j++) {
            overStates[j] += stateFactor * ofStates[j];
        }
        if (current.source() >= 0) {
            supply.addTo(overStates, stateFactor, current.source());
        }
        int[] branches = current.branches();
        for (int i = 0; i < branches.length; i++) {
            int at = position[branches[i]];
            if (at >= 0) {
                overUnknowns[at] += factor * current.factors()[i];
            }
        }
    }

    Elements elements() {
        return elements;
    }

    Supply supply() {
        return supply;
    }

    /** A branch as it is in this position. */
    Branch branch(int index) {
        return branches.get(index);
    }

    /** Where the current of a branch stands in y; -1 if the branch does not exist in this position. */
    int position(int branch) {
        return position[branch];
    }

    /** Sets to zero what is round-off in the solution: in each column beside the largest voltage, or current. */
    void snap(double[][] y) {
        int columns = states + 1;
        boolean[] isCurrent = new boolean[columns];
        for (Elements.Coil coil : elements.coils()) {
            isCurrent[coil.state()] = true;
        }
        for (int c = 0; c < columns; c++) {
            boolean isStored = c < stored;
            double voltage = isStored && !isCurrent[c] ? 1 : largestRight(c, nodes, size);
            double current = isStored && isCurrent[c] ? 1 : largestRight(c, 0, nodes);
            snap(y, c, 0, nodes, voltage);
            snap(y, c, nodes, size, current);
        }
    }

    private double largestRight(int column, int from, int to) {
        double largest = 0;
        for (int m = from; m < to; m++) {
            largest = Math.max(largest, Math.abs(right[m][column]));
        }
        return largest;
    }

    /** Sets to zero what is round-off beside the largest factor of the same state and kind. */
    private static void snap(double[][] y, int column, int from, int to, double atLeast) {
        double largest = atLeast;
        for (int m = from; m < to; m++) {
            largest = Math.max(largest, Math.abs(y[m][column]));
        }
        for (int m = from; m < to; m++) {
            y[m][column] = Math.abs(y[m][column]) <= RoundOff.OF_A_FORM * largest ? 0 : y[m][column];
        }
    }
}
