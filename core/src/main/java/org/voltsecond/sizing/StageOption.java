package org.voltsecond.sizing;

import java.util.Locale;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What one power stage would have to do over a range of input voltages, and whether it can; for ideal parts and continuous
 * conduction.
 *
 * <pre>{@code
 * StageOption buck = StageChoice.of(new Span(9, 15), 5, new Span(0.05, 2)).option(Topology.BUCK);
 * boolean can = buck.isPossible(); // true
 * double longest = buck.dutyCycle().high(); // 55.56 %
 * }</pre>
 *
 * @param topology the stage
 * @param obstacle why it cannot give the output; empty if it can
 * @param dutyCycle over the input range; not numbers if it cannot
 * @param inductorCurrent the highest mean current of the inductor, at full load, A; not a number if it cannot
 * @param blockedVoltage the highest voltage that transistor and rectifier have to block in turn, V; not a number if it
 *     cannot
 */
public record StageOption(
        Topology topology, String obstacle, Span dutyCycle, double inductorCurrent, double blockedVoltage) {

    static StageOption possible(Topology topology, Span input, double magnitude, double load) {
        double first = StageFormulas.dutyCycle(topology, input.low(), magnitude, 0, 0);
        double second = StageFormulas.dutyCycle(topology, input.high(), magnitude, 0, 0);
        double highest = Math.max(first, second);
        return new StageOption(
                topology,
                "",
                new Span(Math.min(first, second), highest),
                StageFormulas.inductorCurrent(topology, load, highest),
                topology.blockedVoltage(input.high(), magnitude));
    }

    static StageOption impossible(Topology topology, String obstacle) {
        return new StageOption(topology, obstacle, new Span(Double.NaN, Double.NaN), Double.NaN, Double.NaN);
    }

    /**
     * Tells whether the stage can give the output over the whole input range.
     *
     * @return true if it can
     */
    public boolean isPossible() {
        return obstacle.isEmpty();
    }

    @Override
    public String toString() {
        return isPossible()
                ? String.format(
                        Locale.ROOT,
                        "%s: duty cycle %.1f %% to %.1f %%, inductor current %s, the switch must block %s",
                        topology,
                        100 * dutyCycle.low(),
                        100 * dutyCycle.high(),
                        Quantity.format(inductorCurrent, Unit.AMPERE, 4),
                        Quantity.format(blockedVoltage, Unit.VOLT, 4))
                : topology + ": " + obstacle;
    }
}
