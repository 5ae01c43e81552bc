/** The design file: a converter written as TOML, read into an immutable design with every fault told at once. */
@NullMarked
package org.voltsecond.examples.design;

import org.jspecify.annotations.NullMarked;
