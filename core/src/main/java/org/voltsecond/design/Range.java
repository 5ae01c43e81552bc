package org.voltsecond.design;

/** Which numbers a key takes. Every test is one that NaN fails. */
enum Range {
    POSITIVE("more than 0"),
    NOT_NEGATIVE("0 or more"),
    FRACTION("from 0 to 1"),
    SHARE("more than 0, at most 1"),
    TO_TWO("more than 0, at most 2"),
    PHASE("0 or more, below 1"),
    RIGHT_ANGLE("more than 0, below 90"),
    FINITE("any finite number of");

    private final String words;

    Range(String words) {
        this.words = words;
    }

    boolean contains(double value) {
        return switch (this) {
            case POSITIVE -> value > 0 && value < Double.POSITIVE_INFINITY;
            case NOT_NEGATIVE -> value >= 0 && value < Double.POSITIVE_INFINITY;
            case FRACTION -> value >= 0 && value <= 1;
            case SHARE -> value > 0 && value <= 1;
            case TO_TWO -> value > 0 && value <= 2;
            case RIGHT_ANGLE -> value > 0 && value < 90;
            case PHASE -> value >= 0 && value < 1;
            case FINITE -> Double.isFinite(value);
        };
    }

    String words() {
        return words;
    }
}
