/**
 * The command line: which designs to run, where to write, what to answer. Your own main method calls
 * {@link org.voltsecond.plot.command.Command}. Stands on the report and the viewer.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.command;

import org.jspecify.annotations.NullMarked;
