package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.voltsecond.numeric.PolynomialRoots;

/** Roots and crossings of random polynomials against known roots and against an exact count. */
class PolynomialRootsProperties {
    /** Roots at least 8 per mille apart, so that round-off cannot hide them, some of them outside of [0, 1]. */
    @Provide
    Arbitrary<double[]> separateRoots() {
        return Arbitraries.integers()
                .between(-10, 60)
                .set()
                .ofMinSize(1)
                .ofMaxSize(6)
                .map(set -> set.stream()
                        .mapToDouble(k -> (20 * k + k * k % 13) / 1000.0)
                        .sorted()
                        .toArray());
    }

    private static double[] withRoots(double[] roots, double factor) {
        double[] p = {factor};
        for (double root : roots) {
            double[] next = new double[p.length + 1];
            for (int k = 0; k < p.length; k++) {
                next[k + 1] += p[k];
                next[k] -= root * p[k];
            }
            p = next;
        }
        return p;
    }

    private static double valueAt(double[] p, double u) {
        return Piece.of(0, 1, p).valueAt(u);
    }

    private static double largest(double[] p) {
        return Arrays.stream(p).map(Math::abs).max().orElse(0);
    }

    @Property(tries = 2000)
    void knownRootsAreFoundAndNoOthers(@ForAll("separateRoots") double[] roots) {
        double[] p = withRoots(roots, 1);
        double[] inside = Arrays.stream(roots).filter(r -> r >= 0 && r <= 1).toArray();
        double[] found = PolynomialRoots.in01(p);
        assertThat(found).hasSize(inside.length);
        for (int i = 0; i < inside.length; i++) {
            double slope = valueAt(Piece.of(0, 1, p).derivative().coefficients(), inside[i]);
            assertThat(found[i]).isCloseTo(inside[i], within(2e-15 * largest(p) * roots.length / Math.abs(slope)));
        }
    }

    @Provide
    Arbitrary<double[]> coefficients() {
        return Arbitraries.doubles()
                .between(-1, 1)
                .ofScale(6)
                .list()
                .ofMinSize(2)
                .ofMaxSize(9)
                .map(list -> list.stream().mapToDouble(Double::doubleValue).toArray())
                .filter(p -> Math.abs(p[0]) > 1e-5 && Math.abs(valueAt(p, 1)) > 1e-5);
    }

    @Property(tries = 1000)
    void rootsOfRandomPolynomialsAreAsManyAsTheirSturmChainCounts(@ForAll("coefficients") double[] p) {
        SturmChain exact = new SturmChain(p);
        double[] found = PolynomialRoots.in01(p);
        assertThat(found).hasSize(exact.rootsWithin(0, 1));
        for (double root : found) {
            double slope = Math.abs(valueAt(Piece.of(0, 1, p).derivative().coefficients(), root));
            double apart = Math.min(1e-6, 4e-15 * largest(p) * p.length / slope);
            assertThat(exact.rootsWithin(root - apart, root + apart)).isPositive();
        }
    }

    @Property(tries = 1000)
    void firstCrossingIsTheFirstRootAtWhichThePolynomialFalls(@ForAll("separateRoots") double[] roots) {
        double[] p = withRoots(roots, 1);
        double sign = 0;
        for (double root : roots) {
            if (root == 0) {
                return; // judged by its derivative: see the tests of guards that start at zero
            }
            sign = sign == 0 ? 1 : sign;
            sign *= -root;
        }
        double[] positive = sign > 0 ? p : withRoots(roots, -1);
        double expected =
                Arrays.stream(roots).filter(r -> r > 0 && r < 1).findFirst().orElse(FirstCrossing.NONE);
        for (double guess : new double[] {0, 0.5, 0.999, expected}) {
            double found = new FirstCrossing().search(positive, positive.length, 1, 1e-15, guess);
            if (expected == FirstCrossing.NONE) {
                assertThat(found).isEqualTo(FirstCrossing.NONE);
            } else {
                double slope =
                        Math.abs(valueAt(Piece.of(0, 1, positive).derivative().coefficients(), expected));
                assertThat(found).isCloseTo(expected, within(2e-15 * largest(p) * roots.length / slope));
            }
        }
    }

    @Property(tries = 500)
    void firstCrossingDoesNotDependOnTheUnitOfTime(
            @ForAll("separateRoots") double[] roots, @ForAll("units") double unit) {
        double[] p = withRoots(roots, 1);
        double power = 1;
        double[] other = p.clone();
        for (int k = 0; k < p.length; k++) {
            other[k] = p[k] / power;
            power *= unit;
        }
        double here = new FirstCrossing().search(p, p.length, 1, 1e-15, 0);
        double there = new FirstCrossing().search(other, p.length, unit, 1e-15, 0);
        if (here == FirstCrossing.NONE) {
            assertThat(there).isEqualTo(FirstCrossing.NONE);
        } else {
            assertThat(there / unit).isCloseTo(here, within(1e-9));
        }
    }

    @Provide
    Arbitrary<Double> units() {
        return Arbitraries.of(0x1p-20, 0.1, 3.0, 1e6);
    }

    @Example
    void contactCountsAsOneRoot() {
        for (double at : new double[] {0.3, 0.5, 0.25, 0.123456789, 0.9999}) {
            double[] found = PolynomialRoots.in01(withRoots(new double[] {at, at}, 1));
            assertThat(found).as("contact at " + at).hasSize(1);
            assertThat(found[0]).isCloseTo(at, within(1e-7));
        }
    }

    @Example
    void threefoldRootCountsAsOne() {
        for (double at : new double[] {0.3, 0.5, 0.123456789}) {
            double[] found = PolynomialRoots.in01(withRoots(new double[] {at, at, at}, 1));
            assertThat(found).as("threefold root at " + at).hasSize(1);
            assertThat(found[0]).isCloseTo(at, within(3e-5));
        }
    }

    @Example
    void pairOfNearbyRootsIsToldApart() {
        double[] found = PolynomialRoots.in01(withRoots(new double[] {0.4, 0.4 + 1e-6}, 1));
        assertThat(found).hasSize(2);
        assertThat(found[1] - found[0]).isCloseTo(1e-6, within(1e-9));
    }

    @Example
    void rootsAtBothEndsAreRoots() {
        assertThat(PolynomialRoots.in01(withRoots(new double[] {0, 1}, 1))).containsExactly(0, 1);
        assertThat(PolynomialRoots.in01(withRoots(new double[] {0, 0.5, 1}, 1))).hasSize(3);
    }

    @Example
    void constantsHaveNoRoots() {
        assertThat(PolynomialRoots.in01(new double[] {0})).isEmpty();
        assertThat(PolynomialRoots.in01(new double[] {0, 0, 0})).isEmpty();
        assertThat(PolynomialRoots.in01(new double[] {2})).isEmpty();
        assertThat(PolynomialRoots.in01(new double[] {-2, 0, 0})).isEmpty();
    }
}
