package org.voltsecond.circuit;

import java.util.AbstractList;
import java.util.ArrayList;
import java.util.List;
import java.util.RandomAccess;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.numeric.Dense;

/** Reads nodes, parts, guards and constraints off the solution of one position of switches and rectifiers. */
final class RegimeReader {
    private final Elements elements;
    private final Equations equations;
    /** Node voltages and branch currents. */
    private final double[][] y;
    /** What the state becomes on entering; null where it is known to stay. */
    private final @Nullable Solution entering;

    private final int columns;

    RegimeReader(Equations equations, double[][] y, @Nullable Solution entering) {
        elements = equations.elements();
        this.equations = equations;
        this.y = y;
        this.entering = entering;
        columns = equations.states + 1;
    }

    static Regime read(Elements elements, Supply supply, long closed, long conducting) throws RefusedException {
        Equations equations = new Equations(elements, supply, closed, conducting);
        Solution solution = Solution.of(equations);
        return new RegimeReader(equations, solution.y, solution).regime(solution, closed, conducting);
    }

    private Regime regime(Solution solution, long closed, long conducting) {
        boolean constrained = solution.constraints.length > 0;
        return new Regime(
                name(closed, conducting),
                closed,
                conducting,
                forms(solution.rates),
                new Channels(channelCount()),
                conditions(conducting),
                forms(solution.constraints),
                constrained ? map(solution.entry) : null,
                constrained ? impulses(solution, conducting) : List.of());
    }

    /** Each is worked out when it is first read, since few are. Two threads may work out the same one, and get the same. */
    private final class Channels extends AbstractList<AffineForm> implements RandomAccess {
        private final @Nullable AffineForm[] known;

        Channels(int count) {
            known = new AffineForm[count];
        }

        @Override
        public AffineForm get(int index) {
            AffineForm form = known[index];
            if (form == null) {
                form = channel(index);
                known[index] = form;
            }
            return form;
        }

        @Override
        public int size() {
            return known.length;
        }
    }

    int channelCount() {
        return elements.outerNodes() + 2 * elements.portCurrents().size();
    }

    /** Voltages of the nodes, then voltage and current of each port. */
    AffineForm channel(int index) {
        int ofPorts = index - elements.outerNodes();
        return AffineForm.ofRow(
                ofPorts < 0 ? y[index] : ofPorts % 2 == 0 ? voltage(ofPorts / 2) : current(ofPorts / 2));
    }

    private double[] onEntry(double[] row) {
        return entering == null ? row.clone() : entering.onEntry(row);
    }

    List<AffineForm> conditions(long conducting) {
        List<AffineForm> result = new ArrayList<>();
        for (int d = 0; d < elements.rectifiers().size(); d++) {
            int port = elements.portIndex(elements.rectifiers().get(d).name());
            Part.Rectifier rectifier = elements.rectifiers().get(d);
            boolean recovers = rectifier.junction().recovery() != null;
            if ((conducting >>> d & 1) != 0) {
                // of one that recovers what comes into the junction, which goes on while the current flows backwards
                result.add(AffineForm.ofRow(recovers ? ofBranch(port) : current(port)));
            } else {
                AffineForm drop = AffineForm.constant(equations.states, rectifier.forwardDrop());
                AffineForm lacking = drop.plus(-1, AffineForm.ofRow(voltage(port)));
                double ohm = rectifier.resistance() + rectifier.junction().slope(0, rectifier.forwardDrop());
                result.add(recovers ? lacking.plus(ohm, AffineForm.ofRow(current(port))) : lacking);
            }
        }
        for (int k = 0; k < elements.bends().count(); k++) {
            addEnds(k, conducting, result);
        }
        return List.copyOf(result);
    }

    /** What must not be negative while a part stays on its segment: at its upper end, then at its lower end. */
    private void addEnds(int bend, long conducting, List<AffineForm> result) {
        Bends.Segmented part = elements.bends().part(bend);
        int segment = elements.bends().segment(bend, conducting);
        AffineForm always = AffineForm.constant(equations.states, 1);
        if (part instanceof Bends.Resisting resistor && isUpright(resistor.curve(), segment)) {
            // its voltage tells nothing; an upright segment ends where those beside it do not conduct
            AffineForm current = AffineForm.ofRow(current(elements.portIndex(part.part())));
            boolean below = segment > 0 && resistor.curve().isOpen(segment - 1);
            boolean above = segment < part.count() - 1 && resistor.curve().isOpen(segment + 1);
            result.add(above ? current.times(-1) : always);
            result.add(below ? current : always);
            return;
        }
        AffineForm measure = AffineForm.ofRow(measure(part));
        result.add(
                segment < part.count() - 1
                        ? AffineForm.constant(equations.states, part.knee(segment))
                                .plus(-1, measure)
                        : always);
        result.add(
                segment > 0 ? measure.plus(-1, AffineForm.constant(equations.states, part.knee(segment - 1))) : always);
    }

