package org.voltsecond.analysis;

import java.util.Arrays;
import org.voltsecond.units.Unit;

/**
 * A number of a driven circuit on which its steady state depends: the value of a part, a time of the drive, or what a
 * controller compares.
 *
 * <pre>{@code
 * Parameter series = Parameter.resistance("L1"); // the series resistance of the inductor
 * double volt = steady.periodic().sensitivities().to(series).mean(rail.outputVoltage()); // -1.950 V for each ohm
 * }</pre>
 *
 * @param kind what is meant
 * @param part reference designator of the part, or "part.winding"; empty for values of drive and controller
 */
public record Parameter(Kind kind, String part) {

    /** What of a part or of the drive is meant. */
    public enum Kind {
        /** Voltage of a source, or of a point of a forward curve, V. */
        SOURCE_VOLTAGE("voltage", Unit.VOLT),
        /** Current of a source, or of a point of a forward curve, A. */
        SOURCE_CURRENT("current", Unit.AMPERE),
        /** Inductance, H; of a winding its own, its coupling to the others kept. */
        INDUCTANCE("inductance", Unit.HENRY),
        /** Capacitance, F. */
        CAPACITANCE("capacitance", Unit.FARAD),
        /** Resistance of a resistor, on-resistance of a switch, series resistance of a coil or capacitor, slope of a rectifier, Ω. */
        RESISTANCE("resistance", Unit.OHM),
        /** Forward drop of a rectifier or a switch, V. */
        FORWARD_DROP("forward drop", Unit.VOLT),
        /** Coupling of two windings, their own inductances kept; from -1 to 1. */
        COUPLING("coupling", Unit.ONE),
        /** Mutual inductance of two windings, their own inductances kept, H. */
        MUTUAL_INDUCTANCE("mutual inductance", Unit.HENRY),
        /** Turns of a winding of an ideal transformer. */
        TURNS("turns", Unit.ONE),
        /** Where a bend of an inductor or a capacitor begins, A or V. */
        ABOVE("above", Unit.ONE),
        /** Power of a load of constant power, W. */
        POWER("power", Unit.WATT),
        /** Voltage from which the power of a load is constant, V. */
        MINIMUM_VOLTAGE("minimum voltage", Unit.VOLT),
        /** How many diodes a load has in series. */
        NUMBER("number", Unit.ONE),
        /** Lifetime of the charge that a rectifier stores, s. */
        LIFETIME("lifetime", Unit.SECOND),
        /** Transit time of that charge, s. */
        TRANSIT_TIME("transit time", Unit.SECOND),
        /**
         * Duty cycle of one switch, or of all: where a pulse begins stays, where it ends moves by its fraction of the period. A
         * switch that was given the complement of a drive begins to conduct with the end of that pulse, its dead time kept.
         */
        DUTY_CYCLE("duty cycle", Unit.ONE),
        /** Switching frequency: all edges keep their fraction of the period, Hz. */
        FREQUENCY("switching frequency", Unit.HERTZ),
        /** Reference of a controller, V; of one whose inductor current is commanded, the command, A. */
        REFERENCE("reference", Unit.VOLT),
        /** Share of the output voltage that a controller senses. */
        DIVIDER("divider", Unit.ONE);

        private final String words;
        private final Unit unit;

        Kind(String words, Unit unit) {
            this.words = words;
            this.unit = unit;
        }

        boolean isOfPart() {
            return switch (this) {
                case DUTY_CYCLE, FREQUENCY, REFERENCE, DIVIDER -> false;
                default -> true;
            };
        }

        /**
         * Returns the unit of the parameter.
         *
         * @return the unit
         */
        public Unit unit() {
            return unit;
        }
    }

    /**
     * Returns the parameter that is a value of a part.
     *
     * @param value its name, as {@link org.voltsecond.circuit.PartValue} has it, such as "T1.coupling"
     * @return the parameter
     * @throws IllegalArgumentException if no derivatives are known by a value of that kind
     */
    public static Parameter of(String value) {
        int dot = value.lastIndexOf('.');
        String quantity = value.substring(dot + 1);
        String words = quantity.equals("on_resistance") ? Kind.RESISTANCE.words : quantity.replace('_', ' ');
        Kind kind = Arrays.stream(Kind.values())
                .filter(each -> each.isOfPart() && each.words.equals(words))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("there is no derivative by " + value + "; there are by "
                        + Arrays.stream(Kind.values()).map(each -> each.words).toList()));
        return new Parameter(kind, value.substring(0, Math.max(0, dot)));
    }

    /**
     * Returns the voltage of a source.
     *
     * @param part reference designator of a voltage source
     * @return the parameter, V
     */
    public static Parameter voltage(String part) {
        return new Parameter(Kind.SOURCE_VOLTAGE, part);
    }

    /**
     * Returns the current of a source.
     *
     * @param part reference designator of a current source
     * @return the parameter, A
     */
    public static Parameter current(String part) {
        return new Parameter(Kind.SOURCE_CURRENT, part);
    }

    /**
     * Returns an inductance.
     *
     * @param part reference designator of an inductor, or "part.winding"
     * @return the parameter, H
     */
    public static Parameter inductance(String part) {
        return new Parameter(Kind.INDUCTANCE, part);
    }

    /**
     * Returns a capacitance.
     *
     * @param part reference designator of a capacitor
     * @return the parameter, F
     */
    public static Parameter capacitance(String part) {
        return new Parameter(Kind.CAPACITANCE, part);
    }

    /**
     * Returns the resistance of a part, whatever stands for it there.
     *
     * @param part reference designator of a resistor, switch, rectifier, inductor or capacitor, or "part.winding"
     * @return the parameter, Ω
     */
    public static Parameter resistance(String part) {
        return new Parameter(Kind.RESISTANCE, part);
    }

    /**
     * Returns the forward drop of a rectifier or of a closed switch.
     *
     * @param part reference designator of a rectifier or switch
     * @return the parameter, V
     */
    public static Parameter forwardDrop(String part) {
        return new Parameter(Kind.FORWARD_DROP, part);
    }

    /**
     * Returns the duty cycle of all switches: the pulse of each of them gets longer by the same, as those of interleaved phases
     * do.
     *
     * @return the parameter, a number from 0 to 1
     */
    public static Parameter dutyCycle() {
        return new Parameter(Kind.DUTY_CYCLE, "");
    }

    /**
     * Returns the duty cycle of one switch, and of what was given the complement of its drive.
     *
     * @param switchName reference designator of a switch with a fixed drive
     * @return the parameter, a number from 0 to 1
     */
    public static Parameter dutyCycle(String switchName) {
        return new Parameter(Kind.DUTY_CYCLE, switchName);
    }

    /**
     * Returns the switching frequency.
     *
     * @return the parameter, Hz
     */
    public static Parameter frequency() {
        return new Parameter(Kind.FREQUENCY, "");
    }

    /**
     * Returns the reference of the controller.
     *
     * @return the parameter, V
     */
    public static Parameter reference() {
        return new Parameter(Kind.REFERENCE, "");
    }

    /**
     * Returns the divider of the controller, sensed voltage over output voltage.
     *
     * @return the parameter, a plain number
     */
    public static Parameter divider() {
        return new Parameter(Kind.DIVIDER, "");
    }

    /** What of the part, as {@link org.voltsecond.circuit.PartValue} names it. */
    String quantity() {
        return kind.words.replace(' ', '_');
    }

    /** Whether it is the value of a part. */
    boolean isOfPart() {
        return kind.isOfPart();
    }

    @Override
    public String toString() {
        return part.isEmpty() ? kind.words : kind.words + " of " + part;
    }
}
