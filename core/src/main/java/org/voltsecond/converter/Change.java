package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Profile;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A step of load, line, duty cycle or reference at an instant of a transient. Immutable: {@code Change.at(5e-3).load(...)} returns a
 * new one at each step. What a change does not name stays as it was.
 */
public final class Change {
    private final double time;
    private final @Nullable LoadStep load;
    private final @Nullable Double input;
    private final @Nullable Double dutyCycle;
    private final @Nullable Double reference;

    /**
     * A step of the load.
     *
     * @param to the load from then on
     * @param slewRate of a constant current, A/s; infinite for a step
     * @param isShort whether it stands for a short circuit
     */
    private record LoadStep(Load to, double slewRate, boolean isShort) {
        boolean ramps() {
            return slewRate < Double.POSITIVE_INFINITY;
        }
    }

    private Change(
            double time,
            @Nullable LoadStep load,
            @Nullable Double input,
            @Nullable Double dutyCycle,
            @Nullable Double reference) {
        this.time = time;
        this.load = load;
        this.input = input;
        this.dutyCycle = dutyCycle;
        this.reference = reference;
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
        return new Change(time, null, null, null, null);
    }

    /**
     * Adds a load step.
     *
     * @param newLoad the load from then on
     * @return a new change
     */
    public Change load(Load newLoad) {
        return with(new LoadStep(newLoad, Double.POSITIVE_INFINITY, false));
    }

    /**
     * Adds a load step with a slew rate, from one constant current to another.
     *
     * @param newLoad the load in the end, a constant current
     * @param slewRate how fast the current changes, A/s; more than 0
     * @return a new change
     * @throws IllegalArgumentException if the load is no constant current, or the slew rate not more than 0 or not finite
     */
    public Change load(Load newLoad, double slewRate) {
        if (!(slewRate > 0 && slewRate < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("change at " + time
                    + " s: the slew rate must be more than 0 A/s and finite but was " + slewRate + " A/s");
        }
        if (!newLoad.isConstantCurrent()) {
            throw new IllegalArgumentException("change at " + time
                    + " s: a slew rate is for a load of constant current but the load was " + newLoad
                    + "; give Load.current(...), or the step without slew rate");
        }
        return with(new LoadStep(newLoad, slewRate, false));
    }

    /**
     * Adds a short circuit of the output: in place of the load there is a small resistance. A later change of the load
     * releases it.
     *
     * @param resistance of the short circuit, Ω; more than 0
     * @return a new change
     * @throws IllegalArgumentException if the resistance is not more than 0 Ω, or not finite
     */
    public Change shortCircuit(double resistance) {
        return with(new LoadStep(Load.resistor(resistance), Double.POSITIVE_INFINITY, true));
    }

    private Change with(LoadStep step) {
        return new Change(time, step, input, dutyCycle, reference);
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
        return new Change(time, load, voltage, dutyCycle, reference);
    }

    /**
     * Adds a step of the duty cycle.
     *
     * @param newDutyCycle the duty cycle from then on, from 0 to 1
     * @return a new change
     * @throws IllegalArgumentException if the duty cycle is not from 0 to 1
     */
    public Change dutyCycle(double newDutyCycle) {
        return new Change(time, load, input, ConversionRatio.requireDutyCycle(newDutyCycle), reference);
    }

    /**
     * Adds a step of a regulator's reference.
     *
     * @param newReference V, or A of a regulator whose inductor current is commanded; more than 0
     * @return a new change
     * @throws IllegalArgumentException if the reference is not more than 0, or not finite
     */
    public Change reference(double newReference) {
        if (!(newReference > 0 && newReference < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "change at " + time + " s: the reference must be more than 0 and finite but was " + newReference);
        }
        return new Change(time, load, input, dutyCycle, newReference);
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
     * @throws IllegalArgumentException if the load shall change at a slew rate but was no constant current before
     * @throws IllegalStateException if the duty cycle of a regulated converter shall change, or the reference of one that
     *     is not
     */
    public Converter applyTo(Converter converter) {
        Converter changed = load == null ? converter : withLoad(converter, load);
        changed = input == null ? changed : changed.withInput(input);
        changed = reference == null ? changed : changed.withReference(reference);
        return dutyCycle == null ? changed : changed.withDutyCycle(dutyCycle);
    }

    private Converter withLoad(Converter converter, LoadStep step) {
        if (step.ramps() && !converter.load().isConstantCurrent()) {
            throw new IllegalArgumentException("change at " + time
                    + " s: a load can change at a slew rate from one constant current to another but was "
                    + converter.load() + " before; begin with Load.current(...)");
        }
        return converter.withLoad(step.to());
    }

    /** What the current sink of the load does from this change on. */
    Profile sink(Profile before, double after) {
        if (load == null) {
            return before;
        }
        double present = before.valueAt(time);
        double duration = Math.abs(after - present) / load.slewRate();
        return duration > 0 ? Profile.constant(present).rampTo(time, time + duration, after) : Profile.constant(after);
    }

    /**
     * Says what changes.
     *
     * @return for example "load 25 Ω, input 15 V"; empty if nothing changes
     */
    public String description() {
        List<String> words = new ArrayList<>();
        if (load != null) {
            words.add(load.isShort() ? "short circuit of " + load.to() : "load " + load.to() + slew(load));
        }
        if (input != null) {
            words.add("input " + Quantity.format(input, Unit.VOLT));
        }
        if (dutyCycle != null) {
            words.add("duty cycle " + dutyCycle);
        }
        if (reference != null) {
            words.add("reference " + reference);
        }
        return String.join(", ", words);
    }

    private static String slew(LoadStep step) {
        return step.ramps() ? " at " + Quantity.format(step.slewRate(), Unit.AMPERE_PER_SECOND) : "";
    }

    @Override
    public String toString() {
        return "at " + Quantity.format(time, Unit.SECOND) + ": " + description();
    }
}
