package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The symbol of a two-terminal part, lying from (0, 0) to (100, 0), with what is written beside it.
 *
 * @param name the reference designator
 * @param values what the part is worth
 * @param shape SVG paths
 * @param turned whether the first terminal is the right one
 */
record Symbol(String name, List<String> values, String shape, boolean turned) {
    static final int LENGTH = 100;

    private static final int DIGITS = 4;
    private static final String LEADS = "<path d=\"M0 0H30M70 0H100\"/>";
    private static final String RESISTOR = LEADS + "<rect x=\"30\" y=\"-8\" width=\"40\" height=\"16\"/>";
    private static final String INDUCTOR = LEADS + "<path d=\"M30 0" + "a5 5 0 0 1 10 0".repeat(4) + "\"/>";
    private static final String CAPACITOR =
            "<path d=\"M0 0H46M54 0H100\"/><path class=\"bold\" d=\"M46 -15V15M54 -15V15\"/>";
    private static final String CIRCLE = "<path d=\"M0 0H32M68 0H100\"/><circle cx=\"50\" cy=\"0\" r=\"18\"/>";
    private static final String VOLTAGE_SOURCE = CIRCLE + "<path d=\"M36 0H44M40 -4V4M60 -4V4\"/>";
    private static final String CURRENT_SOURCE =
            CIRCLE + "<path d=\"M38 0H56\"/><path class=\"full\" d=\"M62 0L53 -5V5Z\"/>";
    private static final String RECTIFIER =
            "<path d=\"M0 0H100\"/><path class=\"full\" d=\"M39 -11V11L60 0Z\"/><path class=\"bold\" d=\"M60 -12V12\"/>";
    private static final String SWITCH = "<path d=\"M0 0H38V8M62 8V0H100M50 16V28\"/>"
            + "<path class=\"bold\" d=\"M33 9H43M45 9H55M57 9H67M35 15H65\"/>";

    static Optional<Symbol> of(Part part) {
        if (part instanceof Part.Resistor resistor) {
            return symbol(part, RESISTOR, value(resistor.resistance(), Unit.OHM));
        }
        if (part instanceof Part.Inductor inductor) {
            return symbol(
                    part,
                    INDUCTOR,
                    value(inductor.inductance(), Unit.HENRY),
                    some(inductor.seriesResistance(), Unit.OHM));
        }
        if (part instanceof Part.Capacitor capacitor) {
            return symbol(
                    part,
                    CAPACITOR,
                    value(capacitor.capacitance(), Unit.FARAD),
                    some(capacitor.seriesResistance(), Unit.OHM));
        }
        if (part instanceof Part.Switch closing) {
            return symbol(part, SWITCH, some(closing.onResistance(), Unit.OHM));
        }
        if (part instanceof Part.Rectifier rectifier) {
            return symbol(
                    part, RECTIFIER, some(rectifier.forwardDrop(), Unit.VOLT), some(rectifier.resistance(), Unit.OHM));
        }
        return source(part);
    }

    private static Optional<Symbol> source(Part part) {
        if (part instanceof Part.VoltageSource source) {
            return symbol(part, VOLTAGE_SOURCE, atStart(source.voltage(), Unit.VOLT));
        }
        if (part instanceof Part.CurrentSource source) {
            return symbol(part, CURRENT_SOURCE, atStart(source.current(), Unit.AMPERE));
        }
        if (part instanceof Part.CurrentByVoltage controlled && isConductance(controlled)) {
            return symbol(part, RESISTOR, value(1 / controlled.factor(), Unit.OHM));
        }
        return Optional.empty();
    }

    /** A source of no current and a conductance of zero are as good as not there. */
    static boolean isVisible(Part part) {
        if (part instanceof Part.CurrentSource source) {
            return !source.current().equals(Profile.constant(0));
        }
        return !(part instanceof Part.CurrentByVoltage controlled) || controlled.factor() != 0;
    }

    /** A source that is controlled by the voltage across itself is a resistor. */
    private static boolean isConductance(Part.CurrentByVoltage part) {
        return part.factor() > 0
                && part.from().equals(part.controlPlus())
                && part.to().equals(part.controlMinus());
    }

    private static Optional<Symbol> symbol(Part part, String shape, String... values) {
        List<String> given = new ArrayList<>(List.of(values));
        given.removeIf(String::isEmpty);
        return Optional.of(new Symbol(part.name(), List.copyOf(given), shape, false));
    }

    private static String value(double value, Unit unit) {
        String exact = Quantity.format(value, unit);
        String rounded = Quantity.format(value, unit, DIGITS);
        return exact.length() <= rounded.length() ? exact : rounded;
    }

    private static String some(double value, Unit unit) {
        return value == 0 ? "" : value(value, unit);
    }

    private static String atStart(Profile profile, Unit unit) {
        double value = profile.valueAt(0);
        return value(value, unit) + (profile.equals(Profile.constant(value)) ? "" : " at 0 s");
    }

    /** The same, with its first terminal on the other side; of a switch there is no first. */
    Symbol reversed() {
        return new Symbol(name, values, shape, !shape.equals(SWITCH) && !turned);
    }
}
