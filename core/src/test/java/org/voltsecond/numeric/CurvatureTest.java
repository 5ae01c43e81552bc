package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class CurvatureTest {
    /** How many steps from a start to a root, to the last digits; 20 if it is not found. */
    private static int steps(
            DoubleUnaryOperator f, DoubleUnaryOperator slope, double start, double root, boolean curved) {
        Curvature curvature = new Curvature(1);
        Elimination elimination = new Elimination(1, 0);
        double x = start;
        for (int k = 0; k < 20; k++) {
            if (Math.abs(x - root) <= 1e-15 * Math.abs(root)) {
                return k;
            }
            double[] matrix = {-slope.applyAsDouble(x)};
            double[] missed = {f.applyAsDouble(x)};
            double[] step = {missed[0] / matrix[0]};
            if (curved) {
                curvature.improve(missed, matrix, step, elimination);
            }
            x += step[0];
        }
        return 20;
    }

    @Test
    void aSmoothRootTakesARoundLess() {
        // e^x = 2 from 1.5
        int plain = steps(x -> StrictMath.exp(x) - 2, StrictMath::exp, 1.5, StrictMath.log(2), false);
        int curved = steps(x -> StrictMath.exp(x) - 2, StrictMath::exp, 1.5, StrictMath.log(2), true);
        assertThat(plain).isEqualTo(6);
        assertThat(curved).isEqualTo(5);
    }

    @Test
    void theThirdStepLeavesAFractionOfTheErrorOfNewtonsMethod() {
        Curvature curvature = new Curvature(1);
        curvature.improve(new double[] {-0.25}, new double[] {3}, new double[] {-1 / 12.0}, new Elimination(1, 0));
        double[] step = {-1 / 408.0};
        curvature.improve(new double[] {-1 / 144.0}, new double[] {17 / 6.0}, step, new Elimination(1, 0));
        assertThat(Math.abs(17 / 12.0 - 1 / 408.0 - Math.sqrt(2))).isBetween(2.1e-6, 2.2e-6);
        assertThat(Math.abs(17 / 12.0 + step[0] - Math.sqrt(2))).isLessThan(5e-9);
    }

    @Test
    void aKinkBetweenBothEndsTellsNothing() {
        // 4 x above 1, x below: from 0.9 the step before came from above the kink, where all is straight
        Curvature curvature = new Curvature(1);
        curvature.improve(new double[] {-4}, new double[] {4}, new double[] {-1.0}, new Elimination(1, 0));
        double[] step = {-0.1};
        curvature.improve(new double[] {-0.1}, new double[] {1}, step, new Elimination(1, 0));
        assertThat(step).containsExactly(-0.1);
    }

    @Test
    void aStepAsideOrALongOneIsLeftAsItIs() {
        Elimination elimination = new Elimination(2, 0);
        double[] unit = {1, 0, 0, 1};
        Curvature curvature = new Curvature(2);
        curvature.improve(new double[] {1, 0}, unit, new double[] {1, 0}, elimination);
        double[] aside = {0.1, 0.1};
        curvature.improve(new double[] {0.1, 0.1}, unit, aside, elimination);
        assertThat(aside).containsExactly(0.1, 0.1);

        curvature.improve(new double[] {1, 0}, unit, new double[] {1, 0}, elimination);
        double[] longStep = {0.3, 0};
        curvature.improve(new double[] {0.3, 0}, unit, longStep, elimination);
        assertThat(longStep).containsExactly(0.3, 0);

        curvature.improve(new double[] {1, 0}, unit, new double[] {1, 0}, elimination);
        // 1 - t + t^2 / 10 along the step before
        double[] along = {0.125, 0};
        curvature.improve(new double[] {0.1, 0}, new double[] {0.8, 0, 0, 1}, along, elimination);
        assertThat(along[0]).isCloseTo(0.125 + 0.1 * 0.125 * 0.125 / 0.8, within(1e-15));
        assertThat(along[1]).isZero();

        curvature.improve(new double[] {1, 0}, unit, new double[] {1, 0}, elimination);
        curvature.forget();
        double[] afterAll = {0.125, 0};
        curvature.improve(new double[] {0.1, 0}, new double[] {0.8, 0, 0, 1}, afterAll, elimination);
        assertThat(afterAll).containsExactly(0.125, 0);
    }
}
