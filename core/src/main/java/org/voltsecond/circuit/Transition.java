package org.voltsecond.circuit;

import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineMap;

/**
 * The step into a regime.
 *
 * @param regime the regime that holds from now on
 * @param jump how the state jumps into it; null if it cannot
 */
public record Transition(Regime regime, @Nullable AffineMap jump) {}
