package org.voltsecond.circuit;

import java.util.Map;

/**
 * A branch with unknown current i: {@code row . v - resistance i + controlFactor i(controlPort) = drive}.
 */
record Branch(
        String part,
        double[] column,
        double[] row,
        double resistance,
        Drive drive,
        int controlPort,
        double controlFactor,
        Gate gate,
        int device) {
    /** What drives a branch: a constant, the voltage of a capacitance, or a source. */
    record Drive(double constant, int state, int source) {
        static final Drive NONE = new Drive(0, -1, -1);
    }

    /** When a branch exists: always, while a switch or rectifier conducts, or while a part is not on an open segment. */
    enum Gate {
        ALWAYS,
        SWITCH,
        RECTIFIER,
        SEGMENT
    }

    /** The current of a port: factors of states, of the currents of some branches, and of one source, all in the order of the {@link Elements}. Immutable. */
    record PortCurrent(double[] states, int[] branches, double[] factors, int source) {
        private static final int[] NO_BRANCHES = {};
        private static final double[] NO_FACTORS = {};

        static PortCurrent ofStates(double[] states) {
            return new PortCurrent(states, NO_BRANCHES, NO_FACTORS, -1);
        }

        static PortCurrent ofSource(double[] noStates, int source) {
            return new PortCurrent(noStates, NO_BRANCHES, NO_FACTORS, source);
        }

        static PortCurrent ofBranches(int states, Map<Integer, Double> factors) {
            int[] branches = factors.keySet().stream()
                    .mapToInt(Integer::intValue)
                    .sorted()
                    .toArray();
            double[] values = new double[branches.length];
            for (int i = 0; i < values.length; i++) {
                values[i] = factors.getOrDefault(branches[i], 0.0);
            }
            return new PortCurrent(new double[states], branches, values, -1);
        }
    }

    /** On a line; of one that is controlled by the current of its own port, that is the current that meets the resistance. */
    Branch withLine(double ohm, double volt) {
        boolean own = controlPort >= 0;
        return new Branch(
                part, column, row, own ? 0 : ohm, new Drive(volt, -1, -1), controlPort, own ? -ohm : 0, gate, device);
    }
}
