package org.voltsecond.circuit;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.voltsecond.numeric.Dense;

/** Says in words what a null vector stands for. */
final class NullVectorNames {
    private final Set<String> nodes = new LinkedHashSet<>();
    private final Set<String> loop = new LinkedHashSet<>();
    private final Set<String> currents = new LinkedHashSet<>();

    NullVectorNames(Equations equations, double[] vector) {
        Elements elements = equations.elements();
        for (int node = 0; node < equations.nodes; node++) {
            if (vector[node] != 0) {
                nodes.add(elements.nodeNames().get(node));
            }
        }
        List<Branch> branches = elements.branches();
        for (int b = 0; b < branches.size(); b++) {
            if (equations.position(b) >= 0 && vector[equations.position(b)] != 0) {
                loop.add(branches.get(b).part());
            }
        }
        for (Elements.Injection injection : elements.injections()) {
            double[] padded = java.util.Arrays.copyOf(injection.column(), vector.length);
            if (Dense.dot(padded, vector) != 0) {
                currents.add(injection.part());
            }
        }
    }

    String conflict(double sum) {
        if (!loop.isEmpty()) {
            return "the loop of " + join(loop) + " has no resistance and its voltages miss zero by " + Math.abs(sum)
                    + " V; put a resistance into it, or do not close it";
        }
        return "the current of " + join(currents) + ", " + Math.abs(sum) + " A in sum, has no path at " + nodeList()
                + "; give it one";
    }

    String undetermined() {
        if (!loop.isEmpty()) {
            return "the current around the loop of " + join(loop)
                    + " is undetermined: a source in it and no resistance; put a resistance into it";
        }
        return "the voltage of " + nodeList() + " is undetermined; connect it to the rest of the circuit";
    }

    String all() {
        Set<String> names = new LinkedHashSet<>(nodes);
        names.addAll(loop);
        return join(names);
    }

    private String nodeList() {
        return (nodes.size() == 1 ? "node " : "nodes ") + join(nodes);
    }

    private static String join(Set<String> names) {
        return String.join(", ", names);
    }
}
