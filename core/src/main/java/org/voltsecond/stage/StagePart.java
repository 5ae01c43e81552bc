package org.voltsecond.stage;

import java.util.List;
import java.util.Locale;

/**
 * A part of a stage beyond the usual ones, or a group of such: a record of its values, of which a stage has one at most. A design
 * file reads it from the table that {@link #key()} names, each component of the record by its name.
 *
 * <pre>{@code
 * StagePart transformer = Transformer.of(3, 1, micro(500)); // turns, and henry at the primary
 * String table = transformer.key(); // "transformer"
 * }</pre>
 */
public interface StagePart {
    /**
     * Returns what is wrong with the values.
     *
     * @return one line for each fault, beginning with what it is called
     */
    List<String> faults();

    /** {@return the table of a design file that holds it, such as "second_inductor"} */
    default String key() {
        return key(getClass());
    }

    /**
     * Returns the table of a design file that holds a kind of part.
     *
     * @param kind a record, such as SecondInductor
     * @return its name with underscores, such as "second_inductor"
     */
    static String key(Class<? extends StagePart> kind) {
        return kind.getSimpleName().replaceAll("(?<=.)(?=[A-Z])", "_").toLowerCase(Locale.ROOT);
    }

    /**
     * Returns what a message calls a kind of part.
     *
     * @param kind a record, such as SecondInductor
     * @return such as "second inductor"
     */
    static String words(Class<? extends StagePart> kind) {
        return key(kind).replace('_', ' ');
    }

    /**
     * Adds a fault where a value is missing or not more than 0.
     *
     * @param faults what it is added to
     * @param what part and value
     * @param value the value
     * @param unit its unit
     */
    static void positive(List<String> faults, String what, double value, String unit) {
        if (Double.isNaN(value)) {
            faults.add(what + " is missing or not a number; it must be more than 0 " + unit);
        } else if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be more than 0 " + unit + " and finite but was " + value + " " + unit);
        }
    }

    /**
     * Adds a fault where a value is missing or less than 0.
     *
     * @param faults what it is added to
     * @param what part and value
     * @param value the value
     * @param unit its unit
     */
    static void notNegative(List<String> faults, String what, double value, String unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be 0 " + unit + " or more and finite but was " + value + " " + unit);
        }
    }
}
