/**
 * The design file: a converter written as TOML, read into an immutable design with every fault told at once.
 *
 * <p>{@code name} may be left out; the name of the file serves. A MOSFET's body diode is given in the table
 * {@code [transistor]} by {@code body_diode_drop} and, if it has a slope, {@code body_diode_resistance}; without these keys
 * the transistor has none. A further kind of drive is a further record of
 * {@link org.voltsecond.examples.design.DrivePlan} and a further reader in {@code DriveReader}; a further table is a
 * further reader called by {@code DesignReader}.
 */
@NullMarked
package org.voltsecond.examples.design;

import org.jspecify.annotations.NullMarked;
