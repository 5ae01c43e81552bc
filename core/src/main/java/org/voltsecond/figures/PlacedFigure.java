package org.voltsecond.figures;

import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Unit;

/**
 * A value at its place in figures.json. Immutable.
 *
 * <pre>{@code
 * PlacedFigure droop = new PlacedFigure("transient/changes/0/droop", 0.031, "droop", Unit.VOLT);
 * String key = droop.key(); // "droop"
 * }</pre>
 *
 * @param place keys and numbers with a stroke between them
 * @param value a number, a text, true or false; null for what does not exist
 * @param words what it is
 * @param unit of a number
 */
public record PlacedFigure(String place, @Nullable Object value, String words, Unit unit) {
    /** {@return the last part of its place} */
    public String key() {
        return place.substring(place.lastIndexOf('/') + 1);
    }
}
