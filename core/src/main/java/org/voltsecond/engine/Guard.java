package org.voltsecond.engine;

/**
 * A condition under which a configuration stays valid: its form is not negative. The instant at which it falls through
 * zero ends the interval.
 *
 * @param name what the condition means, for error messages; for example "current of D1"
 * @param form the affine form that must not be negative
 */
public record Guard(String name, AffineForm form) {}
