package org.voltsecond.figures;

import org.voltsecond.units.Unit;

/**
 * What a value is held against: a {@link Limit} of a design, or a rating of a part.
 *
 * <pre>{@code
 * Restriction limit = Limit.EFFICIENCY;
 * boolean least = limit.isLeast(); // true
 * }</pre>
 */
public interface Restriction {
    /**
     * Returns its key in design files and in figures.json.
     *
     * @return for instance "output_ripple"
     */
    String key();

    /**
     * Returns which side of it is the right one.
     *
     * @return true if the value must be at least what is stated, false if at most
     */
    boolean isLeast();

    /**
     * Returns the unit.
     *
     * @return the unit of what is stated and of the value
     */
    Unit unit();

    /**
     * Returns the name in words.
     *
     * @return for instance "output ripple"
     */
    @Override
    String toString();
}
