/**
 * A window, and a component for your own windows, in which one looks at waveforms on a screen: zoom, pan, two cursors
 * that measure, and fields and sliders for the values of a design. The only package that needs a display, and only to open a window.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.viewer;

import org.jspecify.annotations.NullMarked;
