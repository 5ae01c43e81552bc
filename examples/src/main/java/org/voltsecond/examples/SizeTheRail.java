package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.CornerMargin;
import org.voltsecond.sizing.CornerResult;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.Specification;
import org.voltsecond.stage.Topology;

/** Example: which inductor and capacitor does the buoy's logic rail need from a flat to a full battery, and what binds? */
public final class SizeTheRail {
    private SizeTheRail() {}

    /**
     * Prints the proposal, the exact figures at every corner, and what binds.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        PartsProposal proposal = Specification.of(Topology.BUCK)
                .input(9, 15) // V
                .output(5) // V
                .load(0.05, 2) // A
                .switchingFrequency(kilo(300)) // Hz
                .inductorRipple(0.3) // of the mean inductor current
                .outputRipple(milli(50)) // V, peak to peak
                .parts(new ConductingParts(milli(80), milli(30), false, 0.4, milli(20)))
                .propose()
                .refined();
        System.out.println("proposed    " + proposal);
        Span duty = proposal.dutyCycle();
        System.out.printf(Locale.ROOT, "duty cycle  %.3f to %.3f%n", duty.low(), duty.high());
        PartsCheck check = proposal.check();
        System.out.println("corner                     duty cycle  conduction     inductor ripple  output ripple");
        for (CornerResult found : check.results()) {
            System.out.printf(
                    Locale.ROOT, "%-27s%.4f      %-13s", found.corner(), found.dutyCycle(), found.conduction());
            System.out.printf(
                    Locale.ROOT, "  %.4f A         %.2f mV%n", found.inductorRipple(), 1e3 * found.outputRipple());
        }
        System.out.println(check.passes() ? "every corner passes" : "not every corner passes");
        CornerMargin binding = check.binding().orElseThrow();
        System.out.printf(Locale.ROOT, "binds: %s, %.1f %% left%n", binding, 100 * binding.margin());
    }
}
