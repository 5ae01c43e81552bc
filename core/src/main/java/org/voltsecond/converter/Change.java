package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.circuit.Profile;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A step of load, line, duty cycle or reference at an instant of a transient. Immutable: {@code Change.at(5e-3).load(...)} returns a
 * new one at each step. What a change does not name stays as it was.
 *
 * <pre>{@code
 * Change radioOn = Change.at(milli(1)).load(Load.resistor(1.5));
 * Change batteryFalls = Change.at(milli(2)).input(9).inputRipple(0.2, 100); // 9 V with 200 mV at 100 Hz
 * ConverterTransient run = rail.transientFromSteadyState(milli(4), radioOn, batteryFalls);
 * double lowest = run.of(rail.outputVoltage()).minimum(); // 3.133 V
 * }</pre>
 */
public final class Change {
    private static final List<String> STORING =
            List.of("inductance", "capacitance", "coupling", "mutual_inductance", "turns");

    private final double time;
    private final @Nullable LoadStep load;
    private final @Nullable Double input;
    private final @Nullable Ripple ripple;
    private final @Nullable Double dutyCycle;
    private final @Nullable Double reference;
    private final Map<String, Double> parts;

    /** A line ripple from then on: amplitude, V, and frequency, Hz. */
    private record Ripple(double amplitude, double frequency) {}

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
            @Nullable Ripple ripple,
            @Nullable Double dutyCycle,
            @Nullable Double reference,
            Map<String, Double> parts) {
        this.time = time;
        this.load = load;
        this.input = input;
        this.ripple = ripple;
        this.dutyCycle = dutyCycle;
        this.reference = reference;
        this.parts = parts;
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
        return new Change(time, null, null, null, null, null, Map.of());
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
        if (!newLoad.hasCurrent()) {
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
        return new Change(time, step, input, ripple, dutyCycle, reference, parts);
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
        return new Change(time, load, voltage, ripple, dutyCycle, reference, parts);
    }

    /**
     * Adds a ripple of the line, in place of one that was there: a sine on top of the input voltage, which begins in its
     * middle and rises.
     *
     * @param amplitude from the middle to the crest, V; 0 or more, 0 for none from then on
     * @param frequency Hz; more than 0
     * @return a new change
     * @throws IllegalArgumentException if a value is out of its range
     */
    public Change inputRipple(double amplitude, double frequency) {
        if (!(amplitude >= 0 && amplitude < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("change at " + time
                    + " s: the amplitude of the line ripple must be 0 V or more and finite but was " + amplitude
                    + " V");
        }
        if (!(frequency > 0 && frequency < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("change at " + time
                    + " s: the frequency of the line ripple must be more than 0 Hz and finite but was " + frequency
                    + " Hz");
        }
        return new Change(time, load, input, new Ripple(amplitude, frequency), dutyCycle, reference, parts);
    }

    /**
     * Adds a step of the duty cycle.
     *
     * @param newDutyCycle the duty cycle from then on, from 0 to 1
     * @return a new change
     * @throws IllegalArgumentException if the duty cycle is not from 0 to 1
     */
    public Change dutyCycle(double newDutyCycle) {
        return new Change(time, load, input, ripple, ConversionRatio.requireDutyCycle(newDutyCycle), reference, parts);
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
        return new Change(time, load, input, ripple, dutyCycle, newReference, parts);
    }

    /**
     * Adds another value of a part that stores no energy, whichever it is. What an inductor or a capacitor keeps when its
     * value changes is not told by the value, so that these cannot change on the way.
     *
     * @param name the part and what of it, such as "R2.resistance"; see {@link PartValue}
     * @param value in SI units
     * @return the change with this step
     * @throws IllegalArgumentException if the value is one of an inductor, a capacitor or a transformer that stores energy
     */
    public Change part(String name, double value) {
        if (STORING.stream().anyMatch(quantity -> name.endsWith("." + quantity))) {
            throw new IllegalArgumentException(
                    "change at " + time + " s: " + name
                            + " is a value of energy storage and cannot change during a run; valid: a resistance, a drop, a source");
        }
        Map<String, Double> more = new TreeMap<>(parts);
        more.put(name, value);
        return new Change(time, load, input, ripple, dutyCycle, reference, Collections.unmodifiableMap(more));
    }

    /**
     * Returns when the change happens.
     *
     * @return the time, s after the start of the transient
     */
    public double time() {
        return time;
    }

    boolean changesLoad() {
        return load != null;
    }

    boolean isShort() {
        return load != null && load.isShort();
    }

    /**
     * Returns the converter as it is after the change.
     *
     * @param converter the converter before
     * @return the converter after
     * @throws IllegalArgumentException if the load shall change at a slew rate but was no constant current before
     * @throws InvalidStageException if the line ripple would be larger than the input voltage
     * @throws IllegalStateException if the duty cycle of a regulated converter shall change, or the reference of one that
     *     is not
     */
    public Converter applyTo(Converter converter) {
        Converter changed = load == null ? converter : withLoad(converter, load);
        for (Map.Entry<String, Double> part : parts.entrySet()) {
            changed = changed.with(part.getKey(), part.getValue());
        }
        changed = input == null ? changed : changed.withInput(input);
        changed = ripple == null ? changed : changed.withInputRipple(ripple.amplitude(), ripple.frequency(), time);
        changed = reference == null ? changed : changed.withReference(reference);
        return dutyCycle == null ? changed : changed.withDutyCycle(dutyCycle);
    }

    private Converter withLoad(Converter converter, LoadStep step) {
        if (step.ramps() && !converter.load().hasCurrent()) {
            throw new IllegalArgumentException("change at " + time
                    + " s: a load can change at a slew rate from one constant current to another but was "
                    + converter.load() + " before; begin with Load.current(...)");
        }
        return converter.withLoad(step.to());
    }

    /** What the current sink of the load does from this change on. */
    Profile sink(Profile before, Profile wanted) {
        if (load == null) {
            return before;
        }
        double present = before.valueAt(time);
        double after = wanted.valueAt(time);
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
        if (ripple != null) {
            words.add("line ripple " + Quantity.format(ripple.amplitude(), Unit.VOLT) + " at "
                    + Quantity.format(ripple.frequency(), Unit.HERTZ));
        }
        if (dutyCycle != null) {
            words.add("duty cycle " + dutyCycle);
        }
        if (reference != null) {
            words.add("reference " + reference);
        }
        parts.forEach((name, value) -> words.add(name + " " + Quantity.brief(value, Unit.ONE)));
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
