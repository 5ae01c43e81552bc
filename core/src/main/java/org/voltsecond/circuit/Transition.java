package org.voltsecond.circuit;

import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineMap;

/**
 * The step into a regime.
 *
 * <pre>{@code
 * Network network = Network.of(rail.circuit());
 * Transition opened = network.resolve(0, 0, -1, new double[] {2, 5}); // all switches open at 2 A and 5 V
 * String regime = opened.regime().name(); // "Q1 open, D1 conducting"
 * }</pre>
 *
 * @param regime the regime that holds from now on
 * @param jump how the state jumps into it; null if it cannot
 */
public record Transition(Regime regime, @Nullable AffineMap jump) {}
