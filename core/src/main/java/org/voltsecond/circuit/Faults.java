package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;

/** Collects what is wrong with one part; the one place where values are checked, written so that NaN fails. */
final class Faults {
    private final String part;
    private List<String> found = List.of();

    Faults(String part) {
        this.part = part;
    }

    Faults positive(String what, double value, String unit) {
        return value > 0 && value < Double.POSITIVE_INFINITY ? this : wrong(what, "> 0", value, unit);
    }

    Faults notNegative(String what, double value, String unit) {
        return value >= 0 && value < Double.POSITIVE_INFINITY ? this : wrong(what, ">= 0", value, unit);
    }

    Faults finite(String what, double value, String unit) {
        return Double.isFinite(value) ? this : add(what + " must be finite but was " + value + spaced(unit));
    }

    Faults mutual(int first, int second, double one, double other) {
        return Double.isFinite(one) && one == other
                ? this
                : add("mutual inductances of windings " + first + " and " + second
                        + " must be finite and equal but were " + one + " H and " + other + " H");
    }

    Faults all(String before, List<String> messages, String after) {
        messages.forEach(message -> add(before + message + after));
        return this;
    }

    Faults add(String message) {
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

    List<String> list() {
        return List.copyOf(found);
    }
}
