package org.voltsecond.units;

/**
 * SI prefixes as functions, made for a static import: {@code micro(22)} is 22e-6.
 *
 * <p><b>Accuracy.</b> Powers of ten up to 10<sup>22</sup> are exact in a {@code double}, their reciprocals are not. The
 * small prefixes therefore divide, and one rounding remains: {@code micro(22) == 22e-6}, bit for bit, for every value
 * that is itself exact. An argument that is not finite passes through; the part that takes the value rejects it.
 *
 * <p>Source of the prefixes: BIPM, The International System of Units, 9th edition (2019), table 7.
 */
public final class Si {

    private Si() {}

    /**
     * Multiplies by 10<sup>-15</sup>.
     *
     * @param value number of femto-units
     * @return the same quantity in units
     */
    public static double femto(double value) {
        return value / 1e15;
    }

    /**
     * Multiplies by 10<sup>-12</sup>.
     *
     * @param value number of pico-units
     * @return the same quantity in units
     */
    public static double pico(double value) {
        return value / 1e12;
    }

    /**
     * Multiplies by 10<sup>-9</sup>.
     *
     * @param value number of nano-units
     * @return the same quantity in units
     */
    public static double nano(double value) {
        return value / 1e9;
    }

    /**
     * Multiplies by 10<sup>-6</sup>.
     *
     * @param value number of micro-units
     * @return the same quantity in units
     */
    public static double micro(double value) {
        return value / 1e6;
    }

    /**
     * Multiplies by 10<sup>-3</sup>.
     *
     * @param value number of milli-units
     * @return the same quantity in units
     */
    public static double milli(double value) {
        return value / 1e3;
    }

    /**
     * Multiplies by 10<sup>3</sup>.
     *
     * @param value number of kilo-units
     * @return the same quantity in units
     */
    public static double kilo(double value) {
        return value * 1e3;
    }

    /**
     * Multiplies by 10<sup>6</sup>.
     *
     * @param value number of mega-units
     * @return the same quantity in units
     */
    public static double mega(double value) {
        return value * 1e6;
    }

    /**
     * Multiplies by 10<sup>9</sup>.
     *
     * @param value number of giga-units
     * @return the same quantity in units
     */
    public static double giga(double value) {
        return value * 1e9;
    }
}
