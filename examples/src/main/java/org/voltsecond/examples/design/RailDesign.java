package org.voltsecond.examples.design;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.StringJoiner;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.Topology;
import org.voltsecond.study.SizingCorner;
import org.voltsecond.study.SizingLimits;
import org.voltsecond.study.SizingProposal;
import org.voltsecond.study.SizingRange;
import org.voltsecond.study.SizingSpecification;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The design that is proposed for a rail, as a design file to run and to go on from. */
final class RailDesign {
    /** A start-up has come to rest after some periods of the filter's resonance; common practice, no source. */
    private static final double RESONANCES = 5;

    /** And, where the load damps it little, after so many time constants of load and capacitor. */
    private static final double TIME_CONSTANTS = 10;

    /** Drop of a body diode where the file gives none; every MOSFET has one. Common practice, no source. */
    private static final double BODY_DIODE_DROP = 0.8;

    private final RailPlan plan;
    private final SizingSpecification wanted;
    private final SizingProposal proposal;
    private final double dutyCycle;

    private RailDesign(RailPlan plan, SizingProposal proposal, double dutyCycle) {
        this.plan = plan;
        this.wanted = plan.wanted();
        this.proposal = proposal;
        this.dutyCycle = dutyCycle;
    }

    static RailDesign of(RailPlan plan) {
        SizingSpecification wanted = plan.wanted();
        SizingProposal proposal = SizingProposal.of(wanted).refined();
        Converter full = proposal.converter(
                new SizingCorner(plan.typicalInput(), wanted.load().high()));
        double duty =
                DutyCycleSearch.forOutput(full, wanted.outputVoltage()).drive().dutyCycle();
        return new RailDesign(plan, proposal, duty);
    }

    String text() {
        StringJoiner text = new StringJoiner("\n\n", "", "\n");
        text.add("# Proposed for a rail of " + signed(wanted.outputVoltage()) + ", " + range(wanted.load(), Unit.AMPERE)
                + ", from " + range(wanted.input(), Unit.VOLT) + ".");
        text.add("name = " + quoted(plan.name()));
        text.add(table(
                "stage", "topology = " + quoted(wanted.topology().toString().replace(' ', '-'))));
        text.add(table("input", "voltage = " + quantity(plan.typicalInput(), Unit.VOLT)));
        text.add(table(
                "inductor",
                "inductance = " + quantity(proposal.inductance(), Unit.HENRY) + "  # at least "
                        + Quantity.format(proposal.leastInductance(), Unit.HENRY, 4) + " for its ripple",
                "resistance = " + quantity(wanted.parts().inductorResistance(), Unit.OHM)));
        text.add(table(
                "output_capacitor",
                "capacitance = " + quantity(proposal.capacitance(), Unit.FARAD) + "  # at least "
                        + Quantity.format(proposal.leastCapacitance(), Unit.FARAD, 4) + " for its share of the ripple",
                "resistance = " + quantity(proposal.seriesResistance(), Unit.OHM)
                        + "  # the most that the ripple allows"));
        text.add(transistor());
        text.add(rectifier());
        text.add(table("load", "resistance = " + quantity(ohm(), Unit.OHM)));
        text.add(table(
                "drive",
                "kind = \"fixed-duty\"",
                "duty_cycle = " + dutyCycle,
                "switching_frequency = " + quantity(wanted.switchingFrequency(), Unit.HERTZ)));
        text.add(table("transient", "duration = " + quantity(startUp(), Unit.SECOND), "start = \"rest\""));
        text.add(table("limits", "output_ripple = " + quantity(wanted.outputRipple(), Unit.VOLT)));
        if (hasMap()) {
            text.add(table(
                    "map",
                    "across = { quantity = \"load_current\", " + ends(wanted.load(), Unit.AMPERE) + " }",
                    "up = { quantity = \"input_voltage\", " + ends(wanted.input(), Unit.VOLT)
                            + ", spacing = \"steps\" }",
                    "output_voltage = " + quantity(wanted.outputVoltage(), Unit.VOLT)));
        }
        text.add(sizing());
        return text.toString();
    }

