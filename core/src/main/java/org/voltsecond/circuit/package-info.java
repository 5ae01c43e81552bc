/** Nodes and parts of a circuit, and their compilation into a piecewise-affine system. */
@NullMarked
package org.voltsecond.circuit;

import org.jspecify.annotations.NullMarked;
