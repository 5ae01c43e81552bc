package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.sizing.Specification;

/**
 * What a rail is to do, from which a design is proposed.
 *
 * @param name what the user calls it; any text
 * @param wanted with the stage that gives the output
 * @param typicalInput the input of the proposed design, V
 * @param transistor the transistor
 * @param rectifier the rectifier
 * @param regulator what is to hold the output; null for a fixed duty cycle
 * @param carried tables that go into the proposed design as they are, as text; empty for none
 */
record RailPlan(
        String name,
        Specification wanted,
        double typicalInput,
        TransistorPart transistor,
        RectifierPart rectifier,
        @Nullable RailRegulator regulator,
        String carried) {}
