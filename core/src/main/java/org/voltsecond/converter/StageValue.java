package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Unit;

/**
 * A number that a designer chooses, and that a part comes with a tolerance of.
 *
 * <pre>{@code
 * double nominal = StageValue.INDUCTANCE.in(rail); // 22 µH
 * Converter aged = StageValue.INDUCTANCE.set(rail, 0.8 * nominal); // the core saturates a little
 * boolean used = StageValue.FORWARD_DROP.appliesTo(rail.withSynchronousRectifier(milli(20))); // false
 * }</pre>
 */
public enum StageValue {
    /** Input voltage, V. */
    INPUT_VOLTAGE(0, "input voltage", Unit.VOLT),
    /** Inductance, H. */
    INDUCTANCE(1, "inductance", Unit.HENRY),
    /** Series resistance of the inductor, Ω. */
    INDUCTOR_RESISTANCE(2, "inductor resistance", Unit.OHM),
    /** Output capacitance, F. */
    CAPACITANCE(3, "output capacitance", Unit.FARAD),
    /** Equivalent series resistance of the output capacitor, Ω. */
    CAPACITOR_RESISTANCE(4, "capacitor resistance", Unit.OHM),
    /** On-resistance of the transistor, Ω. */
    ON_RESISTANCE(5, "on-resistance", Unit.OHM),
    /** Forward drop of the rectifier, V; a synchronous one has none. */
    FORWARD_DROP(6, "forward drop", Unit.VOLT),
    /** Slope resistance of the rectifier, or the on-resistance of a synchronous one, Ω. */
    RECTIFIER_RESISTANCE(7, "rectifier resistance", Unit.OHM),
    /** Load resistance, Ω; a load of constant current has none. */
    LOAD_RESISTANCE(8, "load resistance", Unit.OHM),
    /** Load current, A; a resistor as load has none. */
    LOAD_CURRENT(9, "load current", Unit.AMPERE),
    /** Duty cycle, 0 to 1. */
    DUTY_CYCLE(10, "duty cycle", Unit.ONE),
    /** Switching frequency, Hz. */
    FREQUENCY(11, "switching frequency", Unit.HERTZ);

    private final int index;
    private final String words;
    private final Unit unit;

    StageValue(int index, String words, Unit unit) {
        this.index = index;
        this.words = words;
        this.unit = unit;
    }

    /**
     * Returns the values that a converter has.
     *
     * @param converter a converter of fixed duty cycle
     * @return all that apply to it
     */
    public static List<StageValue> of(Converter converter) {
        List<StageValue> result = new ArrayList<>();
        for (StageValue value : values()) {
            if (value.appliesTo(converter)) {
                result.add(value);
            }
        }
        return List.copyOf(result);
    }

    /**
     * Tells whether a converter has this value.
     *
     * @param converter a converter
     * @return true if so
     */
    public boolean appliesTo(Converter converter) {
        return switch (this) {
            case LOAD_RESISTANCE -> !converter.load().isConstantCurrent();
            case LOAD_CURRENT -> converter.load().hasCurrent();
            case DUTY_CYCLE, FREQUENCY -> !converter.isRegulated();
            default -> name(converter) != null;
        };
    }

    /**
     * Returns where this value stands in an array of all values.
     *
     * @return from 0 to one less than the number of values
     */
    public int index() {
        return index;
    }

    /**
     * Returns the unit.
     *
     * @return the unit of the value
     */
    public Unit unit() {
        return unit;
    }

    /**
     * Reads the value of a converter.
     *
     * @param converter a converter to which it applies
     * @return the value, in {@link #unit()}
     * @throws IllegalArgumentException if the converter has no such value
     */
    public double in(Converter converter) {
        requireOf(converter);
        return switch (this) {
            case LOAD_RESISTANCE -> converter.load().resistance();
            case LOAD_CURRENT -> converter.load().current();
            case DUTY_CYCLE -> converter.drive().dutyCycle();
            case FREQUENCY -> converter.drive().switchingFrequency();
            default ->
                PartValue.of(converter.values().power(), requiredName(converter))
                        .value();
        };
    }

    /** All values of a converter, by {@link #index()}; 0 where it has no such value. */
    static double[] in(Converter converter, List<StageValue> applying) {
        double[] values = new double[values().length];
        for (StageValue value : applying) {
            values[value.index()] = value.in(converter);
        }
        return values;
    }

