/**
 * A self-contained page for a browser: tables, schematics and waveforms that one can zoom and read. Whatever text is put
 * into a page appears as text, never as markup, and the page never asks a network for anything.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.page;

import org.jspecify.annotations.NullMarked;
