package org.voltsecond.stage;

import java.util.List;

/** The stages that are made of the usual parts alone, for tests that build them all alike. */
public final class PlainStages {
    /** Buck, boost and inverting buck-boost. */
    public static final List<Topology> ALL = List.of(Topology.BUCK, Topology.BOOST, Topology.INVERTING_BUCK_BOOST);

    private PlainStages() {}
}
