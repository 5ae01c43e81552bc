package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;

/**
 * A circuit broken down for its equations: coils whose currents are states, branches whose currents are unknown, and
 * current sources. A column says how a current leaves the nodes, a row which voltage it meets. Immutable.
 */
final class Elements {
    /** A coil whose current is a state. */
    record Coil(int state, double[] column, double resistance) {}

    /** A source of current. */
    record Injection(String part, double[] column, int source) {}

    /**
     * A stored charge whose state is the current in balance with it: what flows in is the current of a branch, what goes out is the
     * state and, by way of the part, its share of it.
     */
    record Charge(int state, int branch, double[] column, double share) {}

    private final Terminals terminals;
    /** Those of the circuit, then those inside parts. */
    private final List<String> nodeNames;

    private final List<String> stateNames = new ArrayList<>();
    private final List<Double> storage = new ArrayList<>();
    private final List<Double> initial = new ArrayList<>();
    private final List<Coil> coils = new ArrayList<>();
    private final List<Branch> branches = new ArrayList<>();
    private final List<Injection> injections = new ArrayList<>();
    private final List<Charge> charges = new ArrayList<>();
    private final List<Profile> sources = new ArrayList<>();
    private final List<String> sourceNames = new ArrayList<>();
    private final List<Boolean> sourceIsVoltage = new ArrayList<>();
    private final List<Part.Switch> switches = new ArrayList<>();
    private final List<Part.Rectifier> rectifiers = new ArrayList<>();
    private final List<Bends.Segmented> segmented = new ArrayList<>();
    private final Bends bends;
    private final List<Branch.PortCurrent> portCurrents = new ArrayList<>();
    private static final double[] ONE = {1};
    private final int stateCount;
    private final double[] noStates;
    /** See {@link #ownBranch}. */
    private final int[] ownBranch;

    private int nextState;
    private boolean controlled;

    Elements(List<Part> parts, Terminals terminals) {
        this.terminals = terminals;
        nodeNames = new ArrayList<>(terminals.nodes());
        int states = 0;
        for (Part part : parts) {
            addInnerNodes(part);
            states += WindingFactors.statesOf(part);
        }
        stateCount = states;
        noStates = new double[states];
        parts.forEach(this::add);
        ownBranch = new int[portCurrents.size()];
        for (int port = 0; port < ownBranch.length; port++) {
            ownBranch[port] = findOwnBranch(port);
        }
        bends = Bends.of(segmented, rectifiers.size());
    }

    private static String innerNode(Part part, Part.Winding winding) {
        return part.name() + "." + winding.name() + " (inside)";
    }

    private void addInnerNodes(Part part) {
        for (Part.Winding winding : WindingFactors.windings(part)) {
            if (winding.seriesResistance() > 0) {
                nodeNames.add(innerNode(part, winding));
            }
        }
    }

    private void add(Part part) {
        if (part instanceof Part.Resistor r) {
            addBranch(r, r.resistance(), Branch.Drive.NONE, Branch.Gate.ALWAYS, -1);
        } else if (part instanceof Part.Inductor l) {
            addInductor(l);
        } else if (part instanceof Part.CoupledInductors coupled) {
            addCoupled(coupled);
        } else if (part instanceof Part.IdealTransformer transformer) {
            addTransformer(transformer);
        } else if (part instanceof Part.Capacitor c) {
            int state = addState(c.name(), c.capacitance(), c.initialVoltage(), c.bias());
            addBranch(c, c.seriesResistance(), new Branch.Drive(0, state, -1), Branch.Gate.ALWAYS, -1);
        } else if (part instanceof Part.VoltageSource v) {
            addBranch(v, 0, new Branch.Drive(0, -1, addSource(v.name(), v.voltage(), true)), Branch.Gate.ALWAYS, -1);
        } else if (part instanceof Part.CurrentSource i) {
            addInjection(i);
        } else if (part instanceof Part.Switch q) {
            addBranch(
                    q,
                    q.onResistance(),
                    new Branch.Drive(q.forwardDrop(), -1, -1),
                    Branch.Gate.SWITCH,
                    switches.size());
            switches.add(q);
        } else if (part instanceof Part.Rectifier d) {
            addRectifier(d);
        } else if (part instanceof NonlinearResistor n) {
            addBranch(n, 0, Branch.Drive.NONE, Branch.Gate.SEGMENT, segmented.size());
            segmented.add(new Bends.Resisting(n.name(), n.curve()));
        } else {
            addControlled(part);
        }
    }

    private int addState(String name, double store, double start, List<Bend> bends) {
        if (!bends.isEmpty()) {
            segmented.add(new Bends.Storing(name, nextState, store, bends));
        }
        stateNames.add(name);
        storage.add(store);
        initial.add(start);
        return nextState++;
    }

    private int addSource(String name, Profile profile, boolean voltage) {
        sources.add(profile);
        sourceNames.add(name);
        sourceIsVoltage.add(voltage);
        return sources.size() - 1;
    }

