/**
 * The design file: a converter written as TOML, read into an immutable design with every fault told at once.
 *
 * <p>{@code name} may be left out; the name of the file serves. A MOSFET's body diode is given in the table
 * {@code [transistor]} by {@code body_diode_drop} and, if it has a slope, {@code body_diode_resistance}; without these keys
 * the transistor has none.
 *
 * <p>A line ripple is {@code ripple = { amplitude = "0.5 V", frequency = "100 Hz" }} in the table {@code [input]}: a sine on top
 * of the voltage, the amplitude from its middle to its crest. A change may bring, change or (amplitude 0) end it: {@code
 * input = { ripple = { ... } }}, with the voltage or without; it then begins in its middle.
 *
 * <p>Of voltage mode and of a voltage loop around current mode the compensator may be {@code kind = "parts"}: an operational amplifier of {@code gain}, {@code bandwidth}
 * (where the gain is 1), {@code output_limits = { low, high }} and {@code output_resistance} (0 if left out), with
 * {@code input_resistor} from the divider to its inverting input; {@code feedback_resistor} (0 if left out) and {@code
 * feedback_capacitor} in series from its output to there, {@code bypass_capacitor} (none if left out) across these, and, for
 * a compensator of type III, {@code lead_resistor} and {@code lead_capacitor} in series across the input resistor. Its
 * control voltage has the reference in it; its limits are those of the amplifier, and {@code soft_start} raises its reference
 * once, from the start of the run; a converter that a protection starts anew finds it risen.
 *
 * <p>All keys stand in {@link org.voltsecond.design.DesignKeys}, and on a <a href="../../../design-file.html">page of their own</a>.
 *
 * <p>A further kind of drive is a further record of
 * {@link org.voltsecond.design.DrivePlan} and a further reader in {@code DriveReader}; a further table is a
 * further reader called by {@code DesignReader}; a further key is a line of {@code keys.txt}.
 */
@NullMarked
package org.voltsecond.design;

import org.jspecify.annotations.NullMarked;
