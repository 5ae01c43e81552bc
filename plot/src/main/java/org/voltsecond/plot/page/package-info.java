/**
 * A self-contained page for a browser: tables, schematics and waveforms that one can zoom and read. Whatever text is put
 * into a page appears as text, never as markup, and the page never asks a network for anything.
 */
@NullMarked
package org.voltsecond.plot.page;

import org.jspecify.annotations.NullMarked;