    /**
     * Returns a converter with another value.
     *
     * @param converter a converter to which this applies
     * @param value the value, in {@link #unit()}
     * @return a new converter
     * @throws IllegalArgumentException if the converter has no such value
     * @throws InvalidStageException if the value is out of its range
     */
    public Converter set(Converter converter, double value) {
        requireOf(converter);
        Load load = converter.load();
        return switch (this) {
            case INPUT_VOLTAGE -> converter.withInput(value);
            case LOAD_RESISTANCE ->
                converter.withLoad(load.hasCurrent() ? Load.of(value, load.current()) : Load.resistor(value));
            case LOAD_CURRENT ->
                converter.withLoad(load.isConstantCurrent() ? Load.current(value) : Load.of(load.resistance(), value));
            case DUTY_CYCLE -> converter.withDutyCycle(value);
            case FREQUENCY ->
                new Converter(converter.values().withSwitchingFrequency(value).checked());
            default -> converter.with(requiredName(converter), value);
        };
    }

    /** A value that is not there cannot be read or set: that would change the kind of a part. */
    void requireOf(Converter converter) {
        if (!appliesTo(converter)) {
            throw new IllegalArgumentException("a " + converter + " has no " + words + "; it has " + of(converter)
                    + (this == DUTY_CYCLE || this == FREQUENCY
                            ? "; set them in its regulator, or give it a fixed drive with withDrive(...)"
                            : "; change the kind of the part first, with withLoad(...) or withRectifier(...)"));
        }
    }

    /** The value of a part that this is, as {@link PartValue} names it; null where no one part has that role and value. */
    private @Nullable String name(Converter converter) {
        Roles roles = converter.roles();
        String name = switch (this) {
            case INPUT_VOLTAGE -> roles.source() + ".voltage";
            case INDUCTANCE ->
                roles.inductor().map(part -> part + ".inductance").orElse(null);
            case INDUCTOR_RESISTANCE ->
                roles.inductor().map(part -> part + ".resistance").orElse(null);
            case CAPACITANCE ->
                roles.outputCapacitor().map(part -> part + ".capacitance").orElse(null);
            case CAPACITOR_RESISTANCE ->
                roles.outputCapacitor().map(part -> part + ".resistance").orElse(null);
            case ON_RESISTANCE -> roles.switches().size() == 1 ? roles.transistor() + ".on_resistance" : null;
            case FORWARD_DROP -> ofRectifier(roles, false, ".forward_drop");
            case RECTIFIER_RESISTANCE ->
                converter.isSynchronous()
                        ? ofRectifier(roles, true, ".on_resistance")
                        : ofRectifier(roles, false, ".resistance");
            default -> null;
        };
        return name;
    }

    private static @Nullable String ofRectifier(Roles roles, boolean synchronous, String quantity) {
        boolean one = roles.rectifiers().size() + roles.synchronous().size() == 1;
        return one && synchronous == !roles.synchronous().isEmpty()
                ? roles.rectifier().orElseThrow() + quantity
                : null;
    }

    private String requiredName(Converter converter) {
        return Objects.requireNonNull(name(converter));
    }

    /** The same as a parameter of the circuit. */
    Parameter parameter(Converter converter) {
        Roles roles = converter.roles();
        return switch (this) {
            case INPUT_VOLTAGE -> Parameter.voltage(roles.source());
            case INDUCTANCE -> Parameter.inductance(roles.inductor().orElseThrow());
            case INDUCTOR_RESISTANCE -> Parameter.resistance(roles.inductor().orElseThrow());
            case CAPACITANCE -> Parameter.capacitance(roles.outputCapacitor().orElseThrow());
            case CAPACITOR_RESISTANCE ->
                Parameter.resistance(roles.outputCapacitor().orElseThrow());
            case ON_RESISTANCE -> Parameter.resistance(roles.transistor());
            case FORWARD_DROP -> Parameter.forwardDrop(converter.rectifierName());
            case RECTIFIER_RESISTANCE -> Parameter.resistance(converter.rectifierName());
            case LOAD_RESISTANCE -> Parameter.resistance(roles.loadResistor().orElseThrow());
            case LOAD_CURRENT -> Parameter.current(roles.loadSink().orElseThrow());
            case DUTY_CYCLE -> Parameter.dutyCycle();
            case FREQUENCY -> Parameter.frequency();
        };
    }

    /** How much the parameter of the circuit grows where this value grows by one: the sink of an inverting stage counts down. */
    double sign(Converter converter) {
        return this == LOAD_CURRENT && converter.roles().isInverting() ? -1 : 1;
    }

    /**
     * Returns the value in words.
     *
     * @return for example "inductor resistance"
     */
    @Override
    public String toString() {
        return words;
    }
}
