package org.voltsecond.design;

import org.voltsecond.units.Unit;

/**
 * What a key that takes a quantity wants.
 *
 * @param unit the unit
 * @param range which values are valid
 * @param example a valid value as it would be written
 */
record Kind(Unit unit, Range range, String example) {
    static final Kind VOLTAGE = new Kind(Unit.VOLT, Range.POSITIVE, "\"12 V\"");
    static final Kind RIPPLE_AMPLITUDE = new Kind(Unit.VOLT, Range.NOT_NEGATIVE, "\"0.5 V\"");
    static final Kind RIPPLE_FREQUENCY = new Kind(Unit.HERTZ, Range.POSITIVE, "\"100 Hz\"");
    static final Kind FORWARD_DROP = new Kind(Unit.VOLT, Range.NOT_NEGATIVE, "\"0.4 V\"");
    static final Kind BODY_DIODE_DROP = new Kind(Unit.VOLT, Range.POSITIVE, "\"0.8 V\"");
    static final Kind CURRENT = new Kind(Unit.AMPERE, Range.NOT_NEGATIVE, "\"2 A\"");
    static final Kind LOAD_RESISTANCE = new Kind(Unit.OHM, Range.POSITIVE, "\"2.5 Ω\"");
    static final Kind SERIES_RESISTANCE = new Kind(Unit.OHM, Range.NOT_NEGATIVE, "\"30 mΩ\"");
    static final Kind SHORT_CIRCUIT = new Kind(Unit.OHM, Range.POSITIVE, "\"10 mΩ\"");
    static final Kind INDUCTANCE = new Kind(Unit.HENRY, Range.POSITIVE, "\"22 µH\"");
    static final Kind CAPACITANCE = new Kind(Unit.FARAD, Range.POSITIVE, "\"47 µF\"");
    static final Kind FREQUENCY = new Kind(Unit.HERTZ, Range.POSITIVE, "\"300 kHz\"");
    static final Kind RESPONSE_FREQUENCY = new Kind(Unit.HERTZ, Range.POSITIVE, "\"100 Hz\"");
    static final Kind DURATION = new Kind(Unit.SECOND, Range.POSITIVE, "\"15 ms\"");
    static final Kind INSTANT = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"5 ms\"");
    static final Kind DELAY = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"100 ns\"");
    static final Kind SOFT_START = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"1 ms\"");
    static final Kind SAMPLE_INTERVAL = new Kind(Unit.SECOND, Range.POSITIVE, "\"4 ns\"");
    static final Kind ON_TIME = new Kind(Unit.SECOND, Range.POSITIVE, "\"1 µs\"");
    static final Kind REFERENCE = new Kind(Unit.VOLT, Range.POSITIVE, "\"1 V\"");
    static final Kind LEVEL = new Kind(Unit.VOLT, Range.FINITE, "\"0.5 V\"");
    static final Kind VOLTAGE_BAND = new Kind(Unit.VOLT, Range.POSITIVE, "\"20 mV\"");
    static final Kind CURRENT_BAND = new Kind(Unit.AMPERE, Range.POSITIVE, "\"0.5 A\"");
    static final Kind COMMAND = new Kind(Unit.AMPERE, Range.POSITIVE, "\"1.5 A\"");
    static final Kind CURRENT_LIMIT = new Kind(Unit.AMPERE, Range.POSITIVE, "\"4 A\"");
    static final Kind SENSE = new Kind(Unit.VOLT_PER_AMPERE, Range.POSITIVE, "\"0.1 V/A\"");
    static final Kind SLOPE = new Kind(Unit.AMPERE_PER_SECOND, Range.NOT_NEGATIVE, "\"50 mA/µs\"");
    static final Kind SLEW_RATE = new Kind(Unit.AMPERE_PER_SECOND, Range.POSITIVE, "\"1 A/µs\"");
    static final Kind INTEGRATOR_GAIN = new Kind(Unit.PER_SECOND, Range.POSITIVE, "1500");
    static final Kind CORNER = new Kind(Unit.HERTZ, Range.POSITIVE, "\"4557 Hz\"");
    static final Kind GAIN = new Kind(Unit.ONE, Range.POSITIVE, "8.4");
    static final Kind AMPLIFIER_GAIN = new Kind(Unit.ONE, Range.POSITIVE, "1e5");
    static final Kind BANDWIDTH = new Kind(Unit.HERTZ, Range.POSITIVE, "\"10 MHz\"");
    static final Kind NETWORK_RESISTANCE = new Kind(Unit.OHM, Range.POSITIVE, "\"20 kΩ\"");
    static final Kind NETWORK_CAPACITANCE = new Kind(Unit.FARAD, Range.POSITIVE, "\"33 nF\"");
    static final Kind COEFFICIENT = new Kind(Unit.ONE, Range.FINITE, "0.5");
    static final Kind DIVIDER = new Kind(Unit.ONE, Range.SHARE, "0.2");
    static final Kind MAXIMUM_DUTY_CYCLE = new Kind(Unit.ONE, Range.SHARE, "0.95");
    static final Kind SAMPLING_INSTANT = new Kind(Unit.ONE, Range.PHASE, "0.5");
    static final Kind DUTY_CYCLE = new Kind(Unit.ONE, Range.FRACTION, "0.45");

    static final Kind TRANSITION_TIME = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"15 ns\"");
    static final Kind CHARGE = new Kind(Unit.COULOMB, Range.NOT_NEGATIVE, "\"9 nC\"");
    static final Kind GATE_VOLTAGE = new Kind(Unit.VOLT, Range.NOT_NEGATIVE, "\"5 V\"");
    static final Kind TRANSISTOR_CAPACITANCE = new Kind(Unit.FARAD, Range.NOT_NEGATIVE, "\"250 pF\"");
    static final Kind CORE = new Kind(Unit.ONE, Range.POSITIVE, "1.6");
    static final Kind CORE_SIZE = new Kind(Unit.ONE, Range.POSITIVE, "12e-6 (SI units)");
    static final Kind LOAD_CURRENT = new Kind(Unit.AMPERE, Range.POSITIVE, "\"2 A\"");
    static final Kind SIGNED_OUTPUT = new Kind(Unit.VOLT, Range.FINITE, "\"5 V\", or \"-5 V\" for an inverted one");
    static final Kind PHASE_MARGIN = new Kind(Unit.ONE, Range.RIGHT_ANGLE, "60 (degrees)");
    static final Kind OUTPUT = new Kind(Unit.VOLT, Range.POSITIVE, "\"5 V\"");
    static final Kind HALF_WIDTH_SHARE = new Kind(Unit.ONE, Range.FRACTION, "0.2");
    static final Kind RIPPLE_SHARE = new Kind(Unit.ONE, Range.TO_TWO, "0.3");
    static final Kind CAPACITIVE_SHARE = new Kind(Unit.ONE, Range.SHARE, "0.5");
    static final Kind SHORTEST_ON_TIME = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"100 ns\"");
    static final Kind PEAK_CURRENT = new Kind(Unit.AMPERE, Range.POSITIVE, "\"4 A\"");

    /**
     * Beyond these the figures would be those of round-off; they leave room for every part that there is. Plain numbers
     * have no unit by which to tell.
     */
    private static final double LEAST = 1e-18;

    private static final double MOST = 1e15;

    boolean isPlausible(double value) {
        double size = Math.abs(value);
        return unit == Unit.ONE || size == 0 || (size >= LEAST && size <= MOST);
    }

    /** What is plausible, in words that follow "valid: ". */
    String plausible() {
        return (range.contains(0) ? "0, or from " : "from ") + "1e-18 to 1e15 " + unit.symbol() + ", for example "
                + example;
    }

    /** What is valid, in words that follow "valid: ". */
    String valid() {
        String symbol = unit.symbol();
        if (range == Range.FINITE && symbol.isEmpty()) {
            return "any finite number, for example " + example;
        }
        return range.words() + (symbol.isEmpty() ? "" : " " + symbol) + ", for example " + example;
    }

    /** Which numbers a key takes. Every test is one that NaN fails. */
    enum Range {
        POSITIVE("more than 0"),
        NOT_NEGATIVE("0 or more"),
        FRACTION("from 0 to 1"),
        SHARE("more than 0, at most 1"),
        TO_TWO("more than 0, at most 2"),
        PHASE("0 or more, below 1"),
        RIGHT_ANGLE("more than 0, below 90"),
        FINITE("any finite number of");

        private final String words;

        Range(String words) {
            this.words = words;
        }

        boolean contains(double value) {
            return switch (this) {
                case POSITIVE -> value > 0 && value < Double.POSITIVE_INFINITY;
                case NOT_NEGATIVE -> value >= 0 && value < Double.POSITIVE_INFINITY;
                case FRACTION -> value >= 0 && value <= 1;
                case SHARE -> value > 0 && value <= 1;
                case TO_TWO -> value > 0 && value <= 2;
                case RIGHT_ANGLE -> value > 0 && value < 90;
                case PHASE -> value >= 0 && value < 1;
                case FINITE -> Double.isFinite(value);
            };
        }

        String words() {
            return words;
        }
    }
}
