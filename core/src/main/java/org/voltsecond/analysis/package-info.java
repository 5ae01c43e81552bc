/** Transients, periodic steady state, conduction mode, losses and energy audit. */
@NullMarked
package org.voltsecond.analysis;

import org.jspecify.annotations.NullMarked;
