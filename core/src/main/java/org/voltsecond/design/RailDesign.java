package org.voltsecond.design;

import static org.voltsecond.design.DesignText.ends;
import static org.voltsecond.design.DesignText.quantity;
import static org.voltsecond.design.DesignText.quoted;
import static org.voltsecond.design.DesignText.range;
import static org.voltsecond.design.DesignText.table;

import java.util.StringJoiner;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.Topology;
import org.voltsecond.design.Design.RectifierPart;
import org.voltsecond.design.RailReader.RailPlan;
import org.voltsecond.design.RailReader.RailRegulator;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.PracticalLimits;
import org.voltsecond.sizing.Specification;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The design that is proposed for a rail, as a design file to run and to go on from. */
final class RailDesign {
    /** A start-up has come to rest after some periods of the filter's resonance; common practice, no source. */
    private static final double RESONANCES = 5;

    /** And, where the load damps it little, after so many time constants of load and capacitor. */
    private static final double TIME_CONSTANTS = 10;

    /** A soft start this long charges the capacitor with a quarter of the full load; common practice, no source. */
    private static final double CHARGING = 4;

    /** Drop of a body diode where the file gives none; every MOSFET has one. Common practice, no source. */
    private static final double BODY_DIODE_DROP = 0.8;

    private final RailPlan plan;
    private final Specification wanted;
    private final PartsProposal proposal;
    private final double dutyCycle;
    private final @Nullable RailLoop loop;

    private RailDesign(RailPlan plan, PartsProposal proposal, Converter full) {
        this.plan = plan;
        this.wanted = plan.wanted();
        this.proposal = proposal;
        this.dutyCycle = full.drive().dutyCycle();
        RailRegulator regulator = plan.regulator();
        this.loop = regulator == null ? null : RailLoop.of(regulator, wanted, full, proposal);
    }

    static RailDesign of(RailPlan plan) {
        Specification wanted = plan.wanted();
        PartsProposal proposal = PartsProposal.of(wanted).refined();
        Converter full =
                proposal.converter(new Corner(plan.typicalInput(), wanted.load().high()));
        return new RailDesign(plan, proposal, DutyCycleSearch.forOutput(full, wanted.outputVoltage()));
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
        text.add(table("load", "resistance = " + quantity(DesignText.written(ohm()), Unit.OHM)));
        text.add(
                loop == null
                        ? fixedDuty()
                        : loop.text(DesignText.roundedUp(
                                Math.max(2 * RESONANCES * resonance(), CHARGING * timeConstant()))));
        text.add(table("limits", "output_ripple = " + quantity(wanted.outputRipple(), Unit.VOLT)));
        if (hasMap()) {
            text.add(map());
        }
        text.add(sizing());
        if (!plan.carried().isEmpty()) {
            text.add(plan.carried());
        }
        return text.toString();
    }

    private String fixedDuty() {
        return table(
                        "drive",
                        "kind = \"fixed-duty\"",
                        "duty_cycle = " + DesignText.written(dutyCycle),
                        "switching_frequency = " + quantity(wanted.switchingFrequency(), Unit.HERTZ))
                + "\n\n"
                + table("transient", "duration = " + quantity(startUp(), Unit.SECOND), "start = \"rest\"");
    }

    /** A regulator holds the output by itself, and each point then takes a search of its own, so that there are fewer. */
    private String map() {
        String load = "across = { quantity = \"load_current\", " + ends(wanted.load(), Unit.AMPERE);
        String input =
                "up = { quantity = \"input_voltage\", " + ends(wanted.input(), Unit.VOLT) + ", spacing = \"steps\"";
        return loop == null
                ? table(
                        "map",
                        load + " }",
                        input + " }",
                        "output_voltage = " + quantity(wanted.outputVoltage(), Unit.VOLT))
                : table("map", load + ", points = 25 }", input + ", points = 13 }");
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
        PracticalLimits limits = wanted.limits();
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

    private double startUp() {
        return DesignText.roundedUp(Math.max(RESONANCES * resonance(), TIME_CONSTANTS * timeConstant()));
    }

    /** The filter rings at 1 / (2 pi sqrt(L C)), and through a stage that steps up at (1 - D) of that. */
    private double resonance() {
        double share = wanted.topology() == Topology.BUCK ? 1 : 1 - dutyCycle;
        return 2 * Math.PI * Math.sqrt(proposal.inductance() * proposal.capacitance()) / share;
    }

    private double timeConstant() {
        return ohm() * proposal.capacitance();
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
}
