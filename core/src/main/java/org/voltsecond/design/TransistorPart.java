package org.voltsecond.design;

import org.jspecify.annotations.Nullable;

/**
 * The transistor.
 *
 * @param onResistance Ω; 0 or more
 * @param bodyDiode the diode across it, which carries current back to the input; null for none
 */
public record TransistorPart(double onResistance, @Nullable RectifierPart bodyDiode) {}
