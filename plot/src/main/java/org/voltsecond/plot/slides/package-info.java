/**
 * Slides about a design for a room: one message each, in type that is read from the last row.
 *
 * <p>Whoever speaks before engineers shows one thing at a time: where the current flows, why the output is what it is, who feeds a step
 * of the load, where the current runs dry. A slide has a sentence with the number of this very design as its title, one picture, and
 * notes with the definition behind it and the numbers to more digits.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.slides;

import org.jspecify.annotations.NullMarked;
