package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A step of load, line or duty cycle at an instant of a transient. Immutable: {@code Change.at(5e-3).load(...)} returns a
 * new one at each step. What a change does not name stays as it was.
 */
public final class Change {
    private final double time;
    private final @Nullable Load load;
    private final @Nullable Double input;
    private final @Nullable Double dutyCycle;

    private Change(double time, @Nullable Load load, @Nullable Double input, @Nullable Double dutyCycle) {
        this.time = time;
        this.load = load;
        this.input = input;
        this.dutyCycle = dutyCycle;
    }

    /**
     * Returns a change that does nothing yet.
     *
     * @param time when, s after the start of the transient; 0 or more
     * @return the change
     * @throws IllegalArgumentException if the time is negative or not finite
     */
    public static Change at(double time) {
        if (!(time >= 0 && time < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "change: the time must be 0 s or more and finite but was " + time + " s");
        }
        return new Change(time, null, null, null);
    }

    /**
     * Adds a load step.
     *
     * @param newLoad the load from then on
     * @return a new change
     */
    public Change load(Load newLoad) {
        return new Change(time, newLoad, input, dutyCycle);
    }

    /**
     * Adds a line step.
     *
     * @param voltage the input voltage from then on, V; more than 0
     * @return a new change
     * @throws IllegalArgumentException if the voltage is not more than 0 V, or not finite
     */
    public Change input(double voltage) {
        if (!(voltage > 0 && voltage < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("change at " + time
                    + " s: the input voltage must be more than 0 V and finite but was " + voltage + " V");
        }
        return new Change(time, load, voltage, dutyCycle);
    }

    /**
     * Adds a step of the duty cycle.
     *
     * @param newDutyCycle the duty cycle from then on, from 0 to 1
     * @return a new change
     * @throws IllegalArgumentException if the duty cycle is not from 0 to 1
     */
    public Change dutyCycle(double newDutyCycle) {
        return new Change(time, load, input, ConversionRatio.requireDutyCycle(newDutyCycle));
    }

    /**
     * Returns when the change happens.
     *
     * @return the time, s after the start of the transient
     */
    public double time() {
        return time;
    }

    /**
     * Returns the converter as it is after the change.
     *
     * @param converter the converter before
     * @return the converter after
     */
    public Converter applyTo(Converter converter) {
        Converter changed = load == null ? converter : converter.withLoad(load);
        changed = input == null ? changed : changed.withInput(input);
        return dutyCycle == null ? changed : changed.withDutyCycle(dutyCycle);
    }

    /**
     * Says what changes.
     *
     * @return for example "load 25 Ω, input 15 V"; empty if nothing changes
     */
    public String description() {
        List<String> words = new ArrayList<>();
        if (load != null) {
            words.add("load " + load);
        }
        if (input != null) {
            words.add("input " + Quantity.format(input, Unit.VOLT));
        }
        if (dutyCycle != null) {
            words.add("duty cycle " + dutyCycle);
        }
        return String.join(", ", words);
    }

    @Override
    public String toString() {
        return "at " + Quantity.format(time, Unit.SECOND) + ": " + description();
    }
}
