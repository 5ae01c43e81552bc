package org.voltsecond.converter;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Unit;

/**
 * A number that a designer chooses, and that a part comes with a tolerance of: one of the usual values, told by what it does in
 * the converter, or {@linkplain #of(Converter, String) any value of any part}. Immutable.
 *
 * <pre>{@code
 * double nominal = StageValue.INDUCTANCE.in(rail); // 22 µH
 * Converter aged = StageValue.INDUCTANCE.set(rail, 0.8 * nominal); // the core saturates a little
 * boolean used = StageValue.FORWARD_DROP.appliesTo(rail.withSynchronousRectifier(milli(20))); // false
 * double series = StageValue.of(rail, "C1.resistance").in(rail); // 5 mΩ
 * }</pre>
 */
public final class StageValue {
    private enum Kind {
        INPUT_VOLTAGE("input voltage", Unit.VOLT),
        INDUCTANCE("inductance", Unit.HENRY),
        INDUCTOR_RESISTANCE("inductor resistance", Unit.OHM),
        CAPACITANCE("output capacitance", Unit.FARAD),
        CAPACITOR_RESISTANCE("capacitor resistance", Unit.OHM),
        ON_RESISTANCE("on-resistance", Unit.OHM),
        FORWARD_DROP("forward drop", Unit.VOLT),
        RECTIFIER_RESISTANCE("rectifier resistance", Unit.OHM),
        LOAD_RESISTANCE("load resistance", Unit.OHM),
        LOAD_CURRENT("load current", Unit.AMPERE),
        DUTY_CYCLE("duty cycle", Unit.ONE),
        FREQUENCY("switching frequency", Unit.HERTZ),
        REFERENCE("reference", Unit.VOLT),
        DIVIDER("divider", Unit.ONE),
        PART("value of a part", Unit.ONE);

        private final String words;
        private final Unit unit;

        Kind(String words, Unit unit) {
            this.words = words;
            this.unit = unit;
        }

        StageValue value() {
            return new StageValue(this, words, unit);
        }
    }

    /** Input voltage, V. */
    public static final StageValue INPUT_VOLTAGE = Kind.INPUT_VOLTAGE.value();
    /** Inductance, H. */
    public static final StageValue INDUCTANCE = Kind.INDUCTANCE.value();
    /** Series resistance of the inductor, Ω. */
    public static final StageValue INDUCTOR_RESISTANCE = Kind.INDUCTOR_RESISTANCE.value();
    /** Output capacitance, F. */
    public static final StageValue CAPACITANCE = Kind.CAPACITANCE.value();
    /** Equivalent series resistance of the output capacitor, Ω. */
    public static final StageValue CAPACITOR_RESISTANCE = Kind.CAPACITOR_RESISTANCE.value();
    /** On-resistance of the transistor, Ω. */
    public static final StageValue ON_RESISTANCE = Kind.ON_RESISTANCE.value();
    /** Forward drop of the rectifier, V; a synchronous one has none. */
    public static final StageValue FORWARD_DROP = Kind.FORWARD_DROP.value();
    /** Slope resistance of the rectifier, or the on-resistance of a synchronous one, Ω. */
    public static final StageValue RECTIFIER_RESISTANCE = Kind.RECTIFIER_RESISTANCE.value();
    /** Load resistance, Ω; a load of constant current has none. */
    public static final StageValue LOAD_RESISTANCE = Kind.LOAD_RESISTANCE.value();
    /** Load current, A; a resistor as load has none. */
    public static final StageValue LOAD_CURRENT = Kind.LOAD_CURRENT.value();
    /** Duty cycle, 0 to 1; where several switches have a pulse, that of the first, and all change with it. */
    public static final StageValue DUTY_CYCLE = Kind.DUTY_CYCLE.value();
    /** Switching frequency, Hz. */
    public static final StageValue FREQUENCY = Kind.FREQUENCY.value();
    /** Reference of the regulator, V. */
    public static final StageValue REFERENCE = Kind.REFERENCE.value();
    /** Divider of the regulator: sensed voltage over output voltage. */
    public static final StageValue DIVIDER = Kind.DIVIDER.value();

    private static final List<Kind> KINDS = List.of(Kind.values());

    private static final List<StageValue> USUAL = List.of(
            INPUT_VOLTAGE,
            INDUCTANCE,
            INDUCTOR_RESISTANCE,
            CAPACITANCE,
            CAPACITOR_RESISTANCE,
            ON_RESISTANCE,
            FORWARD_DROP,
            RECTIFIER_RESISTANCE,
            LOAD_RESISTANCE,
            LOAD_CURRENT,
            DUTY_CYCLE,
            FREQUENCY,
            REFERENCE,
            DIVIDER);

