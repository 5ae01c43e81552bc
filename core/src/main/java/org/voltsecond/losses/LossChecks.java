package org.voltsecond.losses;

/** Checks of the values of loss models, written so that NaN fails. */
final class LossChecks {
    private LossChecks() {}

    static void notNegative(String model, String what, double value, String unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    model + ": " + what + " must be 0 " + unit + " or more and finite but was " + value + " " + unit);
        }
    }

    static void positive(String model, String what, double value, String unit) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    model + ": " + what + " must be more than 0 " + unit + " and finite but was " + value + " " + unit);
        }
    }
}
