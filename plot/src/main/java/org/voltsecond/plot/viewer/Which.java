package org.voltsecond.plot.viewer;

/** One of the two cursors. */
enum Which {
    A,
    B;

    Which other() {
        return this == A ? B : A;
    }
}
