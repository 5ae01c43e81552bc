/** The piecewise-affine system: exact flow, guards, certified events and the trajectory. No word of electricity. */
@NullMarked
package org.voltsecond.engine;

import org.jspecify.annotations.NullMarked;
