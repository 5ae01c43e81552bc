package org.voltsecond.units;

import java.util.stream.Stream;

/**
 * SI prefixes in steps of a thousand, femto to tera.
 *
 * <p>Source: BIPM, The International System of Units, 9th edition (2019), table 7.
 *
 * <pre>{@code
 * Prefix prefix = Prefix.of(22e-6); // MICRO
 * double count = prefix.in(22e-6); // 22
 * String label = count + " " + prefix.symbol() + "H"; // "22.0 µH"
 * }</pre>
 */
public enum Prefix {
    /** 10<sup>-15</sup>. */
    FEMTO(-15, "f"),
    /** 10<sup>-12</sup>. */
    PICO(-12, "p"),
    /** 10<sup>-9</sup>. */
    NANO(-9, "n"),
    /** 10<sup>-6</sup>; also read when written as the letter u. */
    MICRO(-6, "\u00B5", "u"),
    /** 10<sup>-3</sup>. */
    MILLI(-3, "m"),
    /** No prefix: 1. */
    NONE(0, ""),
    /** 10<sup>3</sup>. */
    KILO(3, "k"),
    /** 10<sup>6</sup>. */
    MEGA(6, "M"),
    /** 10<sup>9</sup>. */
    GIGA(9, "G"),
    /** 10<sup>12</sup>. */
    TERA(12, "T");

    private final int exponent;
    private final double power;
    private final String symbol;
    private final String keyboardSymbol;

    Prefix(int exponent, String symbol) {
        this(exponent, symbol, symbol);
    }

    Prefix(int exponent, String symbol, String keyboardSymbol) {
        this.exponent = exponent;
        this.power = Double.parseDouble("1e" + Math.abs(exponent));
        this.symbol = symbol;
        this.keyboardSymbol = keyboardSymbol;
    }

    /**
     * Prefix that brings a magnitude between 1 and 1000.
     *
     * @param magnitude any number, in a unit without prefix; the sign does not matter
     * @return the prefix; the nearest there is where the magnitude lies beyond them all, {@link #NONE} for zero and
     *     for what is not finite
     */
    public static Prefix of(double magnitude) {
        double size = Math.abs(magnitude);
        if (!(size > 0 && size < Double.POSITIVE_INFINITY)) {
            return NONE;
        }
        Prefix largest = FEMTO;
        for (Prefix prefix : values()) {
            if (size >= prefix.times(1)) {
                largest = prefix;
            }
        }
        return largest;
    }

    /**
     * Power of ten that the prefix stands for.
     *
     * @return exponent of ten, a multiple of three
     */
    public int exponent() {
        return exponent;
    }

    /**
     * Letter written before the unit.
     *
     * @return the symbol, empty for {@link #NONE}
     */
    public String symbol() {
        return symbol;
    }

    /**
     * Takes the prefix away: {@code MICRO.times(22)} is 22e-6.
     *
     * <p><b>Accuracy.</b> Powers of ten up to 10<sup>22</sup> are exact in a {@code double}, their reciprocals are not.
     * The small prefixes therefore divide, and one rounding remains.
     *
     * @param value number of prefixed units
     * @return the same quantity in units without prefix, correctly rounded
     */
    public double times(double value) {
        return exponent < 0 ? value / power : value * power;
    }

    /**
     * Brings a value to the prefix: {@code MICRO.in(22e-6)} is 22.
     *
     * @param value a quantity in units without prefix
     * @return number of prefixed units, correctly rounded
     */
    public double in(double value) {
        return exponent < 0 ? value * power : value / power;
    }

    /** All ways in which the prefix is read. */
    Stream<String> spellings() {
        return symbol.equals(keyboardSymbol) ? Stream.of(symbol) : Stream.of(symbol, keyboardSymbol);
    }
}
