/** Captures of an oscilloscope, read from files of whatever dialect and compared with what was simulated. */
@NullMarked
package org.voltsecond.bench;

import org.jspecify.annotations.NullMarked;
