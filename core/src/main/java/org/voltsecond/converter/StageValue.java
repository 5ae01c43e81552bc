package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.analysis.Parameter;
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
            case FORWARD_DROP -> !converter.values().rectifier().synchronous();
            case LOAD_RESISTANCE -> !converter.load().isConstantCurrent();
            case LOAD_CURRENT -> converter.load().isConstantCurrent();
            case DUTY_CYCLE, FREQUENCY -> !converter.isRegulated();
            default -> true;
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
        StageValues values = converter.values();
        return switch (this) {
            case INPUT_VOLTAGE -> values.inputVoltage();
            case INDUCTANCE -> values.inductor().value();
            case INDUCTOR_RESISTANCE -> values.inductor().resistance();
            case CAPACITANCE -> values.capacitor().value();
            case CAPACITOR_RESISTANCE -> values.capacitor().resistance();
            case ON_RESISTANCE -> values.transistor().onResistance();
            case FORWARD_DROP -> values.rectifier().forwardDrop();
            case RECTIFIER_RESISTANCE -> values.rectifier().resistance();
            case LOAD_RESISTANCE -> values.requiredLoad().resistance();
            case LOAD_CURRENT -> values.requiredLoad().current();
            case DUTY_CYCLE -> converter.drive().dutyCycle();
            case FREQUENCY -> converter.drive().switchingFrequency();
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
        StageValues values = converter.values();
        return new Converter(set(values, value).checked());
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

    /** The values of a stage with another one; not checked. */
    StageValues set(StageValues values, double value) {
        return switch (this) {
            case INPUT_VOLTAGE -> values.withInput(value);
            case INDUCTANCE -> values.withInductor(value, values.inductor().resistance());
            case INDUCTOR_RESISTANCE -> values.withInductor(values.inductor().value(), value);
            case CAPACITANCE ->
                values.withOutputCapacitor(value, values.capacitor().resistance());
            case CAPACITOR_RESISTANCE ->
                values.withOutputCapacitor(values.capacitor().value(), value);
            case ON_RESISTANCE -> values.withOnResistance(value);
            case FORWARD_DROP ->
                values.withRectifier(
                        RectifierModel.diode(value, values.rectifier().resistance()));
            case RECTIFIER_RESISTANCE -> values.withRectifier(rectifier(values.rectifier(), value));
            case LOAD_RESISTANCE -> values.withLoad(Load.resistor(value));
            case LOAD_CURRENT -> values.withLoad(Load.current(value));
            case DUTY_CYCLE -> values.withDrive(values.requiredDrive().withDutyCycle(value));
            case FREQUENCY -> values.withDrive(values.requiredDrive().withSwitchingFrequency(value));
        };
    }

    private static RectifierModel rectifier(RectifierModel old, double ohm) {
        return old.synchronous()
                ? RectifierModel.transistor(ohm, old.bodyDiode())
                : RectifierModel.diode(old.forwardDrop(), ohm);
    }

    /** The same as a parameter of the circuit. */
    Parameter parameter(Converter converter) {
        return switch (this) {
            case INPUT_VOLTAGE -> Parameter.voltage(StageCircuit.SOURCE);
            case INDUCTANCE -> Parameter.inductance(StageCircuit.INDUCTOR);
            case INDUCTOR_RESISTANCE -> Parameter.resistance(StageCircuit.INDUCTOR);
            case CAPACITANCE -> Parameter.capacitance(StageCircuit.CAPACITOR);
            case CAPACITOR_RESISTANCE -> Parameter.resistance(StageCircuit.CAPACITOR);
            case ON_RESISTANCE -> Parameter.resistance(StageCircuit.TRANSISTOR);
            case FORWARD_DROP -> Parameter.forwardDrop(StageCircuit.DIODE);
            case RECTIFIER_RESISTANCE -> Parameter.resistance(converter.rectifierName());
            case LOAD_RESISTANCE -> Parameter.resistance(StageCircuit.LOAD_RESISTOR);
            case LOAD_CURRENT -> Parameter.current(StageCircuit.LOAD_CURRENT);
            case DUTY_CYCLE -> Parameter.dutyCycle();
            case FREQUENCY -> Parameter.frequency();
        };
    }

    /** How much the parameter of the circuit grows where this value grows by one: the sink of an inverting stage counts down. */
    double sign(Converter converter) {
        return this == LOAD_CURRENT && converter.topology() == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
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
