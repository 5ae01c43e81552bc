/** SI prefixes, quantities in engineering notation, and series of preferred values. */
@NullMarked
package org.voltsecond.units;

import org.jspecify.annotations.NullMarked;
