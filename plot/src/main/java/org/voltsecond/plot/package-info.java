/** Pictures of waveforms: stacked traces on one time axis, as PNG and SVG. */
@NullMarked
package org.voltsecond.plot;

import org.jspecify.annotations.NullMarked;