    private void addBranch(Part part, double resistance, Branch.Drive drive, Branch.Gate gate, int device) {
        double[] column = column(part.ports().get(0));
        portCurrents.add(branchCurrent(branches.size()));
        branches.add(new Branch(part.name(), column, column, resistance, drive, -1, 0, gate, device));
    }

    /** One that recovers carries the current of its branch, and backwards the share of its stored charge. */
    private void addRectifier(Part.Rectifier d) {
        Junction junction = d.junction();
        double resistance = d.resistance() + junction.slope(0, d.forwardDrop());
        Branch.Drive drop = new Branch.Drive(d.forwardDrop(), -1, -1);
        if (junction.segments() > 1) {
            segmented.add(new Bends.Conducting(d));
        }
        Junction.Recovery recovery = junction.recovery();
        if (recovery == null) {
            addBranch(d, resistance, drop, Branch.Gate.RECTIFIER, rectifiers.size());
        } else {
            int state = addState(d.name(), recovery.lifetime(), 0, List.of());
            double[] backwards = new double[stateCount];
            backwards[state] = -recovery.share();
            double[] column = column(d.ports().get(0));
            int own = portCurrents.size();
            charges.add(new Charge(state, branches.size(), column, recovery.share()));
            portCurrents.add(new Branch.PortCurrent(backwards, new int[] {branches.size()}, ONE, -1));
            branches.add(new Branch(
                    d.name(), column, column, 0, drop, own, -resistance, Branch.Gate.RECTIFIER, rectifiers.size()));
        }
        rectifiers.add(d);
    }

    private Branch.PortCurrent branchCurrent(int branch) {
        return new Branch.PortCurrent(noStates, new int[] {branch}, ONE, -1);
    }

    private void addInductor(Part.Inductor part) {
        int state = addState(part.name(), part.inductance(), part.initialCurrent(), part.saturation());
        coils.add(new Coil(state, column(part.ports().get(0)), part.seriesResistance()));
        double[] factors = new double[stateCount];
        factors[state] = 1;
        portCurrents.add(Branch.PortCurrent.ofStates(factors));
    }

    private void addInjection(Part.CurrentSource part) {
        int source = addSource(part.name(), part.current(), false);
        injections.add(new Injection(part.name(), column(part.ports().get(0)), source));
        portCurrents.add(Branch.PortCurrent.ofSource(noStates, source));
    }

    private void addControlled(Part part) {
        controlled = true;
        double[] column = column(part.ports().get(0));
        double[] row = column.clone();
        double resistance = 0;
        int control = -1;
        double factor = 0;
        if (part instanceof ControlledSource.VoltageByVoltage source) {
            addScaled(row, -source.factor(), column(source.controlPlus(), source.controlMinus()));
        } else if (part instanceof ControlledSource.VoltageByCurrent source) {
            control = portIndex(source.controlPort());
            factor = -source.factor();
        } else if (part instanceof ControlledSource.CurrentByVoltage source) {
            row = new double[nodeNames.size()];
            addScaled(row, source.factor(), column(source.controlPlus(), source.controlMinus()));
            resistance = 1;
        } else if (part instanceof ControlledSource.CurrentByCurrent source) {
            row = new double[nodeNames.size()];
            control = portIndex(source.controlPort());
            factor = source.factor();
            resistance = 1;
        }
        portCurrents.add(branchCurrent(branches.size()));
        branches.add(new Branch(
                part.name(), column, row, resistance, Branch.Drive.NONE, control, factor, Branch.Gate.ALWAYS, -1));
    }

    private void addCoupled(Part.CoupledInductors part) {
        WindingFactors factors = WindingFactors.of(part);
        double[][] currents = factors.currents();
        int n = part.windings().size();
        double[][] columns = windingColumns(part, part.windings());
        double[][] stateFactors = new double[n][stateCount];
        List<Map<Integer, Double>> branchFactors = new ArrayList<>();
        for (int k = 0; k < n; k++) {
            branchFactors.add(new HashMap<>());
        }
        for (int k = 0; k < n; k++) {
            double[] column = new double[nodeNames.size()];
            for (int p = 0; p < n; p++) {
                addScaled(column, currents[p][k], columns[p]);
            }
            int index = factors.independent[k]
                    ? addState(
                            part.ports().get(k).name(),
                            factors.d[k],
                            WindingFactors.initialCombination(part, factors.u[k]),
                            List.of())
                    : branches.size();
            for (int p = 0; p < n; p++) {
                if (factors.independent[k]) {
                    stateFactors[p][index] = currents[p][k];
                } else if (currents[p][k] != 0) {
                    branchFactors.get(p).put(index, currents[p][k]);
                }
            }
            if (factors.independent[k]) {
                coils.add(new Coil(index, column, 0));
            } else {
                branches.add(windingBranch(part, column));
            }
        }
        for (int k = 0; k < n; k++) {
            Branch.PortCurrent ofBranches = Branch.PortCurrent.ofBranches(stateCount, branchFactors.get(k));
            portCurrents.add(new Branch.PortCurrent(stateFactors[k], ofBranches.branches(), ofBranches.factors(), -1));
        }
        addWindingResistances(part);
    }

