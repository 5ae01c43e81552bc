/**
 * What a design review asks: ratings of the parts against the worst of all corners and of the run, figures at each corner, line and
 * load regulation, dropout, and of what a report was made.
 *
 * <p>A corner is an end of the range of the input with an end of the range of the load; the input at which the converter stands counts
 * as well. Tolerances have corners of their own, of which those are looked at to which single steps point.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.review;

import org.jspecify.annotations.NullMarked;
