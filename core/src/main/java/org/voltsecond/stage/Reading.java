package org.voltsecond.stage;

/**
 * A signal that a stage tells beside those that every stage has: current or voltage of one of its parts.
 *
 * <pre>{@code
 * var second = org.voltsecond.stage.Reading.current("second inductor current", "L2"); // a viewer has a Reading too
 * String key = second.key(); // "second_inductor_current"
 * }</pre>
 *
 * @param words what it is called, such as "second inductor current"; a file writes it with underscores
 * @param part reference designator, or "part.winding"
 * @param isVoltage whether it is the voltage across the part; else the current through it
 * @param sign 1, or -1 where it counts from the second node of the part to the first
 */
public record Reading(String words, String part, boolean isVoltage, int sign) {
    /**
     * Returns the current through a part.
     *
     * @param words what it is called
     * @param part its reference designator
     * @return the reading, positive from the first node of the part to the second
     */
    public static Reading current(String words, String part) {
        return new Reading(words, part, false, 1);
    }

    /**
     * Returns the voltage across a part.
     *
     * @param words what it is called
     * @param part its reference designator
     * @return the reading, of the first node of the part against the second
     */
    public static Reading voltage(String words, String part) {
        return new Reading(words, part, true, 1);
    }

    /** {@return the same, counted the other way} */
    public Reading reversed() {
        return new Reading(words, part, isVoltage, -sign);
    }

    /** {@return its name in files, such as "second_inductor_current"} */
    public String key() {
        return words.replace(' ', '_');
    }
}
