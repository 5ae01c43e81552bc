package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.voltsecond.engine.CycleRows.Hop;
import org.voltsecond.numeric.Matrices;

/**
 * A way over an instant that shifts, as a polynomial in the shift: held against the flows up to the instant and after it, each over the
 * time that it then takes. What is left out beyond some power is to be within its bound, and of all that are enough, nothing.
 */
class CycleRowsProperties {
    private static final double BEFORE = 0.3;
    private static final double UNTIL = 0.4;
    private static final double AFTER = 0.5;

    private final Random random = new Random(0);

    /** What lies before the time whose end shifts, that time, the jump, what follows up to a fixed end, and what lies behind that. */
    private record Way(Flow lead, Flow shifted, double[] jump, Flow fixed, Flow tail, double[] z) {
        int n() {
            return z.length;
        }

        private double[] change(Flow flow, double duration) {
            double[] change = new double[n() * (n() + 1)];
            flow.changeOver(duration, change, change.clone());
            return change;
        }

        Hop hop(boolean isLed) {
            CycleRows rows = new CycleRows(n(), 1);
            Hop hop = new Hop(0, 0, 1, 0, n());
            rows.begin();
            if (isLed) {
                rows.advance(change(lead, BEFORE));
            }
            rows.advanceToShiftedEnd(shifted, change(shifted, UNTIL));
            rows.advance(jump);
            rows.advanceToFixedEnd(fixed, change(fixed, AFTER));
            rows.advance(change(tail, BEFORE));
            rows.write(hop);
            return hop;
        }

        double[] end(boolean isLed, double shift) {
            double[] from = z;
            if (isLed) {
                from = after(change(lead, BEFORE), from);
            }
            from = after(change(shifted, UNTIL + shift), from);
            from = after(jump, from);
            from = after(change(fixed, AFTER - shift), from);
            return after(change(tail, BEFORE), from);
        }

        private double[] after(double[] change, double[] from) {
            double[] end = new double[n()];
            CycleSpan.follow(change, from, end, n());
            return end;
        }

        void isBounded(boolean isLed) {
            Hop hop = hop(isLed);
            double size = Matrices.size(z);
            double reach = hop.reachAt(Math.max(size, 1e-3));
            for (double part : new double[] {-1, -0.3, 0.2, 0.7, 1}) {
                for (int powers = 1; powers <= CycleRows.DEGREE; powers++) {
                    double shift = part * Math.min(0.25, Hop.LARGEST_EXPONENT / hop.exponents);
                    double bound = hop.linear[powers + 1] * largest(z) + hop.constant[powers + 1];
                    double leftOut = 2 * bound * Math.pow(Math.abs(shift), powers + 1);
                    assertThat(distance(hop, isLed, shift, powers))
                            .as("shift " + shift + ", powers " + powers)
                            .isLessThanOrEqualTo(leftOut + 1e-14 * (1 + size));
                }
                double shift = part * Math.min(0.25, reach);
                assertThat(distance(hop, isLed, shift, hop.powersFor(Math.abs(shift))))
                        .isLessThanOrEqualTo(1e-14 * (1 + size));
            }
        }

        private double distance(Hop hop, boolean isLed, double shift, int powers) {
            double[] end = end(isLed, shift);
            double[] found = new double[n()];
            CycleRows.go(hop.state, z, shift, powers, found, n());
            for (int i = 0; i < n(); i++) {
                found[i] -= end[i];
            }
            return largest(found);
        }
    }

    private static double largest(double[] z) {
        double largest = 0;
        for (double value : z) {
            largest = Math.max(largest, Math.abs(value));
        }
        return largest;
    }

    private static Flow flow(double[][] a, double[] b) {
        return TestLaw.configuration("drawn", 1, a, b, List.of()).flow();
    }

    private double draw() {
        return random.nextInt(3) == 0 ? 0 : random.nextGaussian() * 0.5;
    }

    private double[] draw(int n) {
        double[] drawn = new double[n];
        for (int i = 0; i < n; i++) {
            drawn[i] = draw();
        }
        return drawn;
    }

    private double[][] drawMatrix(int n) {
        double[][] drawn = new double[n][];
        for (int i = 0; i < n; i++) {
            drawn[i] = draw(n);
        }
        return drawn;
    }

    @Property(tries = 150)
    void whatIsLeftOutIsBounded(@ForAll @IntRange(min = 2, max = 5) int n, @ForAll @IntRange(max = 10_000) int seed) {
        random.setSeed(seed);
        double[] input = draw(n);
        double[][] a = drawMatrix(n);
        double[][] b = random.nextBoolean() ? a.clone() : drawMatrix(n);
        b[0] = draw(n);
        Way way = new Way(
                flow(drawMatrix(n), draw(n)),
                flow(a, input),
                random.nextBoolean() ? new double[n * (n + 1)] : draw(n * (n + 1)),
                flow(b, random.nextBoolean() ? input : draw(n)),
                flow(drawMatrix(n), draw(n)),
                random.nextInt(4) == 0 ? new double[n] : draw(n));
        way.isBounded(true);
        way.isBounded(false);
    }

    /** The second coefficient is zero and the third is not, so that the second alone would tell nothing of those that follow. */
    @Example
    void aRateThatTellsInALaterCoefficientIsCounted() {
        Flow none = flow(new double[2][2], new double[2]);
        Flow before = flow(new double[2][2], new double[] {1, 0});
        Flow after = flow(new double[][] {{0, 1}, {1, 0}}, new double[] {2, -UNTIL});
        Way way = new Way(none, before, new double[6], after, none, new double[2]);
        way.isBounded(false);
        double[] state = way.hop(false).state;
        assertThat(new double[] {state[14], state[17]}).containsExactly(new double[2], within(1e-15));
        assertThat(Math.abs(state[20])).isGreaterThan(0.1);
    }

    @Example
    void aTailMakesMoreOfWhatIsLeftOut() {
        Flow none = flow(new double[2][2], new double[2]);
        Flow before = flow(new double[][] {{0, 1}, {-1, 0}}, new double[] {1, 0});
        Flow growth = flow(new double[][] {{10, 0}, {0, 10}}, new double[2]);
        new Way(none, before, new double[6], none, growth, new double[2]).isBounded(false);
    }
}
