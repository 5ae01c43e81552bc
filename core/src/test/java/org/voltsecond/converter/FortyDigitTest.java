package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Interval;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Crossing;
import org.voltsecond.waveform.Waveform;

/**
 * Lossy stages, first of all the buck stage of the logic rail, from rest, against values that were computed in 40-digit arithmetic for this
 * project (not published): matrix exponentials in closed form, the ends of the rectifier current by root search.
 */
class FortyDigitTest {
    private static final double RELATIVE = 1e-12;
    private static final double PERIOD = 1 / 300e3;

    private static Converter rail(double loadOhm, double dutyCycle) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(loadOhm))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    private static Offset<Double> relative(double expected) {
        return Offset.offset(RELATIVE * Math.abs(expected));
    }

    @Test
    void continuousAfterTenThousandPeriods() {
        ConverterTransient run = rail(2.5, 0.45).startUp(10_000 * PERIOD);
        assertThat(run.finalInductorCurrent()).isCloseTo(1.7797591662370461, relative(1.7797591662370461));
        assertThat(run.finalCapacitorVoltage()).isCloseTo(5.0249308720340644, relative(5.0249308720340644));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void discontinuousAfterTenThousandPeriods() {
        Converter rail = rail(100, 0.25);
        ConverterTransient run = rail.startUp(10_000 * PERIOD);
        assertThat(run.finalInductorCurrent()).isZero();
        assertThat(run.finalCapacitorVoltage()).isCloseTo(5.8169157971972022, relative(5.8169157971972022));
        assertThat(rectifierEndsInLastPeriod(run)).isCloseTo(1.65927737107262e-6, relative(1.65927737107262e-6));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /** Time since the last period's clock edge, as the engine keeps it. */
    private static double rectifierEndsInLastPeriod(ConverterTransient run) {
        List<Interval> intervals = run.run().trajectory().intervals();
        Interval idle = intervals.get(intervals.size() - 1);
        Interval off = intervals.get(intervals.size() - 2);
        Cause cause = off.cause();
        assertThat(cause).extracting(Cause::kind).isEqualTo(Cause.Kind.GUARD);
        assertThat(off.sinceTick() + off.duration()).isEqualTo(idle.sinceTick());
        return idle.sinceTick();
    }

    /** The same instant as a user reads it off the waveform, to the rounding of absolute time after 33 ms. */
    @Test
    void rectifierEndIsReadOffTheWaveformToo() {
        Converter rail = rail(100, 0.25);
        ConverterTransient run = rail.startUp(10_000 * PERIOD);
        Waveform lastPeriod = run.of(rail.rectifierCurrent()).between(9_999 * PERIOD, 10_000 * PERIOD);
        List<Crossing> falls = lastPeriod.crossings(1e-9).stream()
                .filter(crossing -> !crossing.rising())
                .toList();
        assertThat(falls).hasSize(1);
        double slope = (5.82 + 0.4) / micro(22);
        double expected = 9_999 * PERIOD + 1.65927737107262e-6 - 1e-9 / slope;
        assertThat(falls.get(0).time()).isCloseTo(expected, Offset.offset(4 * Math.ulp(0.0333) + 1e-3 * 1e-9 / slope));
    }

    /**
     * An inverting stage that an 8(5,3) integrator at a tolerance of 1e-13 misses by 2e-11 after 300 periods (see
     * {@link IntegratorOracleTest}): 40-digit values computed for this project.
     */
    @Test
    void invertingAfterThreeHundredPeriods() {
        StageSpec stage = new StageSpec(
                Topology.INVERTING_BUCK_BOOST,
                false,
                false,
                6.0477711922609165,
                7.295382854781455E-7,
                0.03440923469752088,
                1.2167268480192297E-4,
                0.012265428732826525,
                0.016092010414083348,
                0.17540202161267093,
                0.03248064831893724,
                3.3406651079059166,
                0.11802597313003417,
                391214.7115941155);
        ConverterTransient run = stage.converter().startUp(300 * stage.period());
        assertThat(run.finalInductorCurrent()).isZero();
        assertThat(run.finalCapacitorVoltage()).isCloseTo(-1.5379433707850928336, relative(1.5379433707850928336));
        double end = 0.508894503774268993 * stage.period();
        assertThat(rectifierEndsInLastPeriod(run)).isCloseTo(end, relative(end));
    }

    @Test
    void steadyStateAtTurnOn() {
        ConverterSteadyState steady = rail(100, 0.25).steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.periodic().state()[0]).isZero();
        assertThat(steady.periodic().state()[1]).isCloseTo(5.816915798350127, relative(5.816915798350127));
    }
}
