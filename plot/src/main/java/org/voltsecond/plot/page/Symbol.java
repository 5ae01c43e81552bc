package org.voltsecond.plot.page;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The symbol of a two-terminal part, lying from (0, 0) to (100, 0), with what is written beside it.
 *
 * @param name the reference designator
 * @param kind what it is, in words
 * @param values what the part is worth
 * @param shape SVG paths
 * @param turned whether the first terminal is the right one
 * @param rank its place among parts side by side: sources first, loads last
 */
record Symbol(String name, String kind, List<String> values, String shape, boolean turned, int rank) {
    static final int LENGTH = 100;

    private static final int DIGITS = 4;
    private static final String LEADS = "<path d=\"M0 0H30M70 0H100\"/>";
    private static final String RESISTOR = LEADS + "<rect x=\"30\" y=\"-8\" width=\"40\" height=\"16\"/>";
    /** With the stroke of what is not linear (IEC 60617). */
    private static final String NONLINEAR = RESISTOR + "<path d=\"M28 15H36L64 -15\"/>";

    private static final String INDUCTOR = LEADS + "<path d=\"M30 0" + "a5 5 0 0 1 10 0".repeat(4) + "\"/>";
    private static final String WINDING = INDUCTOR + "<circle class=\"full\" cx=\"26\" cy=\"-9\" r=\"3\"/>";
    private static final String CAPACITOR =
            "<path d=\"M0 0H46M54 0H100\"/><path class=\"bold\" d=\"M46 -15V15M54 -15V15\"/>";
    private static final String CIRCLE = "<path d=\"M0 0H32M68 0H100\"/><circle cx=\"50\" cy=\"0\" r=\"18\"/>";
    private static final String DIAMOND = "<path d=\"M0 0H30M70 0H100M30 0L50 -17L70 0L50 17Z\"/>";
    private static final String POLES = "<path d=\"M36 0H44M40 -4V4M60 -4V4\"/>";
    private static final String ARROW = "<path d=\"M38 0H56\"/><path class=\"full\" d=\"M62 0L53 -5V5Z\"/>";
    private static final String RECTIFIER =
            "<path d=\"M0 0H100\"/><path class=\"full\" d=\"M39 -11V11L60 0Z\"/><path class=\"bold\" d=\"M60 -12V12\"/>";
    private static final String SWITCH = "<path d=\"M0 0H38V8M62 8V0H100M50 16V28\"/>"
            + "<path class=\"bold\" d=\"M33 9H43M45 9H55M57 9H67M35 15H65\"/>";
    private static final String AMPLIFIER = "<path d=\"M22 -30V30L78 0ZM28 -14H36M28 14H36M32 10V18\"/>";

    static Symbol of(Part part) {
        if (part instanceof Part.Resistor resistor) {
            return symbol(part, "resistor", RESISTOR, 6, value(resistor.resistance(), Unit.OHM));
        }
        if (part instanceof Part.Inductor inductor) {
            return symbol(
                    part,
                    "inductor",
                    INDUCTOR,
                    3,
                    value(inductor.inductance(), Unit.HENRY),
                    some(inductor.seriesResistance(), Unit.OHM),
                    last(inductor.saturation(), Unit.HENRY, Unit.AMPERE));
        }
        if (part instanceof Part.Capacitor capacitor) {
            return symbol(
                    part,
                    "capacitor",
                    CAPACITOR,
                    5,
                    value(capacitor.capacitance(), Unit.FARAD),
                    some(capacitor.seriesResistance(), Unit.OHM),
                    last(capacitor.bias(), Unit.FARAD, Unit.VOLT));
        }
        if (part instanceof Part.Switch closing) {
            return symbol(
                    part,
                    "switch",
                    SWITCH,
                    1,
                    some(closing.onResistance(), Unit.OHM),
                    some(closing.forwardDrop(), Unit.VOLT));
        }
        if (part instanceof Part.Rectifier rectifier) {
            return symbol(
                    part,
                    "rectifier",
                    RECTIFIER,
                    2,
                    some(rectifier.forwardDrop(), Unit.VOLT),
                    some(rectifier.resistance(), Unit.OHM));
        }
        if (part instanceof NonlinearResistor resistor) {
            String[] values = resistor.curve().values().stream()
                    .map(each -> some(each.value(), each.unit()))
                    .toArray(String[]::new);
            return symbol(part, "nonlinear resistor", NONLINEAR, 6, values);
        }
        return source(part);
    }

    /** What an inductance or a capacitance comes down to; empty where it is constant. */
    private static String last(List<Bend> bends, Unit unit, Unit unitOfKnee) {
        if (bends.isEmpty()) {
            return "";
        }
        Bend bend = bends.get(bends.size() - 1);
        return value(bend.value(), unit) + " above " + value(bend.above(), unitOfKnee);
    }

    private static Symbol source(Part part) {
        if (part instanceof Part.VoltageSource source) {
            return symbol(part, "voltage source", CIRCLE + POLES, 0, atStart(source.voltage(), Unit.VOLT));
        }
        if (part instanceof Part.CurrentSource source) {
            return symbol(part, "current source", CIRCLE + ARROW, 7, atStart(source.current(), Unit.AMPERE));
        }
        if (part instanceof ControlledSource.CurrentByVoltage controlled && isConductance(controlled)) {
            return symbol(part, "resistor", RESISTOR, 6, value(1 / controlled.factor(), Unit.OHM));
        }
        return controlled(part);
    }

