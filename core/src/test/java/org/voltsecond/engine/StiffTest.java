package org.voltsecond.engine;

import static java.lang.Double.POSITIVE_INFINITY;
import static java.lang.Math.exp;
import static java.lang.Math.log;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.engine.TestLaw.above;
import static org.voltsecond.engine.TestLaw.below;
import static org.voltsecond.engine.TestLaw.configuration;
import static org.voltsecond.engine.TestLaw.ones;

import java.util.List;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Time constants that lie far apart: the fast one is over long before the interval is. */
@Timeout(value = 300, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
class StiffTest {
    /** Slow x' = -x, fast y' = r (x - y): y = (1 - r/(r-1)) e^-rt + r/(r-1) e^-t from x = 1, y = 0... times 1. */
    private static double[] exact(double ratio, double t) {
        double follow = ratio / (ratio - 1);
        return new double[] {exp(-t), follow * (exp(-t) - exp(-ratio * t))};
    }

    private static double[][] pair(double ratio) {
        return new double[][] {{-1, 0}, {ratio, -ratio}};
    }

    private static Trajectory untilGuard(double ratio, Guard guard, double clockPeriod, double duration) {
        Configuration stiff = configuration("stiff", clockPeriod, pair(ratio), new double[2], List.of(guard));
        Configuration free = configuration("free", clockPeriod, new double[2][2], new double[2], List.of());
        Phase first = new Phase(stiff, POSITIVE_INFINITY, POSITIVE_INFINITY);
        Phase second = new Phase(free, POSITIVE_INFINITY, POSITIVE_INFINITY);
        return Simulation.of(TestLaw.ring(ones(2), clockPeriod, List.of(first, second)))
                .record(new double[] {1, 0}, duration);
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e3, 1e6, 1e9, 1e12})
    void endStateIsRight(double ratio) {
        Configuration stiff = configuration("stiff", 0.7, pair(ratio), new double[2], List.of());
        double[] end = Simulation.of(TestLaw.single(stiff, ones(2), 0.7)).finalState(new double[] {1, 0}, 2.1);
        double[] exact = exact(ratio, 2.1);
        assertThat(end[0]).isCloseTo(exact[0], within(1e-13));
        assertThat(end[1]).isCloseTo(exact[1], within(1e-13));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e3, 1e6, 1e9, 1e12})
    void eventInTheSlowPartIsFound(double ratio) {
        // y falls through 0.3 long after the boundary layer in which it rises
        Trajectory run = untilGuard(ratio, new Guard("slow", AffineForm.of(new double[] {0.5, 0.5}, -0.3)), 1, 3);
        assertThat(run.size()).isEqualTo(2);
        double time = log(0.5 * (1 + ratio / (ratio - 1)) / 0.3);
        assertThat(run.interval(0).duration()).isCloseTo(time, within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e3, 1e6, 1e9, 1e12})
    void eventInTheBoundaryLayerIsFound(double ratio) {
        Trajectory run = untilGuard(ratio, below(2, 1, 0.5), 1, 3);
        assertThat(run.size()).isEqualTo(2);
        // y reaches 1/2 at ln 2 / ratio, but for the slow decay: Newton's method on the closed form
        double t = log(2) / ratio;
        for (int i = 0; i < 5; i++) {
            t -= (exact(ratio, t)[1] - 0.5) / (ratio * (exp(-t) - exact(ratio, t)[1]));
        }
        assertThat(run.interval(0).duration() * ratio).isCloseTo(t * ratio, within(1e-12));
        assertThat(run.interval(0).endState()[1]).isCloseTo(0.5, within(1e-13));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e6, 1e9})
    void everyPointOfALongStiffIntervalIsRight(double ratio) {
        Configuration stiff = configuration("stiff", 3, pair(ratio), new double[2], List.of());
        Interval interval = Simulation.of(TestLaw.single(stiff, ones(2), 3))
                .record(new double[] {1, 0}, 3)
                .interval(0);
        AffineForm fast = AffineForm.of(new double[] {0, 1}, 0);
        for (Piece piece : interval.pieces(fast)) {
            for (double u : new double[] {0, 0.25, 0.5, 0.9, 1}) {
                double t = piece.start() + u * piece.length();
                assertThat(piece.valueAt(u)).isCloseTo(exact(ratio, t)[1], within(1e-12));
            }
        }
        for (double t = 1 / ratio; t < 3; t *= 1.7) {
            assertThat(interval.valueAt(fast, t)).isCloseTo(exact(ratio, t)[1], within(1e-13));
        }
        assertThat(interval.pieces(fast)).hasSizeLessThan(400);
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e9, 1e12})
    void fastStateAtRestNeedsNoSmallSteps(double ratio) {
        // an event in every clock period, the fast part excited by each jump of the input
        Configuration up = configuration(
                "up", 1, new double[][] {{-1, 0}, {ratio, -ratio}}, new double[] {1, 0}, List.of(below(2, 1, 0.7)));
        Configuration down = configuration("down", 1, pair(ratio), new double[2], List.of(above(2, 1, 0.3)));
        TestLaw law = TestLaw.ring(
                ones(2),
                1,
                List.of(
                        new Phase(up, POSITIVE_INFINITY, POSITIVE_INFINITY),
                        new Phase(down, POSITIVE_INFINITY, POSITIVE_INFINITY)));
        Trajectory run = Simulation.of(law).record(new double[] {0.3, 0.3}, 20);
        double half = log(7.0 / 3);
        assertThat(run.size()).isEqualTo((int) (20 / half) + 1);
        assertThat(run.interval(run.size() - 1).start())
                .isCloseTo((run.size() - 1) * half, within(40 * 3 / ratio + 1e-10));
    }
}