    private final Kind kind;
    private final String words;
    private final Unit unit;

    private StageValue(Kind kind, String words, Unit unit) {
        this.kind = kind;
        this.words = words;
        this.unit = unit;
    }

    /**
     * Lists the values that have a name by what they do.
     *
     * @return all of them, whether a converter has them or not
     */
    public static List<StageValue> usual() {
        return USUAL;
    }

    /**
     * Returns the usual values that a converter has.
     *
     * @param converter a converter
     * @return all that apply to it
     */
    public static List<StageValue> of(Converter converter) {
        return USUAL.stream().filter(value -> value.appliesTo(converter)).toList();
    }

    /**
     * Returns the value of a part, whichever it is.
     *
     * @param converter a converter that has the part
     * @param name the part and what of it, such as "L2.inductance" or "T1.coupling"; see {@link PartValue}
     * @return the value, of this converter and all that are made of it
     * @throws IllegalArgumentException if there is no such value; the message lists those of the part
     */
    public static StageValue of(Converter converter, String name) {
        return new StageValue(
                Kind.PART, name, PartValue.of(converter.values().power(), name).unit());
    }

    /**
     * Tells whether a converter has this value.
     *
     * @param converter a converter
     * @return true if so
     */
    public boolean appliesTo(Converter converter) {
        return switch (kind) {
            case DUTY_CYCLE, FREQUENCY -> !converter.isRegulated();
            case REFERENCE -> reference(converter).isPresent();
            case DIVIDER -> divider(converter).isPresent();
            case PART ->
                PartValue.all(converter.values().power()).stream()
                        .anyMatch(each -> each.name().equals(words));
            default -> partValue(converter).isPresent();
        };
    }

    private static OptionalDouble reference(Converter converter) {
        ErrorAmplifier amplifier = converter.values().amplifier();
        if (amplifier != null) {
            return OptionalDouble.of(amplifier.reference());
        }
        return converter.isRegulated() ? converter.regulator().reference() : OptionalDouble.empty();
    }

    private static OptionalDouble divider(Converter converter) {
        return converter.isRegulated() ? converter.regulator().divider() : OptionalDouble.empty();
    }

    /** Where one of the values that a stage of the kernel has stands in an array of them. */
    int index() {
        return KINDS.indexOf(kind);
    }

