/** The command that turns a design file into figures and pictures, and short example programs. */
@NullMarked
package org.voltsecond.examples;

import org.jspecify.annotations.NullMarked;
