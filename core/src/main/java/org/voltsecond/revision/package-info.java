/**
 * Two revisions of a design beside each other: what changed in the file, what that does to each figure, and which limits are kept
 * now that were not, or the other way round.
 *
 * <p>What is compared are values, not texts: a quantity is the same in whatever unit it is written, and the order of keys, comments
 * and layout of a file mean nothing.
 */
@NullMarked
package org.voltsecond.revision;

import org.jspecify.annotations.NullMarked;
