/**
 * Two revisions of a design beside each other: what changed in the file, each figure with its difference, limits gained and lost,
 * waveforms over each other; as a page, pictures, tables, and a few lines for the terminal.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.beside;

import org.jspecify.annotations.NullMarked;
