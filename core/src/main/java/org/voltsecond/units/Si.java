package org.voltsecond.units;

/**
 * SI prefixes as functions, made for a static import: {@code micro(22)} is 22e-6.
 *
 * <p><b>Accuracy.</b> Correctly rounded, see {@link Prefix#times}: {@code micro(22) == 22e-6}, bit for bit. An argument
 * that is not finite passes through; the part that takes the value rejects it.
 *
 * <pre>{@code
 * PowerStage filter = PowerStage.buck().inductor(micro(22), milli(30)).outputCapacitor(micro(47), milli(5));
 * boolean same = micro(22) == 22e-6; // true
 * }</pre>
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
        return Prefix.FEMTO.times(value);
    }

    /**
     * Multiplies by 10<sup>-12</sup>.
     *
     * @param value number of pico-units
     * @return the same quantity in units
     */
    public static double pico(double value) {
        return Prefix.PICO.times(value);
    }

    /**
     * Multiplies by 10<sup>-9</sup>.
     *
     * @param value number of nano-units
     * @return the same quantity in units
     */
    public static double nano(double value) {
        return Prefix.NANO.times(value);
    }

    /**
     * Multiplies by 10<sup>-6</sup>.
     *
     * @param value number of micro-units
     * @return the same quantity in units
     */
    public static double micro(double value) {
        return Prefix.MICRO.times(value);
    }

    /**
     * Multiplies by 10<sup>-3</sup>.
     *
     * @param value number of milli-units
     * @return the same quantity in units
     */
    public static double milli(double value) {
        return Prefix.MILLI.times(value);
    }

    /**
     * Multiplies by 10<sup>3</sup>.
     *
     * @param value number of kilo-units
     * @return the same quantity in units
     */
    public static double kilo(double value) {
        return Prefix.KILO.times(value);
    }

    /**
     * Multiplies by 10<sup>6</sup>.
     *
     * @param value number of mega-units
     * @return the same quantity in units
     */
    public static double mega(double value) {
        return Prefix.MEGA.times(value);
    }

    /**
     * Multiplies by 10<sup>9</sup>.
     *
     * @param value number of giga-units
     * @return the same quantity in units
     */
    public static double giga(double value) {
        return Prefix.GIGA.times(value);
    }
}
