package org.voltsecond.study;

import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageValue;
import org.voltsecond.units.CsvText;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Unit;

/**
 * A quantity of a converter that takes one value after the other. Immutable if its change is.
 *
 * <pre>{@code
 * Axis load = Axis.loadCurrent(milli(5), 2, 100); // A, in equal factors
 * Axis chokes = Axis.of(StageValue.INDUCTANCE, List.of(micro(10), micro(22), micro(47)), false);
 * Axis frequency = new Axis( // any other quantity
 *         "switching frequency",
 *         Unit.HERTZ,
 *         Axis.linear("switching frequency", kilo(100), kilo(500), 9),
 *         false,
 *         (converter, hertz) -> converter.withDrive(Drive.fixedDuty(0.45, hertz)));
 * }</pre>
 *
 * @param name what it is, for headings, in lower case
 * @param unit the unit of the values
 * @param values the values, each larger than the one before it
 * @param logarithmic whether equal factors lie equally far apart in a picture and for interpolation
 * @param change how to change a converter so that the quantity has a value; a pure function
 */
public record Axis(String name, Unit unit, List<Double> values, boolean logarithmic, Setting change) {

    /** How to set a quantity of a converter. */
    @FunctionalInterface
    public interface Setting {
        /**
         * Returns the converter with another value.
         *
         * @param converter any converter
         * @param value the value of the quantity
         * @return the changed converter
         */
        Converter set(Converter converter, double value);

        /**
         * Returns a setting of one of the values that converters have. Studies know how to be quick with it.
         *
         * @param value the value; a load resistance takes the place of a sink, a load current keeps the kind of load
         * @return the setting
         */
        static Setting of(StageValue value) {
            return new StageSetting(value);
        }
    }

    /**
     * Checks the values.
     *
     * @param name what it is
     * @param unit the unit of the values
     * @param values the values, each larger than the one before it
     * @param logarithmic whether equal factors lie equally far apart
     * @param change how to change a converter
     * @throws IllegalArgumentException if there is no value, one is not finite or not larger than the one before it, or one
     *     on a logarithmic axis is not more than 0
     */
    public Axis {
        values = List.copyOf(values);
        if (values.isEmpty()) {
            throw new IllegalArgumentException(name + ": there is no value; give one or more");
        }
        for (int i = 0; i < values.size(); i++) {
            double value = values.get(i);
            if (!(Math.abs(value) < Double.POSITIVE_INFINITY) || !(i == 0 || value > values.get(i - 1))) {
                throw new IllegalArgumentException(name + ": values must be finite and grow but value " + (i + 1)
                        + " is " + value + " " + unit.symbol()
                        + (i == 0 ? "" : " after " + values.get(i - 1) + " " + unit.symbol()));
            }
        }
        if (logarithmic && !(values.get(0) > 0)) {
            throw new IllegalArgumentException(name + ": a logarithmic axis needs values of more than 0 "
                    + unit.symbol() + " but begins at " + values.get(0) + " " + unit.symbol());
        }
    }

    /**
     * Returns the input voltage in equal steps.
     *
     * @param lowest V; more than 0
     * @param highest V; more than the lowest
     * @param count how many values, at least 2
     * @return the axis
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static Axis inputVoltage(double lowest, double highest, int count) {
        List<Double> values = linear("input voltage", lowest, highest, count);
        return new Axis("input voltage", Unit.VOLT, values, false, Setting.of(StageValue.INPUT_VOLTAGE));
    }

    /**
     * Returns a load current in equal factors. The kind of load stays that of the converter: a sink of this current, or the
     * resistor that draws it at the output voltage that a study holds, and where none is held at the mean output of the
     * converter itself.
     *
     * @param lowest A; more than 0
     * @param highest A; more than the lowest
     * @param count how many values, at least 2
     * @return the axis
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static Axis loadCurrent(double lowest, double highest, int count) {
        List<Double> values = logarithmic("load current", lowest, highest, count);
        return new Axis("load current", Unit.AMPERE, values, true, Setting.of(StageValue.LOAD_CURRENT));
    }

    /**
     * Returns a resistor as load in equal factors.
     *
     * @param lowest Ω; more than 0
     * @param highest Ω; more than the lowest
     * @param count how many values, at least 2
     * @return the axis
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static Axis loadResistance(double lowest, double highest, int count) {
        List<Double> values = logarithmic("load resistance", lowest, highest, count);
        return new Axis("load resistance", Unit.OHM, values, true, Setting.of(StageValue.LOAD_RESISTANCE));
    }

    /**
     * Returns the fixed duty cycle in equal steps.
     *
     * @param lowest from 0 to 1
     * @param highest more than the lowest, to 1
     * @param count how many values, at least 2
     * @return the axis
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static Axis dutyCycle(double lowest, double highest, int count) {
        List<Double> values = linear("duty cycle", lowest, highest, count);
        return new Axis("duty cycle", Unit.ONE, values, false, Setting.of(StageValue.DUTY_CYCLE));
    }

    /**
     * Returns one of the values that converters have.
     *
     * @param value the value; of any part by {@link StageValue#of(Converter, String)}
     * @param values what it takes, each larger than the one before it
     * @param logarithmic whether equal factors lie equally far apart
     * @return the axis
     * @throws IllegalArgumentException if the values are none, not finite or do not grow
     */
    public static Axis of(StageValue value, List<Double> values, boolean logarithmic) {
        return new Axis(value.toString(), value.unit(), values, logarithmic, Setting.of(value));
    }

