package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The first question of a design: which of the stages gives this output from that range of inputs, and would a linear
 * regulator do. A buck stage only steps down, a boost stage only steps up, and an inverting stage does both with the sign
 * turned (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, ch. 2 and 6). Parts are ideal: a sizing with the
 * drops of the parts comes next. Immutable.
 *
 * <pre>{@code
 * StageChoice choice = StageChoice.of(new Span(9, 15), 5, new Span(0.05, 2)); // V in, V out, A
 * Topology taken = choice.best().orElseThrow().topology(); // buck
 * double heat = choice.linear().orElseThrow().heat(); // 20.00 W in a linear regulator
 * }</pre>
 *
 * @param input range of the input voltage, V
 * @param outputVoltage V; negative for an inverted output
 * @param load range of the load current, A
 * @param options one for each stage
 * @param linear a linear regulator in its place; empty where there can be none
 */
public record StageChoice(
        Span input, double outputVoltage, Span load, List<StageOption> options, Optional<Linear> linear) {
    /** W; common practice, no source. */
    private static final double ONE_TRANSISTOR = 60;
    /** W; common practice, no source. */
    private static final double TWO_TRANSISTORS = 300;

    /**
     * Makes the list unmodifiable.
     *
     * @param input range of the input voltage, V
     * @param outputVoltage V; negative for an inverted output
     * @param load range of the load current, A
     * @param options one for each stage
     * @param linear a linear regulator in its place; empty where there can be none
     */
    public StageChoice {
        options = List.copyOf(options);
    }

    /**
     * A linear regulator at its best, which takes no current for itself.
     *
     * @param efficiency V_out / V_in from the highest to the lowest input
     * @param heat at the highest input and full load, W
     */
    public record Linear(Span efficiency, double heat) {
        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "linear regulator: efficiency %.1f %% to %.1f %% at most, up to %s of heat",
                    100 * efficiency.low(),
                    100 * efficiency.high(),
                    Quantity.format(heat, Unit.WATT, 4));
        }
    }

    /**
     * Looks at every stage.
     *
     * @param input range of the input voltage, V; more than 0
     * @param outputVoltage V; not 0, negative for an inverted output
     * @param load range of the load current, A; more than 0
     * @return the choice, which may be among none
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public static StageChoice of(Span input, double outputVoltage, Span load) {
        return of(input, outputVoltage, load, false);
    }

    /**
     * Looks at every stage that keeps the output apart from the input, or at every one that does not. Those with a transformer are
     * looked at with the turns that they propose, the one first that is usual for the power.
     *
     * @param input range of the input voltage, V; more than 0
     * @param outputVoltage V; not 0, negative for an inverted output
     * @param load range of the load current, A; more than 0
     * @param isolated whether the output is to be kept apart from the input
     * @return the choice, which may be among none
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public static StageChoice of(Span input, double outputVoltage, Span load, boolean isolated) {
        List<String> faults = new ArrayList<>();
        Specification.range(faults, "input voltage", input, "V");
        Specification.range(faults, "load current", load, "A");
        if (!(Math.abs(outputVoltage) > 0 && Math.abs(outputVoltage) < Double.POSITIVE_INFINITY)) {
            faults.add(
                    "output voltage must be finite and not 0 V but was " + Quantity.format(outputVoltage, Unit.VOLT));
        }
        if (!faults.isEmpty()) {
            throw new SizingException(faults);
        }
        double power = Math.abs(outputVoltage) * load.high();
        List<StageOption> options = Topology.READY.stream()
                .filter(topology -> topology.isIsolated() == isolated)
                .sorted(Comparator.comparingInt(topology -> isolated && isUsualFor(topology, power) ? 0 : 1))
                .map(topology -> option(wound(topology, input, outputVoltage), input, outputVoltage, load.high()))
                .toList();
        return new StageChoice(input, outputVoltage, load, options, linear(input, outputVoltage, load.high()));
    }

    /** Common practice, no source: one transistor for little power, two for more, four beyond. */
    private static boolean isUsualFor(Topology topology, double power) {
        Topology usual = power <= ONE_TRANSISTOR
                ? Topology.FLYBACK
                : power <= TWO_TRANSISTORS ? Topology.TWO_SWITCH_FORWARD : Topology.FULL_BRIDGE;
        return topology.equals(usual);
    }

    /**
     * Returns a stage with the turns that it proposes, if it has a transformer.
     *
     * @param topology the stage
     * @param input range of the input voltage, V
     * @param outputVoltage V
     * @return the stage with turns; the same without a transformer
     */
    public static Topology wound(Topology topology, Span input, double outputVoltage) {
        return topology.proposedTurns(input.low(), Math.abs(outputVoltage))
                .map(turns -> topology.with(StageParts.none().with(Transformer.of(turns, Double.NaN))))
                .orElse(topology);
    }

    private static StageOption option(Topology topology, Span input, double output, double load) {
        String obstacle = topology.obstacle(input.low(), input.high(), output).orElse("");
        return obstacle.isEmpty()
                ? StageOption.possible(topology, input, Math.abs(output), load)
                : StageOption.impossible(topology, obstacle);
    }

    private static Optional<Linear> linear(Span input, double output, double load) {
        if (!(output > 0 && output <= input.low())) {
            return Optional.empty();
        }
        LinearRegulator hottest = LinearRegulator.of(input.high(), output);
        double most = LinearRegulator.of(input.low(), output).efficiencyLimit();
        return Optional.of(new Linear(new Span(hottest.efficiencyLimit(), most), hottest.loss(load)));
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT);
    }

    /**
     * Returns what there is to say of one stage.
     *
     * @param topology the stage
     * @return its option
     */
    public StageOption option(Topology topology) {
        return options.stream()
                .filter(option -> option.topology().key().equals(topology.key()))
                .findFirst()
                .orElseThrow();
    }

    /**
     * Returns the simplest stage that gives the output: buck, boost or inverting, and where the output lies within the input range
     * the SEPIC.
     *
     * @return the option; empty if none gives it
     */
    public Optional<StageOption> best() {
        return options.stream().filter(StageOption::isPossible).findFirst();
    }

    /**
     * Begins the sizing of the stage that gives the output, with input range, output and load range of this choice; switching
     * frequency and ripples are still to be given.
     *
     * <pre>{@code
     * PartsProposal parts = StageChoice.of(new Span(9, 15), 5, new Span(0.05, 2)) // V in, V out, A
     *         .sizing()
     *         .switchingFrequency(kilo(300))
     *         .inductorRipple(0.3) // of the mean current
     *         .outputRipple(milli(50)) // V, peak to peak
     *         .propose();
     * double inductance = parts.inductance(); // 22.0 µH
     * }</pre>
     *
     * @return the builder of a specification
     * @throws SizingException if no stage gives the output
     */
    public SpecificationBuilder sizing() {
        StageOption stage = best().orElseThrow(() -> new SizingException(List.of(toString())));
        return Specification.of(stage.topology())
                .input(input.low(), input.high())
                .output(Math.abs(outputVoltage))
                .load(load.low(), load.high());
    }

    @Override
    public String toString() {
        return best().map(StageOption::toString)
                .orElse("no stage gives " + volt(outputVoltage) + " from " + volt(input.low()) + " to "
                        + volt(input.high()));
    }
}
