/** Pictures of waveforms and figures: stacked traces on one time axis, bars and lines, as PNG and SVG. */
@NullMarked
package org.voltsecond.plot;

import org.jspecify.annotations.NullMarked;
