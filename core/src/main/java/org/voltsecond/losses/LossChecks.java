package org.voltsecond.losses;

import java.util.List;
import java.util.stream.Stream;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.stage.Roles;

/** Checks of the values of loss models, written so that NaN fails, and of the parts that they are of. */
final class LossChecks {
    private LossChecks() {}

    /** The switches that are named, or all that begin the on interval. */
    static List<String> switches(List<String> named, ConverterSteadyState steady) {
        requireSwitches(named, steady);
        return named.isEmpty() ? steady.converter().roles().switches() : named;
    }

    static void requireSwitches(List<String> named, ConverterSteadyState steady) {
        Roles roles = steady.converter().roles();
        require(named, both(roles.switches(), roles.synchronous()), "switch");
    }

    /** The rectifiers that are named, or all, those that are switches too. */
    static List<String> rectifiers(List<String> named, ConverterSteadyState steady) {
        Roles roles = steady.converter().roles();
        List<String> all = both(roles.rectifiers(), roles.synchronous());
        require(named, all, "rectifier");
        return named.isEmpty() ? all : named;
    }

    private static List<String> both(List<String> first, List<String> second) {
        return Stream.concat(first.stream(), second.stream()).toList();
    }

    private static void require(List<String> named, List<String> valid, String kind) {
        for (String name : named) {
            if (!valid.contains(name)) {
                throw new IllegalArgumentException(
                        "loss of a " + kind + ": '" + name + "' is none of " + valid + "; name one of these");
            }
        }
    }

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
