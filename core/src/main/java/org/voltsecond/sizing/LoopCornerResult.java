package org.voltsecond.sizing;

import java.util.Locale;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.Margins;

/**
 * The loop of a regulated stage at one corner.
 *
 * <pre>{@code
 * LoopProposal loop = LoopProposal.of(rail, LoopTarget.of(kilo(20), 60)); // Hz, degrees
 * LoopCornerResult worst = loop.check(new Span(9, 15), new Span(0.05, 2)).worst().orElseThrow();
 * String corner = worst.corner().toString(); // "9.000 V in, 50.00 mA out"
 * boolean stable = worst.stable(); // true
 * }</pre>
 *
 * @param corner input voltage and load current
 * @param conduction mode of conduction there
 * @param margins crossover and margins of the exact loop gain
 */
public record LoopCornerResult(Corner corner, Conduction conduction, Margins margins) {
    /**
     * Tells whether the steady state is stable, by its multipliers.
     *
     * @return true if it is
     */
    public boolean stable() {
        return margins.stable();
    }

    @Override
    public String toString() {
        return corner + ": " + conduction.toString().toLowerCase(Locale.ROOT) + ", " + margins
                + (stable() ? ", stable" : ", not stable");
    }
}
