package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** An interval's polynomials and integrals against its states. */
class IntervalTest {
    private static final AffineForm ANY = AffineForm.of(new double[] {0.7, -0.2}, 0.3, 1.5);

    /** A damped oscillation that lasts for so many of its time units, one interval long. */
    private static Interval oscillation(double duration) {
        Configuration only = TestLaw.configuration(
                "ringing", 1, new double[][] {{-0.1, 1}, {-1, -0.3}}, new double[] {0.4, -0.2}, List.of());
        Phase phase = new Phase(only, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);
        return Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(phase)))
                .record(new double[] {1, -2}, duration)
                .interval(0);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.5, 0.7, 5, 11, 40})
    void piecesAreTheFormEverywhere(double duration) {
        Interval interval = oscillation(duration);
        List<Piece> pieces = interval.pieces(ANY);
        double end = 0;
        for (Piece piece : pieces) {
            assertThat(piece.start()).isCloseTo(end, within(1e-15 * (1 + end)));
            for (int i = 0; i <= 10; i++) {
                double since = Math.min(duration, piece.start() + piece.length() * i / 10);
                double expected = ANY.valueAt(interval.stateAt(since), since);
                assertThat(piece.valueAt(i / 10.0)).isCloseTo(expected, within(1e-13 * (1 + 1.5 * duration)));
            }
            end = piece.end();
        }
        assertThat(end).isCloseTo(duration, within(1e-15 * duration));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.5, 5, 40})
    void piecesOfAllFormsHaveTheSameSpans(double duration) {
        Interval interval = oscillation(duration);
        List<Piece> one = interval.pieces(ANY);
        List<Piece> other = interval.pieces(AffineForm.of(new double[] {0, 1e-9}, 0));
        List<Piece> constant = interval.pieces(AffineForm.constant(2, 3));
        assertThat(other).hasSameSizeAs(one);
        for (int i = 0; i < one.size(); i++) {
            assertThat(other.get(i).start()).isEqualTo(one.get(i).start());
            assertThat(other.get(i).length()).isEqualTo(one.get(i).length());
            assertThat(constant.get(i).start()).isEqualTo(one.get(i).start());
            assertThat(constant.get(i).valueAt(0.37)).isCloseTo(3, within(1e-14));
        }
    }

    /**
     * The integral of u^i times u^j from 0 to 1 is 1 / (i + j + 1): the sums written out give the same bits. Beyond
     * a base of the flow, where moments are doubled instead, those of the pieces do, and the doubled ones agree to round-off.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.5, 5, 40})
    void secondMomentsAreTheSumsOfTheProducts(double duration) {
        Interval interval = oscillation(duration);
        double[][] moments = interval.integrated(new boolean[] {true, true, true, true});
        double[][] told = interval.secondMoments();
        List<List<Piece>> factors = List.of(
                interval.pieces(AffineForm.of(new double[] {1, 0}, 0)),
                interval.pieces(AffineForm.of(new double[] {0, 1}, 0)),
                interval.pieces(AffineForm.constant(2, 1)),
                interval.pieces(AffineForm.of(new double[2], 0, 1)));
        for (int i = 0; i < 4; i++) {
            for (int j = i; j < 4; j++) {
                double sum = 0;
                for (int p = 0; p < factors.get(i).size(); p++) {
                    sum += productInFull(factors.get(i).get(p), factors.get(j).get(p));
                }
                assertThat(moments[i][j]).as(i + ", " + j).isEqualTo(sum);
                assertThat(told[i][j]).isCloseTo(sum, within(1e-14 * Math.sqrt(told[i][i] * told[j][j])));
                assertThat(told[j][i]).isEqualTo(told[i][j]);
                assertThat(duration > 1 || told[i][j] == sum).isTrue();
            }
        }
    }

    private static double productInFull(Piece first, Piece second) {
        double sum = 0;
        for (int i = first.degree(); i >= 0; i--) {
            double inner = 0;
            for (int j = second.degree(); j >= 0; j--) {
                inner += second.coefficient(j) / (i + j + 1);
            }
            sum += first.coefficient(i) * inner;
        }
        return sum * first.length();
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.5, 5, 40})
    void secondMomentsAgreeWithQuadrature(double duration) {
        Interval interval = oscillation(duration);
        double[][] moments = interval.secondMoments();
        GaussIntegrator rule = new GaussIntegratorFactory().legendre(12);
        int panels = (int) Math.ceil(duration);
        for (int i = 0; i < 4; i++) {
            for (int j = 0; j < 4; j++) {
                int row = i;
                int column = j;
                double sum = 0;
                double size = 0;
                for (int p = 0; p < panels; p++) {
                    double from = duration * p / panels;
                    double half = duration / panels / 2;
                    sum += half * rule.integrate(x -> product(interval, row, column, from + half * (x + 1)));
                    size += half * rule.integrate(x -> Math.abs(product(interval, row, column, from + half * (x + 1))));
                }
                assertThat(moments[i][j]).isCloseTo(sum, within(1e-12 * size + 1e-15));
                assertThat(moments[i][j]).isEqualTo(moments[j][i]);
            }
        }
    }

    private static double product(Interval interval, int i, int j, double since) {
        double[] state = interval.stateAt(Math.min(since, interval.duration()));
        double[] factors = {state[0], state[1], 1, since};
        return factors[i] * factors[j];
    }

    @Test
    void timesOutsideOfTheIntervalAreRefused() {
        Interval interval = oscillation(2);
        for (double outside : new double[] {-1e-9, 2.0001, Double.NaN}) {
            assertThatThrownBy(() -> interval.stateAt(outside)).isInstanceOf(IllegalArgumentException.class);
        }
    }

    @Test
    void endStateOfALongIntervalIsTheFinalState() {
        Configuration only =
                TestLaw.configuration("ringing", 1, new double[][] {{-0.1, 1}, {-1, -0.3}}, new double[2], List.of());
        Phase phase = new Phase(only, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);
        Trajectory run =
                Simulation.of(TestLaw.ring(TestLaw.ones(2), 1, List.of(phase))).record(new double[] {1, -2}, 23.4);
        assertThat(run.interval(0).endState()[0]).isCloseTo(run.finalState()[0], within(1e-15));
        assertThat(run.interval(0).endState()[1]).isCloseTo(run.finalState()[1], within(1e-15));
    }

    @Test
    void piecesCanBeCutMultipliedAndDifferentiated() {
        Piece cubic = Piece.of(2, 0.5, new double[] {1, -2, 0.5, 3});
        Piece part = cubic.part(0.2, 0.7);
        Piece square = cubic.times(cubic);
        Piece slope = cubic.derivative();
        for (double u : new double[] {0, 0.3, 1}) {
            assertThat(part.valueAt(u)).isCloseTo(cubic.valueAt(0.2 + 0.5 * u), within(1e-14));
            assertThat(square.valueAt(u)).isCloseTo(Math.pow(cubic.valueAt(u), 2), within(1e-13));
            double difference = (cubic.valueAt(u + 1e-6) - cubic.valueAt(u - 1e-6)) / (2e-6 * 0.5);
            assertThat(slope.valueAt(u)).isCloseTo(difference, within(1e-8));
            assertThat(cubic.plus(-2, part).valueAt(u))
                    .isCloseTo(cubic.valueAt(u) - 2 * part.valueAt(u), within(1e-14));
        }
        assertThat(part.start()).isEqualTo(2.1);
        assertThat(part.length()).isCloseTo(0.25, within(1e-16));
        assertThat(cubic.integral()).isCloseTo(0.5 * (1 - 1 + 0.5 / 3 + 0.75), within(1e-15));
        assertThat(cubic.integralOfProduct(cubic)).isCloseTo(square.integral(), within(1e-15));
        assertThat(cubic.integralOfSquare(0)).isCloseTo(square.integral(), within(1e-15));
        Piece above = cubic.plus(-7, Piece.of(cubic.start(), cubic.length(), new double[] {1}));
        assertThat(cubic.integralOfSquare(7)).isCloseTo(above.integralOfProduct(above), within(1e-14));
        assertThat(Piece.of(0, 1, new double[] {4}).derivative().valueAt(0.5)).isZero();
    }
}
