/**
 * What drives the gates of a converter.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.control;

import org.jspecify.annotations.NullMarked;
