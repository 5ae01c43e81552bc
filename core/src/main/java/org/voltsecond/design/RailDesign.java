package org.voltsecond.design;

import static org.voltsecond.design.RailDesign.DesignText.ends;
import static org.voltsecond.design.RailDesign.DesignText.quantity;
import static org.voltsecond.design.RailDesign.DesignText.quoted;
import static org.voltsecond.design.RailDesign.DesignText.range;
import static org.voltsecond.design.RailDesign.DesignText.table;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.StringJoiner;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.design.RailReader.RailPlan;
import org.voltsecond.design.RailReader.RailRegulator;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.CornerResult;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.PracticalLimits;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.Specification;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Transformer;
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

    /** So many times a soft start is made twice as long for the current of the start-up. */
    private static final int SLOWER = 4;

    /** A start-up has its highest current in far fewer periods; common practice, no source. */
    private static final double MOST_PERIODS = 20_000;

    /** Drop of a body diode where the file gives none; every MOSFET has one. Common practice, no source. */
    private static final double BODY_DIODE_DROP = 0.8;

    private final RailPlan plan;
    private final Specification wanted;
    private final PartsProposal proposal;
    private final double dutyCycle;
    private final Converter full;
    private final @Nullable RailLoop loop;
    private final PartsCheck check;
    private final double softStart;
    private final double startUpPeak;

    private RailDesign(RailPlan plan, PartsProposal proposal, Converter full) {
        this.plan = plan;
        this.wanted = plan.wanted();
        this.proposal = proposal;
        this.full = full;
        this.dutyCycle = full.drive().dutyCycle();
        RailRegulator regulator = plan.regulator();
        this.loop = regulator == null ? null : RailLoop.of(regulator, wanted, full, proposal);
        check = proposal.check();
        double most = plan.startUpCurrent() * fullPeak();
        double usual = DesignText.roundedUp(Math.max(2 * RESONANCES * resonance(), CHARGING * timeConstant()));
        double time = loop == null ? Double.NaN : loop.softStart(usual);
        double peak = startUpPeak(full, time);
        for (int k = 0; k < SLOWER && loop != null && peak > most && time == usual * (1 << k); k++) {
            time *= 2;
            peak = startUpPeak(full, time);
        }
        softStart = time;
        startUpPeak = peak;
        if (peak > most) {
            throw new SizingException(List.of("current of a start-up of at most "
                    + Quantity.format(plan.startUpCurrent(), Unit.ONE, 3) + " times the peak of full load, which is "
                    + ampere(fullPeak()) + ": from rest the inductor current reaches " + ampere(peak)
                    + "; possible at that limit: less output ripple that the capacitance takes (capacitive_share), more"
                    + (loop == null ? " inductance, or a [rail.regulator] with its soft start," : " inductance")
                    + " or start_up_current = " + DesignText.roundedUp(peak / fullPeak())));
        }
    }

    private double fullPeak() {
        return check.results().stream()
                .mapToDouble(CornerResult::inductorPeak)
                .max()
                .orElse(Double.POSITIVE_INFINITY);
    }

    private double startUpPeak(Converter full, double time) {
        Converter starting = loop == null ? full : loop.starting(time);
        double duration = Math.max(startUp(), Double.isNaN(time) ? 0 : time);
        return starting.startUp(Math.min(duration, MOST_PERIODS / wanted.switchingFrequency()))
                .of(starting.inductorCurrent())
                .maximum();
    }

    /** What a reader should know of the start-up and of the lightest load, as comments. */
    private String cautions() {
        StringJoiner lines = new StringJoiner("\n");
        lines.add("# From rest the inductor current reaches " + ampere(startUpPeak) + ", "
                + Quantity.format(startUpPeak / fullPeak(), Unit.ONE, 2) + " times the peak of full load.");
        check.results().stream()
                .filter(result -> result.onTime() < wanted.limits().onTime())
                .forEach(result -> lines.add("# At " + result.corner() + " the on-time is "
                        + Quantity.format(result.onTime(), Unit.SECOND, 3) + ", less than the shortest of "
                        + Quantity.format(wanted.limits().onTime(), Unit.SECOND, 3)
                        + ": a controller skips pulses there."));
        return lines.toString();
    }

    private static String ampere(double value) {
        return Quantity.format(value, Unit.AMPERE, 3);
    }

    static RailDesign of(RailPlan plan) {
        Specification wanted = plan.wanted();
        PartsProposal parts = PartsProposal.of(wanted);
        List<String> obstacles = parts.obstacles();
        if (!obstacles.isEmpty()) {
            List<String> told = new ArrayList<>(obstacles);
            told.add("for a controller with other limits, set them in [rail]: minimum_duty_cycle, maximum_duty_cycle,"
                    + " shortest_on_time, shortest_off_time");
            throw new SizingException(told);
        }
        PartsProposal proposal = parts.refined();
        Converter full =
                proposal.converter(new Corner(plan.typicalInput(), wanted.load().high()));
        return new RailDesign(plan, proposal, DutyCycleSearch.forOutput(full, wanted.outputVoltage()));
    }

    String text() {
        StringJoiner text = new StringJoiner("\n\n", "", "\n");
        text.add("# Proposed for a rail of " + signed(wanted.outputVoltage()) + ", " + range(wanted.load(), Unit.AMPERE)
                + ", from " + range(wanted.input(), Unit.VOLT) + ".");
        text.add("name = " + quoted(plan.name()));
        text.add(table("stage", "topology = " + quoted(wanted.topology().key())));
        text.add(table("input", "voltage = " + quantity(plan.typicalInput(), Unit.VOLT)));
        String least = "  # at least " + Quantity.format(proposal.leastInductance(), Unit.HENRY, 4) + " for its ripple";
        boolean hasInductor = wanted.topology().hasInductor();
        if (hasInductor) {
            text.add(table(
                    "inductor",
                    "inductance = " + quantity(proposal.inductance(), Unit.HENRY) + least,
                    "resistance = " + quantity(wanted.parts().inductorResistance(), Unit.OHM)));
        }
        proposal.further().stream()
                .filter(part -> !(part instanceof Transformer))
                .forEach(part -> text.add(FurtherParts.text(part)));
        proposal.parts().get(Transformer.class).ifPresent(core -> text.add(core(core, hasInductor ? "" : least)));
        text.add(table(
                "output_capacitor",
                "capacitance = " + quantity(proposal.capacitance(), Unit.FARAD) + "  # at least "
                        + Quantity.format(proposal.leastCapacitance(), Unit.FARAD, 4) + " for its share of the ripple",
                "resistance = " + quantity(proposal.seriesResistance(), Unit.OHM)
                        + "  # the most that the ripple allows",
                bias()));
        text.add(transistor());
        text.add(rectifier());
        text.add(table("load", "resistance = " + quantity(DesignText.written(ohm()), Unit.OHM)));
        text.add(cautions());
        text.add(loop == null ? fixedDuty() : loop.text(softStart, plan.carried()));
        text.add(plan.carried()
                .or("limits", table("limits", "output_ripple = " + quantity(wanted.outputRipple(), Unit.VOLT))));
        if (hasMap()) {
            text.add(map());
        }
        text.add(sizing());
        for (String name : List.of(
                "losses",
                HeatReader.TABLE,
                "tolerance",
                StudyPlans.EmissionReader.TABLE,
                StudyPlans.ReviewReader.RATINGS)) {
            if (plan.carried().has(name)) {
                text.add(plan.carried().or(name, ""));
            }
        }
        if (loop == null && plan.carried().has("frequency_response")) {
            text.add(plan.carried().or("frequency_response", ""));
        }
        return text.toString();
    }

    /** Without leakage, which is known once it is wound; then it takes a clamp or, in a bridge, goes back to the input. */
    private static String core(Transformer core, String comment) {
        Transformer.Turns turns = core.turns();
        String reset = Double.isNaN(turns.reset()) ? "" : ", reset = " + number(turns.reset());
        return table(
                "transformer",
                "turns = { primary = " + number(turns.primary()) + ", secondary = " + number(turns.secondary()) + reset
                        + " }",
                "magnetizing_inductance = " + quantity(core.magnetizingInductance(), Unit.HENRY) + comment
                        + "\n# its leakage_inductance is known once it is wound, and asks for a [clamp] or a way back");
    }

    private static String number(double turns) {
        return turns == Math.rint(turns) ? String.valueOf((long) turns) : String.valueOf(turns);
    }

    private String fixedDuty() {
        return table(
                        "drive",
                        "kind = \"fixed-duty\"",
                        "duty_cycle = " + DesignText.written(dutyCycle),
                        "switching_frequency = " + quantity(wanted.switchingFrequency(), Unit.HERTZ))
                + "\n\n"
                + plan.carried()
                        .or(
                                "transient",
                                table(
                                        "transient",
                                        "duration = " + quantity(startUp(), Unit.SECOND),
                                        "start = \"rest\""));
    }

    /** Where each point takes a search of its own, as under a regulator, there are fewer. */
    private String map() {
        String load = "across = { quantity = \"load_current\", " + ends(wanted.load(), Unit.AMPERE);
        String input =
                "up = { quantity = \"input_voltage\", " + ends(wanted.input(), Unit.VOLT) + ", spacing = \"steps\"";
        boolean quick = loop == null && StageSampler.isQuickFor(full);
        String points = quick ? "" : ", points = 25";
        String lines = quick ? "" : ", points = 13";
        String held = loop == null ? "\noutput_voltage = " + quantity(wanted.outputVoltage(), Unit.VOLT) : "";
        return table("map", load + points + " }", input + lines + " }" + held);
    }

    private String transistor() {
        StageParts.Diode diode = plan.transistor().bodyDiode();
        double drop = plan.transistor().forwardDrop();
        return table(
                "transistor",
                "on_resistance = " + quantity(plan.transistor().onResistance(), Unit.OHM)
                        + (drop == 0 ? "" : "\nforward_drop = " + quantity(drop, Unit.VOLT)),
                "body_diode_drop = " + quantity(diode == null ? BODY_DIODE_DROP : diode.forwardDrop(), Unit.VOLT)
                        + (diode == null ? "  # assumed" : ""),
                "body_diode_resistance = " + quantity(diode == null ? 0 : diode.resistance(), Unit.OHM));
    }

    private String rectifier() {
        StageParts.Rectifier part = plan.rectifier();
        String resistance = "resistance = " + quantity(part.resistance(), Unit.OHM);
        if (!part.synchronous()) {
            return table(
                    "rectifier",
                    "kind = \"diode\"",
                    "forward_drop = " + quantity(part.forwardDrop(), Unit.VOLT),
                    resistance);
        }
        StageParts.Diode diode = part.bodyDiode();
        return diode == null
                ? table("rectifier", "kind = \"synchronous\"", resistance)
                : table(
                        "rectifier",
                        "kind = \"synchronous\"",
                        resistance,
                        "body_diode_drop = " + quantity(diode.forwardDrop(), Unit.VOLT),
                        "body_diode_resistance = " + quantity(diode.resistance(), Unit.OHM));
    }

    /** That of the capacitor proposed; no line where it does not fade. */
    private String bias() {
        return bends("bias = [ ", "capacitance", bend -> quantity(bend.value() * proposal.capacitance(), Unit.FARAD));
    }

    private String bends(String before, String key, Function<Bend, String> value) {
        List<Bend> fading = wanted.series().fading();
        return fading.isEmpty()
                ? ""
                : fading.stream()
                        .map(bend -> "{ above = " + quantity(bend.above(), Unit.VOLT) + ", " + key + " = "
                                + value.apply(bend) + " }")
                        .collect(Collectors.joining(", ", before, " ]"));
    }

    private String sizing() {
        StringJoiner keys = new StringJoiner("\n", "[sizing]\n", "");
        keys.add("input = { " + ends(wanted.input(), Unit.VOLT) + " }");
        keys.add("load = { " + ends(wanted.load(), Unit.AMPERE) + " }");
        keys.add("output_voltage = " + quantity(wanted.outputVoltage(), Unit.VOLT));
        keys.add("inductor_ripple = " + wanted.inductorRipple());
        keys.add("output_ripple = " + quantity(wanted.outputRipple(), Unit.VOLT));
        keys.add("capacitive_share = " + wanted.capacitiveShare());
        String fading = bends("capacitor_bias = [ ", "left", bend -> String.valueOf(bend.value()));
        if (!fading.isEmpty()) {
            keys.add(fading);
        }
        PracticalLimits limits = wanted.limits();
        PracticalLimits usual = PracticalLimits.USUAL;
        if (limits.leastDutyCycle() > 0 && limits.leastDutyCycle() != usual.leastDutyCycle()) {
            keys.add("minimum_duty_cycle = " + limits.leastDutyCycle());
        }
        if (limits.dutyCycle() < 1 && limits.dutyCycle() != usual.dutyCycle()) {
            keys.add("maximum_duty_cycle = " + limits.dutyCycle());
        }
        if (limits.offTime() > 0 && limits.offTime() != usual.offTime()) {
            keys.add("shortest_off_time = " + quantity(limits.offTime(), Unit.SECOND));
        }
        if (limits.onTime() > 0 && limits.onTime() != usual.onTime()) {
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
        double share = wanted.topology().outputShare(dutyCycle);
        return 2 * Math.PI * Math.sqrt(proposal.inductance() * proposal.capacitance()) / share;
    }

    private double timeConstant() {
        return ohm() * proposal.capacitance();
    }

    private double ohm() {
        return wanted.outputVoltage() / wanted.load().high();
    }

    private String signed(double magnitude) {
        return volt(wanted.topology().isInverting() ? -magnitude : magnitude);
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT);
    }

    /** Pieces of a design file that is written. */
    static final class DesignText {
        private DesignText() {}

        /** To one significant digit. */
        static double roundedUp(double value) {
            return BigDecimal.valueOf(value)
                    .round(new MathContext(1, RoundingMode.UP))
                    .doubleValue();
        }

        /** To four significant digits, as one writes a value down. */
        static double rounded(double value) {
            return BigDecimal.valueOf(value).round(new MathContext(4)).doubleValue();
        }

        /** To six significant digits, where the output follows the value. */
        static double written(double value) {
            return new BigDecimal(value).round(new MathContext(6)).doubleValue();
        }

        static String range(Span range, Unit unit) {
            return Quantity.format(range.low(), unit) + " to " + Quantity.format(range.high(), unit);
        }

        static String ends(Span range, Unit unit) {
            return "from = " + quantity(range.low(), unit) + ", to = " + quantity(range.high(), unit);
        }

        static String table(String name, String... lines) {
            return Stream.of(lines)
                    .filter(line -> !line.isEmpty())
                    .collect(Collectors.joining("\n", "[" + name + "]\n", ""));
        }

        static String quantity(double value, Unit unit) {
            return quoted(Quantity.format(value, unit));
        }

        /** A basic string of TOML 1.0. */
        static String quoted(String text) {
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
}
