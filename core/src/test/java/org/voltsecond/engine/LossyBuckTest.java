package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** The lossy buck against values that were computed with 40 digits from the matrix exponentials of its phases. */
class LossyBuckTest {
    private static final double TIGHT = 1e-12;

    @Test
    void tenThousandPeriodsOfContinuousConductionKeepTwelveDigits() {
        double[] end = Simulation.of(new LossyBuck(2.5, 0.45)).finalState(new double[2], 10_000 * LossyBuck.PERIOD);
        assertThat(end[0]).isCloseTo(1.7797591662370461, within(TIGHT * 1.78));
        assertThat(end[1]).isCloseTo(5.0249308720340644, within(TIGHT * 5.02));
    }

    @Test
    void tenThousandPeriodsOfDiscontinuousConductionKeepTwelveDigits() {
        Trajectory run = Simulation.of(new LossyBuck(100, 0.25)).record(new double[2], 10_000 * LossyBuck.PERIOD);
        double[] end = run.finalState();
        assertThat(end[0]).isZero();
        assertThat(end[1]).isCloseTo(5.8169157971972022, within(TIGHT * 5.8));

        Interval conducting = run.interval(run.size() - 2);
        assertThat(conducting.configuration().name()).isEqualTo("off");
        double endsAfter = conducting.sinceTick() + conducting.duration();
        assertThat(endsAfter).isCloseTo(1.65927737107262e-6, within(1e-14 * 1.66));
    }

    @Test
    void rectifierCurrentIsExactlyZeroThroughoutTheIdleInterval() {
        Trajectory run = Simulation.of(new LossyBuck(100, 0.25)).record(new double[2], 200 * LossyBuck.PERIOD);
        long idle = run.intervals().stream()
                .filter(interval -> interval.configuration().name().equals("idle"))
                .peek(interval -> {
                    assertThat(interval.startState()[0]).isZero();
                    assertThat(interval.stateAt(0.3 * interval.duration())[0]).isZero();
                    assertThat(interval.endState()[0]).isZero();
                })
                .count();
        assertThat(idle).isGreaterThan(150);
    }

    @Test
    void periodicSteadyStateByNewtonOnThePeriodMap() {
        PeriodMap map = PeriodMap.withDerivative(new LossyBuck(100, 0.25), 1);
        double voltage = 5;
        for (int i = 0; i < 8; i++) {
            double after = map.apply(new double[] {0, voltage})[1];
            voltage -= (after - voltage) / (map.derivative()[1][1] - 1);
        }
        // the 40-digit value is given to 16 digits
        assertThat(voltage).isCloseTo(5.816915798350127, within(TIGHT * 5.8));
    }
}