    private void addTransformer(Part.IdealTransformer part) {
        double[][] columns = windingColumns(part, part.windings());
        Map<Integer, Double> first = new HashMap<>();
        List<Branch.PortCurrent> others = new ArrayList<>();
        for (int k = 1; k < columns.length; k++) {
            double ratio = part.turns().get(k) / part.turns().get(0);
            double[] column = columns[k].clone();
            addScaled(column, -ratio, columns[0]);
            first.put(branches.size(), -ratio);
            others.add(branchCurrent(branches.size()));
            branches.add(windingBranch(part, column));
        }
        portCurrents.add(Branch.PortCurrent.ofBranches(stateCount, first));
        portCurrents.addAll(others);
        addWindingResistances(part);
    }

    private static Branch windingBranch(Part part, double[] column) {
        return new Branch(part.name(), column, column, 0, Branch.Drive.NONE, -1, 0, Branch.Gate.ALWAYS, -1);
    }

    private double[][] windingColumns(Part part, List<Part.Winding> windings) {
        return windings.stream()
                .map(winding -> winding.seriesResistance() > 0
                        ? column(innerNode(part, winding), winding.minus())
                        : column(winding.plus(), winding.minus()))
                .toArray(double[][]::new);
    }

    private void addWindingResistances(Part part) {
        for (Part.Winding winding : WindingFactors.windings(part)) {
            if (winding.seriesResistance() > 0) {
                double[] column = column(winding.plus(), innerNode(part, winding));
                double resistance = winding.seriesResistance();
                branches.add(new Branch(
                        part.name(), column, column, resistance, Branch.Drive.NONE, -1, 0, Branch.Gate.ALWAYS, -1));
            }
        }
    }

    private double[] column(Port port) {
        return column(port.plus(), port.minus());
    }

    private double[] column(String plus, String minus) {
        double[] column = new double[nodeNames.size()];
        addAt(column, plus, 1);
        addAt(column, minus, -1);
        return column;
    }

    private void addAt(double[] column, String node, double value) {
        @Nullable Integer outer = terminals.nodeIndex().get(node);
        int index = outer == null ? nodeNames.indexOf(node) : outer;
        if (index >= 0) {
            column[index] += value;
        }
    }

    private static void addScaled(double[] sum, double factor, double[] other) {
        for (int i = 0; i < sum.length; i++) {
            sum[i] += factor * other[i];
        }
    }

    List<String> channelNames() {
        return terminals.channelNames();
    }

    /** Nodes of the circuit, then nodes inside parts. */
    List<String> nodeNames() {
        return nodeNames;
    }

    int stateCount() {
        return stateCount;
    }

    List<String> stateNames() {
        return List.copyOf(stateNames);
    }

    /** Inductance or capacitance of each state. */
    double[] storage() {
        return array(storage);
    }

    double[] initialState() {
        return array(initial);
    }

    private static double[] array(List<Double> list) {
        double[] array = new double[list.size()];
        for (int i = 0; i < array.length; i++) {
            array[i] = list.get(i);
        }
        return array;
    }

    List<Coil> coils() {
        return coils;
    }

    List<Branch> branches() {
        return branches;
    }

    /** Stored charges, which are no energy. */
    List<Charge> charges() {
        return charges;
    }

    List<Injection> injections() {
        return injections;
    }

    List<Profile> sources() {
        return sources;
    }

    List<String> sourceNames() {
        return sourceNames;
    }

    boolean isVoltage(int source) {
        return sourceIsVoltage.get(source);
    }

    List<Part.Switch> switches() {
        return switches;
    }

    List<Part.Rectifier> rectifiers() {
        return rectifiers;
    }

    Bends bends() {
        return bends;
    }

    List<Branch.PortCurrent> portCurrents() {
        return portCurrents;
    }

    int portIndex(String name) {
        @Nullable Integer index = terminals.portIndex().get(name);
        if (index == null) {
            throw new IllegalArgumentException("there is no part " + name + "; choose from "
                    + terminals.portIndex().keySet().stream().sorted().toList());
        }
        return index;
    }

    private int findOwnBranch(int port) {
        Branch.PortCurrent current = portCurrents.get(port);
        if (current.branches().length != 1) {
            return -1;
        }
        int own = current.branches()[0];
        Branch branch = branches.get(own);
        boolean alone = (branch.controlPort() < 0 || branch.controlPort() == port) && branch.row() == branch.column();
        return alone && Arrays.equals(branch.column(), portRow(port)) ? own : -1;
    }

    /** The branch that a port is, if it is one branch with a law of its own; else -1. */
    int ownBranch(int port) {
        return ownBranch[port];
    }

    /** Number of nodes that the user named. */
    int outerNodes() {
        return terminals.nodes().size();
    }

    /** The voltage of a port as a row over the nodes. */
    double[] portRow(int port) {
        return column(terminals.ports().get(port));
    }

    /** Whether there is a controlled source, so that the equations are not symmetric. */
    boolean controlled() {
        return controlled;
    }

    @Override
    public String toString() {
        return "elements of " + terminals.ports() + " with states " + Arrays.toString(array(storage));
    }
}
