package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ResolventTest {
    /** Against a solution of the whole system by elimination. */
    @Test
    void agreesWithElimination() {
        Random random = new Random(7);
        for (int n = 1; n <= 9; n++) {
            double[][] a = new double[n][n];
            double[] g = new double[n];
            double[] x = new double[n];
            for (int i = 0; i < n; i++) {
                g[i] = random.nextGaussian();
                x[i] = random.nextGaussian();
                for (int j = 0; j < n; j++) {
                    a[i][j] = random.nextGaussian() * Math.pow(10, i - j); // badly scaled
                }
            }
            Resolvent resolvent = Resolvent.of(a, g);
            for (double omega : new double[] {0.1, 1, 30}) {
                ComplexMatrix left = new ComplexMatrix(n, n);
                ComplexMatrix right = new ComplexMatrix(n, 1);
                for (int i = 0; i < n; i++) {
                    right.add(i, 0, x[i], 0);
                    left.add(i, i, 0, omega);
                    for (int j = 0; j < n; j++) {
                        left.add(i, j, -a[i][j], 0);
                    }
                }
                left.solve(right);
                double re = 0;
                double im = 0;
                double size = 0;
                for (int i = 0; i < n; i++) {
                    re += g[i] * right.real(i, 0);
                    im += g[i] * right.imaginary(i, 0);
                    size += Math.abs(g[i]) * Math.hypot(right.real(i, 0), right.imaginary(i, 0));
                }
                assertThat(resolvent.at(omega)).isPositive().isFinite();
                double[] seen = resolvent.coordinates(x);
                assertThat(resolvent.real(seen)).as("%s states at %s", n, omega).isCloseTo(re, within(1e-12 * size));
                assertThat(resolvent.imaginary(seen)).isCloseTo(im, within(1e-12 * size));
            }
        }
    }

    /** A state that what is shown does not depend on takes no time, nor does one behind it. */
    @Test
    void statesThatAreNotSeenFallAway() {
        double[][] a = {{-1, 2, 0, 0}, {0, -3, 0, 0}, {5, 0, -7, 1}, {0, 1, 2, -9}};
        Resolvent resolvent = Resolvent.of(a, new double[] {1, 0, 0, 0});
        assertThat(resolvent.coordinates(new double[4])).hasSize(2);
        assertThat(Resolvent.of(a, new double[4]).coordinates(new double[4])).isEmpty();
        assertThat(Resolvent.of(a, new double[4]).at(3)).isEqualTo(1);
    }

    /** One over the distance from an eigenvalue. */
    @Test
    void nearAResonanceTheRowGrows() {
        double[][] swing = {{0, 1}, {-1, 0}};
        assertThat(Resolvent.of(swing, new double[] {1, 0}).at(1 + 1e-7)).isCloseTo(5e6, within(1e1));
        assertThat(Resolvent.of(swing, new double[] {1, 0}).at(1)).matches(gain -> !(gain < 1e15));
    }
}
