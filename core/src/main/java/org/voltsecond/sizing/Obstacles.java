package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoublePredicate;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Which practical limits a stage passes at full load, each with what would be possible at it. */
final class Obstacles {
    /** Halvings of a bracket: more than the digits that a message has. */
    private static final int HALVINGS = 60;

    /** So many times the wanted input or output is looked for what would be possible. */
    private static final double WIDEST = 1000;

    private static final int DIGITS = 3;

    private final Specification wanted;
    private final PracticalLimits limits;
    private final double low;
    private final double high;
    private final double frequency;
    private final List<String> found = new ArrayList<>();

    private Obstacles(PartsProposal proposal) {
        wanted = proposal.specification();
        limits = wanted.limits();
        low = proposal.dutyCycle().low();
        high = proposal.dutyCycle().high();
        frequency = wanted.switchingFrequency();
    }

    static List<String> of(PartsProposal proposal) {
        Obstacles obstacles = new Obstacles(proposal);
        obstacles.atTheLowestInput();
        obstacles.atTheHighestInput();
        return List.copyOf(obstacles.found);
    }

    private void atTheLowestInput() {
        if (high > limits.dutyCycle()) {
            found.add("largest duty cycle of " + percent(limits.dutyCycle()) + ": "
                    + takes(wanted.input().low(), high)
                    + "; possible at that limit: " + atMost(limits.dutyCycle())
                    + ", or a stage with a transformer or with a wider range");
        }
        double offTime = (1 - high) / frequency;
        if (offTime < limits.offTime()) {
            found.add("shortest off-time of " + seconds(limits.offTime()) + ": "
                    + takes(wanted.input().low(), high)
                    + ", which leaves " + seconds(offTime)
                    + "; possible at that limit: a switching frequency of at most "
                    + Quantity.format((1 - high) / limits.offTime(), Unit.HERTZ, DIGITS)
                    + beyond(", or ", 1 - limits.offTime() * frequency));
        }
    }

    private void atTheHighestInput() {
        if (low < limits.leastDutyCycle()) {
            found.add("smallest duty cycle of " + percent(limits.leastDutyCycle()) + ": "
                    + takes(wanted.input().high(), low) + "; possible at that limit: "
                    + atLeast(limits.leastDutyCycle())
                    + ", or a stage with a transformer, or two stages in a row");
        }
        double onTime = low / frequency;
        if (onTime < limits.onTime()) {
            found.add("shortest on-time of " + seconds(limits.onTime()) + ": "
                    + takes(wanted.input().high(), low)
                    + ", which is " + seconds(onTime) + "; possible at that limit: a switching frequency of at most "
                    + Quantity.format(low / limits.onTime(), Unit.HERTZ, DIGITS)
                    + (limits.onTime() * frequency < 1 ? ", or " + atLeast(limits.onTime() * frequency) : ""));
        }
    }

    private String takes(double input, double dutyCycle) {
        return "an input of " + volt(input) + " takes a duty cycle of " + percent(dutyCycle) + " at full load";
    }

    private String beyond(String before, double dutyCycle) {
        return dutyCycle > 0 ? before + atMost(dutyCycle) : "";
    }

    /** The highest output from the lowest input, and the lowest input for the output. */
    private String atMost(double dutyCycle) {
        double input = wanted.input().low();
        double output = last(0, wanted.outputVoltage(), volt -> dutyCycle(input, volt) <= dutyCycle);
        double lowest = last(WIDEST * input, input, volt -> dutyCycle(volt, wanted.outputVoltage()) <= dutyCycle);
        return "an output of at most " + volt(output) + ", or an input of at least " + volt(lowest);
    }

    /** The lowest output from the highest input, and the highest input for the output. */
    private String atLeast(double dutyCycle) {
        double input = wanted.input().high();
        double output = last(
                WIDEST * wanted.outputVoltage(), wanted.outputVoltage(), volt -> !(dutyCycle(input, volt) < dutyCycle));
        double highest = last(0, input, volt -> !(dutyCycle(volt, wanted.outputVoltage()) < dutyCycle));
        return "an output of at least " + volt(output) + ", or an input of at most " + volt(highest);
    }

    private double dutyCycle(double input, double output) {
        // a stage that steps up gives what is below its input without closing the switch at all
        boolean idle = StageFormulas.dutyCycle(wanted.topology(), input, output, 0, 0) <= 0;
        return idle ? 0 : RatedPoint.of(wanted, input, output).dutyCycle();
    }

    /** The last value that is allowed on the way from one that is to one that is not. */
    private static double last(double allowed, double not, DoublePredicate isAllowed) {
        double from = allowed;
        double to = not;
        for (int k = 0; k < HALVINGS; k++) {
            double middle = (from + to) / 2;
            if (isAllowed.test(middle)) {
                from = middle;
            } else {
                to = middle;
            }
        }
        return from;
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT, DIGITS);
    }

    private static String seconds(double value) {
        return Quantity.format(value, Unit.SECOND, DIGITS);
    }

    private static String percent(double share) {
        return Quantity.format(100 * share, Unit.ONE, DIGITS) + " %";
    }
}