    private static boolean isUpright(CurrentCurve curve, int segment) {
        return !curve.isOpen(segment) && curve.resistance(segment) == 0;
    }

    private double[] ofBranch(int port) {
        return y[equations.position(elements.portCurrents().get(port).branches()[0])].clone();
    }

    private double[] measure(Bends.Segmented part) {
        if (part instanceof Bends.Storing storing) {
            double[] overStates = new double[columns];
            overStates[storing.state()] = 1;
            return onEntry(overStates);
        }
        int port = elements.portIndex(part.part());
        return part instanceof Bends.Conducting ? current(port) : voltage(port);
    }

    private double[] current(int port) {
        double[] overUnknowns = new double[equations.size];
        double[] overStates = new double[columns];
        equations.addCurrent(port, 1, overUnknowns, 1, overStates);
        double[] row = onEntry(overStates);
        double[] sizes = absolute(row);
        Dense.addMultiple(row, sizes, overUnknowns, y);
        return Dense.snap(row, sizes);
    }

    private List<AffineForm> impulses(Solution solution, long conducting) {
        List<AffineForm> result = new ArrayList<>();
        for (int d = 0; d < elements.rectifiers().size(); d++) {
            int port = elements.portIndex(elements.rectifiers().get(d).name());
            double[] overUnknowns = new double[equations.size];
            if ((conducting >>> d & 1) != 0) {
                equations.addCurrent(port, 1, overUnknowns, 0, new double[columns]);
            } else {
                double[] across = elements.portRow(port);
                for (int node = 0; node < across.length; node++) {
                    overUnknowns[node] = -across[node];
                }
            }
            double[] row = new double[columns];
            Dense.addMultiple(row, overUnknowns, solution.impulse);
            result.add(AffineForm.ofRow(row));
        }
        return List.copyOf(result);
    }

    /** The voltage of a port: by the law of its branch where it has one of its own, which loses no digits. */
    private double[] voltage(int port) {
        int branch = elements.ownBranch(port);
        int at = branch < 0 ? -1 : equations.position(branch);
        if (at >= 0) {
            return branchVoltage(equations.branch(branch), at);
        }
        double[] row = new double[columns];
        double[] sizes = new double[columns];
        double[] overUnknowns = java.util.Arrays.copyOf(elements.portRow(port), equations.size);
        Dense.addMultiple(row, sizes, overUnknowns, y);
        return Dense.snap(row, sizes);
    }

    private double[] branchVoltage(Branch branch, int at) {
        double[] overStates = new double[columns];
        overStates[columns - 1] = branch.drive().constant();
        if (branch.drive().state() >= 0) {
            overStates[branch.drive().state()] = 1;
        }
        if (branch.drive().source() >= 0) {
            equations.supply().addTo(overStates, 1, branch.drive().source());
        }
        double[] overUnknowns = new double[equations.size];
        overUnknowns[at] = branch.resistance();
        if (branch.controlPort() >= 0) {
            equations.addCurrent(
                    branch.controlPort(), -branch.controlFactor(), overUnknowns, -branch.controlFactor(), overStates);
        }
        double[] row = onEntry(overStates);
        double[] sizes = absolute(row);
        Dense.addMultiple(row, sizes, overUnknowns, y);
        return Dense.snap(row, sizes);
    }

    private static double[] absolute(double[] row) {
        double[] sizes = new double[row.length];
        for (int c = 0; c < row.length; c++) {
            sizes[c] = Math.abs(row[c]);
        }
        return sizes;
    }

    static List<AffineForm> forms(double[][] rows) {
        List<AffineForm> result = new ArrayList<>();
        for (double[] row : rows) {
            result.add(AffineForm.ofRow(row));
        }
        return List.copyOf(result);
    }

    private static AffineMap map(double[][] rows) {
        int n = rows.length;
        double[][] matrix = new double[n][];
        double[] offset = new double[n];
        for (int i = 0; i < n; i++) {
            matrix[i] = java.util.Arrays.copyOf(rows[i], n);
            offset[i] = rows[i][n];
        }
        return AffineMap.of(matrix, offset);
    }

    private String name(long closed, long conducting) {
        StringBuilder words = new StringBuilder();
        for (int q = 0; q < elements.switches().size(); q++) {
            words.append(words.isEmpty() ? "" : ", ")
                    .append(elements.switches().get(q).name())
                    .append((closed >>> q & 1) != 0 ? " closed" : " open");
        }
        for (int d = 0; d < elements.rectifiers().size(); d++) {
            words.append(words.isEmpty() ? "" : ", ")
                    .append(elements.rectifiers().get(d).name())
                    .append((conducting >>> d & 1) != 0 ? " conducting" : " blocking");
        }
        for (String word : elements.bends().words(conducting)) {
            words.append(words.isEmpty() ? "" : ", ").append(word);
        }
        return words.isEmpty() ? "no switches" : words.toString();
    }
}
