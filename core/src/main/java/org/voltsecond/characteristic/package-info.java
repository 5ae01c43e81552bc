/**
 * Characteristics of parts. A part that bends has its incremental value in segments of its current or voltage
 * ({@link org.voltsecond.characteristic.Bend}), a load that is no resistor its current in segments of its voltage
 * ({@link org.voltsecond.characteristic.CurrentCurve}). All of them are piecewise linear, so that the circuits made of them stay exact.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.characteristic;

import org.jspecify.annotations.NullMarked;