    /**
     * Returns values in equal steps.
     *
     * @param name what they are of, for the error message
     * @param lowest the first
     * @param highest the last, more than the first
     * @param count how many, at least 2
     * @return the values
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static List<Double> linear(String name, double lowest, double highest, int count) {
        requireRange(name, lowest, highest, count);
        return IntStream.range(0, count)
                .mapToObj(i -> i == count - 1 ? highest : lowest + (highest - lowest) * i / (count - 1))
                .toList();
    }

    /**
     * Returns values in equal factors.
     *
     * @param name what they are of, for the error message
     * @param lowest the first, more than 0
     * @param highest the last, more than the first
     * @param count how many, at least 2
     * @return the values
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static List<Double> logarithmic(String name, double lowest, double highest, int count) {
        requireRange(name, lowest, highest, count);
        if (!(lowest > 0)) {
            throw new IllegalArgumentException(
                    name + ": equal factors need a lowest value of more than 0 but it was " + lowest);
        }
        return IntStream.range(0, count)
                .mapToObj(i -> i == 0
                        ? lowest
                        : i == count - 1 ? highest : lowest * StrictMath.pow(highest / lowest, i / (count - 1.0)))
                .toList();
    }

    private static void requireRange(String name, double lowest, double highest, int count) {
        if (!(lowest < highest) || !(Math.abs(highest - lowest) < Double.POSITIVE_INFINITY) || count < 2) {
            throw new IllegalArgumentException(name
                    + ": a range needs a finite lowest value below its finite highest one and at least 2 values but got "
                    + lowest + " to " + highest + ", " + count + " values");
        }
    }

    /**
     * Returns how many values there are.
     *
     * @return the number, 1 or more
     */
    public int size() {
        return values.size();
    }

    /**
     * Returns a converter with one of the values.
     *
     * @param converter any converter
     * @param value the value of the quantity
     * @return the changed converter
     */
    public Converter set(Converter converter, double value) {
        return change.set(converter, value);
    }

    /**
     * Returns the heading of a column.
     *
     * @return the name with the unit
     */
    public String heading() {
        return CsvText.heading(name, unit);
    }

    /**
     * Returns the value that changes along the axis.
     *
     * @return the value; empty for any other quantity
     */
    public Optional<StageValue> value() {
        return change instanceof StageSetting setting ? Optional.of(setting.value()) : Optional.empty();
    }

    /** The same with a load current that means one resistor or sink throughout, see {@link #loadCurrent}. */
    Axis heldAt(Converter converter, double outputVoltage) {
        return change instanceof StageSetting stage
                ? new Axis(name, unit, values, logarithmic, stage.heldAt(converter, outputVoltage))
                : this;
    }

    /** The value at a part of the way between two neighbours, by steps or factors as the axis has them. */
    double between(double low, double high, double part) {
        return logarithmic
                ? StrictMath.exp(StrictMath.log(low) + part * (StrictMath.log(high) - StrictMath.log(low)))
                : low + part * (high - low);
    }

    /** The axis as an object of JSON. */
    String toJson() {
        return "{\"name\": " + JsonText.quoted(name) + ", \"unit\": " + JsonText.quoted(unit.symbol())
                + ", \"values\": " + JsonText.numbers(values) + "}";
    }
}
