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
}
