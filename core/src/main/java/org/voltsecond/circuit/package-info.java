/**
 * Nodes and parts of a circuit, and their compilation into a piecewise-affine system.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.circuit;

import org.jspecify.annotations.NullMarked;
