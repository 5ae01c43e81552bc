package org.voltsecond.examples;

import java.util.Locale;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageOption;

/** Example: which stage makes each rail of the buoy from its battery, and would a linear regulator do? */
public final class WhichStage {
    private WhichStage() {}

    /**
     * Prints every stage for every rail.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Span battery = new Span(9, 15); // V
        double[] outputs = {5, 24, -5}; // V
        double[] loads = {2, 0.5, 0.06}; // A
        for (int rail = 0; rail < outputs.length; rail++) {
            StageChoice choice = StageChoice.of(battery, outputs[rail], new Span(loads[rail] / 10, loads[rail]));
            System.out.printf(Locale.ROOT, "%.0f V, %.2f A%n", outputs[rail], loads[rail]);
            for (StageOption option : choice.options()) {
                System.out.println("  " + option);
            }
            System.out.println(choice.linear()
                    .map(linear -> String.format(
                            Locale.ROOT,
                            "  linear regulator: %.1f %% to %.1f %% at most, up to %.2f W of heat",
                            100 * linear.efficiency().low(),
                            100 * linear.efficiency().high(),
                            linear.heat()))
                    .orElse("  linear regulator: it neither steps up nor inverts"));
        }
    }
}
