package org.voltsecond.converter;

/** A stage whose equations {@link StageKernel} has: very many designs of it are solved without compiling a circuit. */
interface KernelStage extends Topology {
    /** Which equations. */
    enum Kind {
        BUCK,
        BOOST,
        INVERTING
    }

    Kind kernel();
}
