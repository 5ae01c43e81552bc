/** What drives the gates of a converter. */
@NullMarked
package org.voltsecond.control;

import org.jspecify.annotations.NullMarked;