    /** Where a value stands in an array for the kernel; -1 if the kernel has it not. */
    int index(Converter converter) {
        if (kind != Kind.PART) {
            return index();
        }
        Optional<String> name = partValue(converter);
        return USUAL.stream()
                .filter(value -> name.isPresent() && value.partValue(converter).equals(name))
                .mapToInt(StageValue::index)
                .findFirst()
                .orElse(-1);
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
     * Returns the value of a part that this is.
     *
     * @param converter a converter
     * @return its name, of several parts that of the first; empty where no part has this value
     */
    public Optional<String> partValue(Converter converter) {
        return partValues(converter).stream().findFirst();
    }

    /** The values of parts that this is: one, or those of several parts with the same role that are alike. */
    List<String> partValues(Converter converter) {
        Roles roles = converter.roles();
        return switch (kind) {
            case PART -> List.of(words);
            case INPUT_VOLTAGE -> List.of(roles.source() + ".voltage");
            case INDUCTANCE -> alike(converter, roles.inductors(), ".inductance");
            case INDUCTOR_RESISTANCE -> alike(converter, roles.inductors(), ".resistance");
            case CAPACITANCE ->
                alike(converter, roles.outputCapacitor().stream().toList(), ".capacitance");
            case CAPACITOR_RESISTANCE ->
                alike(converter, roles.outputCapacitor().stream().toList(), ".resistance");
            case ON_RESISTANCE -> alike(converter, roles.switches(), ".on_resistance");
            case FORWARD_DROP ->
                converter.isSynchronous() ? List.of() : alike(converter, roles.rectifiers(), ".forward_drop");
            case RECTIFIER_RESISTANCE ->
                converter.isSynchronous()
                        ? alike(
                                converter,
                                roles.rectifiers().isEmpty() ? roles.synchronous() : List.of(),
                                ".on_resistance")
                        : alike(converter, roles.rectifiers(), ".resistance");
            case LOAD_RESISTANCE ->
                ofLoad(roles.loadResistor(), Load::hasResistance, converter, ".resistance").stream()
                        .toList();
            case LOAD_CURRENT ->
                ofLoad(roles.loadSink(), Load::hasCurrent, converter, ".current").stream()
                        .toList();
            default -> List.of();
        };
    }

    /** Several parts have one value only where it is the same in all of them. */
    private static List<String> alike(Converter converter, List<String> parts, String quantity) {
        List<String> names = parts.stream().map(part -> part + quantity).toList();
        if (names.size() < 2) {
            return names;
        }
        long different = names.stream()
                .mapToDouble(
                        name -> PartValue.of(converter.values().power(), name).value())
                .distinct()
                .count();
        return different == 1 ? names : List.of();
    }

    private static Optional<String> ofLoad(
            Optional<String> part, Predicate<Load> has, Converter converter, String quantity) {
        return has.test(converter.load()) ? part.map(name -> name + quantity) : Optional.empty();
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
        return switch (kind) {
            case LOAD_RESISTANCE -> converter.load().resistance();
            case LOAD_CURRENT -> converter.load().current();
            case DUTY_CYCLE -> converter.drive().dutyCycle();
            case FREQUENCY -> converter.drive().switchingFrequency();
            case REFERENCE -> reference(converter).orElseThrow();
            case DIVIDER -> divider(converter).orElseThrow();
            default ->
                PartValue.of(converter.values().power(), requiredName(converter))
                        .value();
        };
    }

    /** All values of the kernel by {@link #index()}; 0 where a converter has no such value. */
    static double[] ofKernel(Converter converter) {
        double[] values = new double[USUAL.size()];
        for (StageValue value : USUAL) {
            values[value.index()] = value.appliesTo(converter) ? value.in(converter) : 0;
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
        return switch (kind) {
            case INPUT_VOLTAGE -> converter.withInput(value);
            case LOAD_RESISTANCE ->
                converter.withLoad(load.hasCurrent() ? Load.of(value, load.current()) : Load.resistor(value));
            case LOAD_CURRENT ->
                converter.withLoad(load.isConstantCurrent() ? Load.current(value) : Load.of(load.resistance(), value));
            case DUTY_CYCLE -> converter.withDutyCycle(value);
            case FREQUENCY ->
                converter.made(converter.values().withSwitchingFrequency(value).checked());
            case REFERENCE -> converter.withReference(value);
            case DIVIDER -> converter.withRegulator(converter.regulator().withDivider(value));
            default -> {
                Blueprint changed = converter.values();
                for (String name : partValues(converter)) {
                    changed = changed.with(name, value);
                }
                yield converter.made(changed.checked());
            }
        };
    }

    /** A value that is not there cannot be read or set: that would change the kind of a part. */
    void requireOf(Converter converter) {
        if (!appliesTo(converter)) {
            throw new IllegalArgumentException("a " + converter + " has no " + words + "; it has " + of(converter)
                    + (kind == Kind.DUTY_CYCLE || kind == Kind.FREQUENCY
                            ? "; set them in its regulator, or give it a fixed drive with withDrive(...)"
                            : "; change the kind of the part first, with withLoad(...) or withRectifier(...)"));
        }
    }

    private String requiredName(Converter converter) {
        return partValue(converter).orElseThrow();
    }

    /** The same as parameters of the circuit that grow together. */
    List<Parameter> parameters(Converter converter) {
        return switch (kind) {
            case DUTY_CYCLE -> List.of(Parameter.dutyCycle());
            case FREQUENCY -> List.of(Parameter.frequency());
            case REFERENCE -> List.of(ofReference(converter));
            case DIVIDER -> List.of(Parameter.divider());
            default -> partValues(converter).stream().map(Parameter::of).toList();
        };
    }

    /** An error amplifier of parts has its reference in the circuit. */
    private static Parameter ofReference(Converter converter) {
        return converter.values().amplifier() == null
                ? Parameter.reference()
                : Parameter.voltage(converter.values().amplified().referenceSource);
    }

    /** How much the parameter of the circuit grows where this value grows by one: the sink of an inverting stage counts down. */
    double sign(Converter converter) {
        return kind == Kind.LOAD_CURRENT && converter.roles().isInverting() ? -1 : 1;
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof StageValue value && value.kind == kind && value.words.equals(words);
    }

    @Override
    public int hashCode() {
        return 31 * kind.hashCode() + words.hashCode();
    }

    /**
     * Returns the value in words.
     *
     * @return for example "inductor resistance"; of the value of a part its name, such as "L2.inductance"
     */
    @Override
    public String toString() {
        return words;
    }
}
