package org.hipparchus.analysis.integration.gauss;

import org.hipparchus.util.Pair;

/**
 * {@link LegendreRuleFactory} in a page, without the solver of polynomials that the other one brings along: nodes by Newton's
 * method on the recurrence of the Legendre polynomials (M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 25.4.29 and 22.7.10), which agree with those of the other in all but the last digits.
 */
class LegendreRuleFactoryOfPage {
    /** More than Newton's method needs from the usual guess. */
    private static final int STEPS = 12;

    public Pair<double[], double[]> getRule(int count) {
        double[] nodes = new double[count];
        double[] weights = new double[count];
        for (int k = 0; k < count; k++) {
            double x = -StrictMath.cos(StrictMath.PI * (k + 0.75) / (count + 0.5));
            double slope = 0;
            for (int step = 0; step < STEPS; step++) {
                double before = 1;
                double value = x;
                for (int n = 2; n <= count; n++) {
                    double next = ((2 * n - 1) * x * value - (n - 1) * before) / n;
                    before = value;
                    value = next;
                }
                slope = count * (x * value - before) / (x * x - 1);
                x -= value / slope;
            }
            nodes[k] = x;
            weights[k] = 2 / ((1 - x * x) * slope * slope);
        }
        return new Pair<>(nodes, weights);
    }
}
