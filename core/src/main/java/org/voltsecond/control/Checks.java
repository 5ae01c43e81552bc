package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Collects what is wrong with the values of a regulator, each with what is valid and the value given. */
final class Checks {
    private final List<String> faults = new ArrayList<>();

    /** Adds a line unless the condition holds; write it so that a value that is not a number does not meet it. */
    Checks require(boolean holds, String what, String valid, double value, String unit) {
        if (!holds) {
            faults.add("the " + what + " must be " + valid + " but was " + told(value, unit));
        }
        return this;
    }

    private static String told(double value, String symbol) {
        return Stream.of(Unit.values())
                .filter(unit -> unit.symbol().equals(symbol))
                .findFirst()
                .map(unit -> Quantity.brief(value, unit))
                .orElse(value + " " + symbol);
    }

    Checks positive(String what, double value, String unit) {
        return require(value > 0 && value < Double.POSITIVE_INFINITY, what, "more than 0 and finite", value, unit);
    }

    Checks notNegative(String what, double value, String unit) {
        return require(value >= 0 && value < Double.POSITIVE_INFINITY, what, "0 or more and finite", value, unit);
    }

    /** Checks a clock period, which the user gave as a frequency. */
    Checks frequency(String what, double clockPeriod) {
        double frequency = 1 / clockPeriod;
        boolean finite = clockPeriod > 0 && clockPeriod < Double.POSITIVE_INFINITY;
        return require(
                frequency > 0 && frequency < Double.POSITIVE_INFINITY && finite,
                what,
                "more than 0 and, like its inverse, finite",
                frequency,
                "Hz");
    }

    Checks dutyCycle(double maximum) {
        return require(maximum > 0 && maximum <= 1, "maximum duty cycle", "more than 0 and at most 1", maximum, "");
    }

    Checks and(List<String> others) {
        faults.addAll(others);
        return this;
    }

    List<String> faults() {
        return List.copyOf(faults);
    }
}