    private String transistor() {
        RectifierPart diode = plan.transistor().bodyDiode();
        return table(
                "transistor",
                "on_resistance = " + quantity(plan.transistor().onResistance(), Unit.OHM),
                "body_diode_drop = " + quantity(diode == null ? BODY_DIODE_DROP : diode.forwardDrop(), Unit.VOLT)
                        + (diode == null ? "  # assumed" : ""),
                "body_diode_resistance = " + quantity(diode == null ? 0 : diode.resistance(), Unit.OHM));
    }

    private String rectifier() {
        RectifierPart part = plan.rectifier();
        String resistance = "resistance = " + quantity(part.resistance(), Unit.OHM);
        if (!part.synchronous()) {
            return table(
                    "rectifier",
                    "kind = \"diode\"",
                    "forward_drop = " + quantity(part.forwardDrop(), Unit.VOLT),
                    resistance);
        }
        RectifierPart diode = part.bodyDiode();
        return diode == null
                ? table("rectifier", "kind = \"synchronous\"", resistance)
                : table(
                        "rectifier",
                        "kind = \"synchronous\"",
                        resistance,
                        "body_diode_drop = " + quantity(diode.forwardDrop(), Unit.VOLT),
                        "body_diode_resistance = " + quantity(diode.resistance(), Unit.OHM));
    }

    private String sizing() {
        StringJoiner keys = new StringJoiner("\n", "[sizing]\n", "");
        keys.add("input = { " + ends(wanted.input(), Unit.VOLT) + " }");
        keys.add("load = { " + ends(wanted.load(), Unit.AMPERE) + " }");
        keys.add("output_voltage = " + quantity(wanted.outputVoltage(), Unit.VOLT));
        keys.add("inductor_ripple = " + wanted.inductorRipple());
        keys.add("output_ripple = " + quantity(wanted.outputRipple(), Unit.VOLT));
        keys.add("capacitive_share = " + wanted.capacitiveShare());
        SizingLimits limits = wanted.limits();
        if (limits.dutyCycle() < 1) {
            keys.add("maximum_duty_cycle = " + limits.dutyCycle());
        }
        if (limits.onTime() > 0) {
            keys.add("shortest_on_time = " + quantity(limits.onTime(), Unit.SECOND));
        }
        if (limits.inductorPeak() < Double.POSITIVE_INFINITY) {
            keys.add("inductor_peak = " + quantity(limits.inductorPeak(), Unit.AMPERE));
        }
        return keys.toString();
    }

    private boolean hasMap() {
        return wanted.load().low() < wanted.load().high()
                && wanted.input().low() < wanted.input().high();
    }

    /** The filter rings at 1 / (2 pi sqrt(L C)), and through a stage that steps up at (1 - D) of that. */
    private double startUp() {
        double share = wanted.topology() == Topology.BUCK ? 1 : 1 - dutyCycle;
        double resonance = 2 * Math.PI * Math.sqrt(proposal.inductance() * proposal.capacitance()) / share;
        double timeConstant = ohm() * proposal.capacitance();
        return roundedUp(Math.max(RESONANCES * resonance, TIME_CONSTANTS * timeConstant));
    }

    /** To one significant digit. */
    private static double roundedUp(double value) {
        return new BigDecimal(value).round(new MathContext(1, RoundingMode.UP)).doubleValue();
    }

    private double ohm() {
        return wanted.outputVoltage() / wanted.load().high();
    }

    private String signed(double magnitude) {
        return volt(wanted.topology() == Topology.INVERTING_BUCK_BOOST ? -magnitude : magnitude);
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT);
    }

    private static String range(SizingRange range, Unit unit) {
        return Quantity.format(range.low(), unit) + " to " + Quantity.format(range.high(), unit);
    }

    private static String ends(SizingRange range, Unit unit) {
        return "from = " + quantity(range.low(), unit) + ", to = " + quantity(range.high(), unit);
    }

    private static String table(String name, String... lines) {
        return "[" + name + "]\n" + String.join("\n", lines);
    }

    private static String quantity(double value, Unit unit) {
        return quoted(Quantity.format(value, unit));
    }

    /** A basic string of TOML 1.0. */
    private static String quoted(String text) {
        StringBuilder quoted = new StringBuilder("\"");
        text.codePoints().forEach(point -> {
            if (point == '"' || point == '\\') {
                quoted.append('\\').appendCodePoint(point);
            } else if (Character.isISOControl(point)) {
                quoted.append(String.format("\\u%04X", point));
            } else {
                quoted.appendCodePoint(point);
            }
        });
        return quoted.append('"').toString();
    }
}
