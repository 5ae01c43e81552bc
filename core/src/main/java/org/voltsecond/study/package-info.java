/**
 * Questions that span many designs or operating points: studies of any list of designs, sweeps over one parameter,
 * maps over two, and what tolerances of the parts do. They run in parallel, give the same bits on any number of threads, tell their progress, can be
 * cancelled, and keep what failed beside what was found.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.study;

import org.jspecify.annotations.NullMarked;