    private static Symbol controlled(Part part) {
        if (part instanceof ControlledSource.VoltageByVoltage by) {
            return symbol(
                    part,
                    "controlled source",
                    DIAMOND + POLES,
                    4,
                    times(by.factor(), "V/V"),
                    ofVoltage(by.controlPlus(), by.controlMinus()));
        }
        if (part instanceof ControlledSource.CurrentByVoltage by) {
            return symbol(
                    part,
                    "controlled source",
                    DIAMOND + ARROW,
                    4,
                    times(by.factor(), "A/V"),
                    ofVoltage(by.controlPlus(), by.controlMinus()));
        }
        if (part instanceof ControlledSource.VoltageByCurrent by) {
            return symbol(
                    part,
                    "controlled source",
                    DIAMOND + POLES,
                    4,
                    times(by.factor(), "V/A"),
                    "× i(" + by.controlPort() + ")");
        }
        if (part instanceof ControlledSource.CurrentByCurrent by) {
            return symbol(
                    part,
                    "controlled source",
                    DIAMOND + ARROW,
                    4,
                    times(by.factor(), "A/A"),
                    "× i(" + by.controlPort() + ")");
        }
        throw new IllegalArgumentException("part " + part.name() + " has more than two terminals");
    }

    private static String times(double factor, String unit) {
        return plain(factor) + " " + unit;
    }

    private static String ofVoltage(String plus, String minus) {
        return "× v(" + plus + (minus.equals(Circuit.GROUND) ? "" : ", " + minus) + ")";
    }

    /** One winding of coupled inductors or of a transformer; its first terminal has the dot. */
    static Symbol ofWinding(Part part, int index) {
        List<String> values = new ArrayList<>();
        String name = "";
        String kind = "";
        if (part instanceof Part.CoupledInductors coupled) {
            name = coupled.windings().get(index).name();
            kind = "winding of coupled inductors";
            double own = coupled.inductances().get(index).get(index);
            values.add(value(own, Unit.HENRY));
            values.add(some(coupled.windings().get(index).seriesResistance(), Unit.OHM));
            if (index > 0 && coupled.windings().size() == 2) {
                double coupling = coupled.inductances().get(0).get(1)
                        / Math.sqrt(own * coupled.inductances().get(0).get(0));
                values.add("coupling " + plain(coupling));
            }
        } else if (part instanceof Part.IdealTransformer ideal) {
            name = ideal.windings().get(index).name();
            kind = "winding of an ideal transformer";
            values.add(plain(ideal.turns().get(index)) + (ideal.turns().get(index) == 1 ? " turn" : " turns"));
            values.add(some(ideal.windings().get(index).seriesResistance(), Unit.OHM));
        }
        values.removeIf(String::isEmpty);
        return new Symbol(part.name() + " " + name, kind, List.copyOf(values), WINDING, false, 3);
    }

    static Symbol ofAmplifier(String name) {
        return new Symbol(name, "amplifier", List.of(), AMPLIFIER, false, 4);
    }

    /** A source of no current and a conductance of zero are as good as not there. */
    static boolean isVisible(Part part) {
        if (part instanceof Part.CurrentSource source) {
            return !source.current().equals(Profile.constant(0));
        }
        return !(part instanceof ControlledSource.CurrentByVoltage controlled) || controlled.factor() != 0;
    }

    /** A source that is controlled by the voltage across itself is a resistor. */
    private static boolean isConductance(ControlledSource.CurrentByVoltage part) {
        return part.factor() > 0
                && part.from().equals(part.controlPlus())
                && part.to().equals(part.controlMinus());
    }

    private static Symbol symbol(Part part, String kind, String shape, int rank, String... values) {
        List<String> given = new ArrayList<>(List.of(values));
        given.removeIf(String::isEmpty);
        return new Symbol(part.name(), kind, List.copyOf(given), shape, false, rank);
    }

    private static String value(double value, Unit unit) {
        String exact = Quantity.format(value, unit);
        String rounded = Quantity.format(value, unit, DIGITS);
        return exact.length() <= rounded.length() ? exact : rounded;
    }

    /** To four digits, without zeros at the end. */
    private static String plain(double value) {
        BigDecimal rounded =
                new BigDecimal(value).round(new MathContext(DIGITS)).stripTrailingZeros();
        return rounded.abs().compareTo(BigDecimal.valueOf(1e-3)) > 0
                        && rounded.abs().compareTo(BigDecimal.valueOf(1e4)) < 0
                ? rounded.toPlainString()
                : Quantity.format(value, Unit.ONE, DIGITS);
    }

    private static String some(double value, Unit unit) {
        return value == 0 ? "" : value(value, unit);
    }

    private static String atStart(Profile profile, Unit unit) {
        double value = profile.valueAt(0);
        return value(value, unit) + (profile.equals(Profile.constant(value)) ? "" : " at 0 s");
    }

    /** With something else beside it than what the part is worth. */
    Symbol valued(String value) {
        return new Symbol(name, kind, List.of(value), shape, turned, rank);
    }

    boolean isSwitch() {
        return shape.equals(SWITCH);
    }

    boolean isRectifier() {
        return shape.equals(RECTIFIER);
    }

    /** The same, with its first terminal on the other side; of a switch there is no first. */
    Symbol reversed() {
        return new Symbol(name, kind, values, shape, !shape.equals(SWITCH) && !turned, rank);
    }
}
