package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;

/** Collects what is wrong with one part; the one place where values are checked, written so that NaN fails. */
final class Faults {
    private final String part;
    private final List<String> found = new ArrayList<>();

    Faults(String part) {
        this.part = part;
    }

    Faults positive(String what, double value, String unit) {
        return check(
                value > 0 && value < Double.POSITIVE_INFINITY,
                what + " must be > 0" + spaced(unit) + " and finite but was " + value + spaced(unit));
    }

    Faults notNegative(String what, double value, String unit) {
        return check(
                value >= 0 && value < Double.POSITIVE_INFINITY,
                what + " must be >= 0" + spaced(unit) + " and finite but was " + value + spaced(unit));
    }

    Faults finite(String what, double value, String unit) {
        return check(Double.isFinite(value), what + " must be finite but was " + value + spaced(unit));
    }

    Faults mutual(int first, int second, double one, double other) {
        return check(
                Double.isFinite(one) && one == other,
                "mutual inductances of windings " + first + " and " + second + " must be finite and equal but were "
                        + one + " H and " + other + " H");
    }

    Faults all(String before, List<String> messages, String after) {
        messages.forEach(message -> add(before + message + after));
        return this;
    }

    Faults add(String message) {
        found.add(part + ": " + message);
        return this;
    }

    private Faults check(boolean fine, String message) {
        return fine ? this : add(message);
    }

    private static String spaced(String unit) {
        return unit.isEmpty() ? "" : " " + unit;
    }

    List<String> list() {
        return List.copyOf(found);
    }
}
