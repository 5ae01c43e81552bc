package org.voltsecond.characteristic;

import java.util.ArrayList;
import java.util.List;

/**
 * Collects what is wrong with one part, in the order of asking; the one place where values are checked, written so that NaN fails. For one
 * thread.
 *
 * <pre>{@code
 * List<String> found = new Faults("L1").positive("inductance", -1, "H").notNegative("series resistance", 0, "Ω").list();
 * String line = found.get(0); // "L1: inductance must be > 0 H and finite but was -1.0 H"
 * }</pre>
 */
public final class Faults {
    private final String part;
    private List<String> found = List.of();

    /**
     * Nothing wrong as yet.
     *
     * @param part the part's name, with which every line begins
     */
    public Faults(String part) {
        this.part = part;
    }

    /**
     * Tells of a value that must be more than 0 and finite but is not.
     *
     * @param what name of the value
     * @param value the value
     * @param unit its unit; empty for a number
     * @return this
     */
    public Faults positive(String what, double value, String unit) {
        return value > 0 && value < Double.POSITIVE_INFINITY ? this : wrong(what, "> 0", value, unit);
    }

    /**
     * Tells of a value that must be 0 or more and finite but is not.
     *
     * @param what name of the value
     * @param value the value
     * @param unit its unit; empty for a number
     * @return this
     */
    public Faults notNegative(String what, double value, String unit) {
        return value >= 0 && value < Double.POSITIVE_INFINITY ? this : wrong(what, ">= 0", value, unit);
    }

    /**
     * Tells of a value that must be finite but is not.
     *
     * @param what name of the value
     * @param value the value
     * @param unit its unit; empty for a number
     * @return this
     */
    public Faults finite(String what, double value, String unit) {
        return Double.isFinite(value) ? this : add(what + " must be finite but was " + value + spaced(unit));
    }

    /**
     * Tells of mutual inductances that must be finite and equal but are not.
     *
     * @param first number of a winding
     * @param second number of another
     * @param one H
     * @param other H, the other way round
     * @return this
     */
    public Faults mutual(int first, int second, double one, double other) {
        return Double.isFinite(one) && one == other
                ? this
                : add("mutual inductances of windings " + first + " and " + second
                        + " must be finite and equal but were " + one + " H and " + other + " H");
    }

    /**
     * Adds lines that others have found.
     *
     * @param before what each begins with
     * @param messages the lines
     * @param after what each ends with
     * @return this
     */
    public Faults all(String before, List<String> messages, String after) {
        messages.forEach(message -> add(before + message + after));
        return this;
    }

    /**
     * Adds a line.
     *
     * @param message what is wrong
     * @return this
     */
    public Faults add(String message) {
        if (found.isEmpty()) {
            found = new ArrayList<>();
        }
        found.add(part + ": " + message);
        return this;
    }

    /** Words are made only for what is wrong: most parts are checked many thousand times and right. */
    private Faults wrong(String what, String range, double value, String unit) {
        return add(what + " must be " + range + spaced(unit) + " and finite but was " + value + spaced(unit));
    }

    private static String spaced(String unit) {
        return unit.isEmpty() ? "" : " " + unit;
    }

    /** {@return one line for each fault; empty if all is well} */
    public List<String> list() {
        return List.copyOf(found);
    }
}
