package org.voltsecond.study;

/** Finds steady states at places of a map. One instance serves one thread. */
interface MapSolver {
    /** Forgets what was found before, so that what follows depends on nothing but the places asked for from here on. */
    void begin();

    /** What is found at a place. */
    OperatingPoint at(double across, double up);

    /**
     * The place on an edge of the grid at which conduction is at its boundary.
     *
     * @param edge from one node to another
     * @param margin how far conduction is from its boundary at a node
     * @return the value of the quantity that changes along the edge
     */
    double boundary(Edge edge, NodeMargin margin);

    /** A part of a line of the grid; the quantity that does not change along it has the other value. */
    record Edge(boolean upright, double other, double from, double to) {
        double across(double along) {
            return upright ? other : along;
        }

        double up(double along) {
            return upright ? along : other;
        }
    }

    /** The margins at the ends of an edge. */
    record NodeMargin(double atFrom, double atTo) {}
}
