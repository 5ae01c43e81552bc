package org.voltsecond.units;

import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Units in which the quantities of a converter are written, without prefix.
 *
 * <pre>{@code
 * String symbol = Unit.OHM.symbol(); // "Ω"
 * String quantity = Unit.OHM.quantity(); // "resistance"
 * }</pre>
 */
@SuppressWarnings("ImmutableEnumChecker") // its lists come from List.of, by a way that the checker cannot follow
public enum Unit {
    /** Voltage. */
    VOLT("voltage", "5 V", "V"),
    /** Current. */
    AMPERE("current", "2 A", "A"),
    /** Resistance. */
    OHM("resistance", "80 m\u03A9", "\u03A9", "ohm", "Ohm"),
    /** Inductance. */
    HENRY("inductance", "22 \u00B5H", "H"),
    /** Capacitance. */
    FARAD("capacitance", "47 \u00B5F", "F"),
    /** Frequency. */
    HERTZ("frequency", "300 kHz", "Hz"),
    /** Time. */
    SECOND("time", "5 ms", "s"),
    /** Power. */
    WATT("power", "10 W", "W"),
    /** Energy. */
    JOULE("energy", "40 \u00B5J", "J"),
    /** Charge. */
    COULOMB("charge", "3 \u00B5C", "C"),
    /** Voltage integrated over time, which is flux linkage. */
    VOLT_SECOND("flux linkage", "12 \u00B5V\u00B7s", "V\u00B7s", "Vs"),
    /** Voltage per current, as of a current sensor. */
    VOLT_PER_AMPERE("sensing gain", "0.1 V/A", VOLT, AMPERE),
    /** Slope of a current. */
    AMPERE_PER_SECOND("current slope", "50 mA/\u00B5s", AMPERE, SECOND),
    /** Slope of a voltage. */
    VOLT_PER_SECOND("voltage slope", "0.3 V/\u00B5s", VOLT, SECOND),
    /** Flux density. */
    TESLA("flux density", "0.3 T", "T"),
    /** Temperature on the scale of Celsius; takes no prefix. */
    CELSIUS("temperature", "40 \u00B0C", false, "\u00B0C", "degC"),
    /** Difference of temperatures. */
    KELVIN("temperature difference", "10 K", "K"),
    /** Rise of the temperature for each watt. */
    KELVIN_PER_WATT("thermal resistance", "40 K/W", KELVIN, WATT),
    /** Change of a voltage with the temperature. */
    VOLT_PER_KELVIN("temperature coefficient of a voltage", "-2 mV/K", VOLT, KELVIN),
    /** Relative change with the temperature; takes no prefix of its own. */
    PER_KELVIN("temperature coefficient", "0.005 1/K", null, KELVIN),
    /** Rate; takes no prefix of its own. */
    PER_SECOND("rate", "1500 1/s", null, SECOND),
    /** Angle; takes no prefix. */
    DEGREE("angle", "60 \u00B0", false, "\u00B0", "deg"),
    /** Ratio of two levels; takes no prefix. */
    DECIBEL("ratio of levels", "6 dB", false, "dB"),
    /** Level of a voltage above 1 µV, of its RMS value; takes no prefix. */
    DECIBEL_MICROVOLT("level", "46 dB\u00B5V", false, "dB\u00B5V", "dB\u03BCV", "dBuV"),
    /** A plain number; takes no prefix. */
    ONE("plain number", "0.45", false, "");

    private final String quantity;
    private final String example;
    private final List<String> numerators;
    private final List<String> denominators;
    private final boolean prefixed;

    Unit(String quantity, String example, String... spellings) {
        this(quantity, example, true, spellings);
    }

    Unit(String quantity, String example, boolean prefixed, String... spellings) {
        this.quantity = quantity;
        this.example = example;
        this.numerators = List.of(spellings);
        this.denominators = List.of();
        this.prefixed = prefixed;
    }

    Unit(String quantity, String example, @Nullable Unit numerator, Unit denominator) {
        this.quantity = quantity;
        this.example = example;
        this.numerators = numerator == null ? List.of("1", "") : numerator.numerators;
        this.denominators = denominator.numerators;
        this.prefixed = numerator != null;
    }

    /**
     * Symbol of the unit.
     *
     * @return for instance "H" or "A/s"; empty for {@link #ONE}
     */
    public String symbol() {
        return denominators.isEmpty() ? numerators.get(0) : numerators.get(0) + "/" + denominators.get(0);
    }

    /**
     * What is measured in the unit.
     *
     * @return for instance "inductance"
     */
    public String quantity() {
        return quantity;
    }

    /**
     * Whether a prefix may stand before the symbol.
     *
     * @return true but for {@link #ONE}, {@link #PER_SECOND} and decibels
     */
    public boolean takesPrefix() {
        return prefixed;
    }

    /** A value in the unit as one writes it, for messages. */
    String example() {
        return example;
    }

    /** Every way to write the unit, prefixes included. */
    Stream<Spelling> spellings() {
        Stream<Spelling> above = prefixed
                ? numerators.stream().flatMap(Unit::withPrefixes)
                : numerators.stream().map(text -> new Spelling(text, 0));
        return denominators.isEmpty() ? above : above.flatMap(this::overDenominators);
    }

    private Stream<Spelling> overDenominators(Spelling above) {
        return denominators.stream()
                .flatMap(Unit::withPrefixes)
                .map(below -> new Spelling(above.text + "/" + below.text, above.exponent - below.exponent));
    }

    private static Stream<Spelling> withPrefixes(String symbol) {
        return Stream.of(Prefix.values())
                .flatMap(prefix -> prefix.spellings().map(text -> new Spelling(text + symbol, prefix.exponent())));
    }

    /** One way to write a unit, and the power of ten that its prefixes amount to. */
    record Spelling(String text, int exponent) {}
}
