package org.voltsecond.examples.design;

import java.util.function.DoublePredicate;

/** Which numbers a key takes. Every test is one that NaN fails. */
enum Range {
    POSITIVE("more than 0", value -> value > 0 && value < Double.POSITIVE_INFINITY),
    NOT_NEGATIVE("0 or more", value -> value >= 0 && value < Double.POSITIVE_INFINITY),
    FRACTION("from 0 to 1", value -> value >= 0 && value <= 1),
    SHARE("more than 0, at most 1", value -> value > 0 && value <= 1),
    PHASE("0 or more, below 1", value -> value >= 0 && value < 1),
    FINITE("any finite number of", Double::isFinite);

    private final String words;
    private final DoublePredicate test;

    Range(String words, DoublePredicate test) {
        this.words = words;
        this.test = test;
    }

    boolean contains(double value) {
        return test.test(value);
    }

    String words() {
        return words;
    }
}
