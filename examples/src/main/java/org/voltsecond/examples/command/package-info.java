/** The command line: which designs to run, where to write, what to answer. */
@NullMarked
package org.voltsecond.examples.command;

import org.jspecify.annotations.NullMarked;
