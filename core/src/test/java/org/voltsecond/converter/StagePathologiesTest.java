package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** Stages at the edges of what a stage can be, each named after what could go wrong. */
class StagePathologiesTest {

    private static PowerStage lossy(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20));
    }

    private static PowerStage ideal(Topology topology) {
        return PowerStage.of(topology).input(12).inductor(micro(22)).outputCapacitor(micro(47));
    }

    // ---------------------------------------------------------------------------------------------- the boundary

    /**
     * A constant current of half the ripple of an ideal buck stage puts it exactly at the boundary: charge balance makes
     * the mean inductor current the load's, the output is D Vin whatever the ripple, and the current touches zero at the
     * clock edge. The ripple itself depends on L and C; it is read off a stage with more load, on which it is the same.
     */
    @Test
    void loadExactlyAtTheBoundary() {
        Converter more = ideal(Topology.BUCK).load(Load.current(5)).drive(Drive.fixedDuty(0.45, kilo(300)));
        Waveform current = more.steadyState().of(more.inductorCurrent());
        double boundary = 5 - current.minimum();

        ConverterSteadyState steady = more.withLoad(Load.current(boundary)).steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.BOUNDARY);
        assertThat(steady.of(more.inductorCurrent()).minimum()).isCloseTo(0, within(1e-12));
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime())
                .isCloseTo(steady.period(), within(1e-15 * steady.period()));

        assertThat(more.withLoad(Load.current(boundary * (1 + 1e-6)))
                        .steadyState()
                        .conduction())
                .isEqualTo(Conduction.CONTINUOUS);
        assertThat(more.withLoad(Load.current(boundary * (1 - 1e-6)))
                        .steadyState()
                        .conduction())
                .isEqualTo(Conduction.DISCONTINUOUS);
    }

    /** A resistor at the boundary of a lossy stage, found by bisection to the last digit: reported as such from both sides. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void resistorExactlyAtTheBoundary(Topology topology) {
        Converter stage = lossy(topology).load(Load.resistor(1)).drive(Drive.fixedDuty(0.45, kilo(300)));
        double continuous = 1;
        double discontinuous = 1e4;
        for (int i = 0; i < 60; i++) {
            double middle = 0.5 * (continuous + discontinuous);
            ConverterSteadyState steady = stage.withLoad(Load.resistor(middle)).steadyState();
            if (steady.idleTime() > 0) {
                discontinuous = middle;
            } else {
                continuous = middle;
            }
        }
        assertThat(discontinuous / continuous).isCloseTo(1, within(1e-10));
        for (double ohm : new double[] {continuous, discontinuous}) {
            ConverterSteadyState steady = stage.withLoad(Load.resistor(ohm)).steadyState();
            assertThat(steady.conduction()).isEqualTo(Conduction.BOUNDARY);
            assertThat(steady.audit().residual()).isLessThan(1e-10);
        }
    }

    // ------------------------------------------------------------------------------------------- duty cycle 0 and 1

    /** Open for ever: no switching; the buck and the inverting stage rest, the boost stage passes its input on. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void dutyCycleZero(Topology topology) {
        Converter stage = lossy(topology).load(Load.resistor(2.5)).drive(Drive.fixedDuty(0, kilo(300)));
        ConverterSteadyState steady = stage.steadyState();
        double output = topology == Topology.BOOST ? (12 - 0.4) * 2.5 / (2.5 + 0.03 + 0.02) : 0;
        assertThat(steady.of(stage.outputVoltage()).mean()).isCloseTo(output, within(1e-9));
        assertThat(steady.of(stage.outputVoltage()).peakToPeak()).isLessThan(1e-11);
        assertThat(steady.onTime()).isZero();
        assertThat(steady.dutyCycle()).isZero();
        ConverterTransient run = stage.startUp(milli(20));
        assertThat(run.of(stage.outputVoltage()).at(milli(20))).isCloseTo(output, within(1e-9));
    }

    /**
     * Closed for ever: the buck stage passes its input on, the inverting stage shorts it through the inductor, and so does
     * the boost stage; but there the transistor's own drop at 100 A is enough to feed the output through the rectifier.
     */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void dutyCycleOne(Topology topology) {
        Converter stage = lossy(topology).load(Load.resistor(2.5)).drive(Drive.fixedDuty(1, kilo(300)));
        ConverterSteadyState steady = stage.steadyState();
        // boost: v_sw = v + 0.4 V + 20 mΩ v/R, and 12 V = v_sw + 30 mΩ (v_sw / 80 mΩ + v/R)
        double pass = 1 + 0.03 / 0.08;
        double boost = (12 - 0.4 * pass) / ((1 + 0.02 / 2.5) * pass + 0.03 / 2.5);
        double buck = 12 * 2.5 / (2.5 + 0.03 + 0.08);
        double output = switch (topology.key()) {
            case "buck" -> buck;
            case "boost" -> boost;
            default -> 0;
        };
        double current = switch (topology.key()) {
            case "buck" -> buck / 2.5;
            case "boost" -> (12 - boost * (1 + 0.02 / 2.5) - 0.4) / 0.03;
            default -> 12 / (0.03 + 0.08);
        };
        assertThat(steady.of(stage.outputVoltage()).mean()).isCloseTo(output, within(1e-8));
        assertThat(steady.of(stage.inductorCurrent()).mean()).isCloseTo(current, within(1e-8));
        assertThat(steady.onTime()).isEqualTo(steady.period());
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1})
    void synchronousStagesAtTheEnds(double duty) {
        Converter buck = lossy(Topology.BUCK)
                .synchronousRectifier(milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(duty, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        double output = duty == 0 ? 0 : 12 * 2.5 / (2.5 + 0.03 + 0.08);
        assertThat(steady.of(buck.outputVoltage()).mean()).isCloseTo(output, within(1e-9));
        assertThat(steady.idleTime()).isZero();
    }

    /** An ideal inductor across an ideal source: the current grows for ever, and the message says so. */
    @ParameterizedTest
    @ValueSource(strings = {"boost", "inverting-buck-boost"})
    void idealDutyCycleOneHasNoSteadyState(Topology topology) {
        Converter stage = ideal(topology).load(Load.resistor(10)).drive(Drive.fixedDuty(1, kilo(300)));
        assertThatThrownBy(stage::steadyState)
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("drifts")
                .hasMessageContaining("duty cycle");
        // the run itself is fine: 12 V / 22 µH for 100 µs
        assertThat(stage.startUp(micro(100)).finalInductorCurrent()).isCloseTo(12 / 22.0 * 100, within(1e-9));
    }

    // -------------------------------------------------------------------------------------------------- clock edges

    /**
     * The rectifier current reaches zero on the very clock edge: an ideal buck stage of dyadic numbers whose start state
     * rises by 0.5 A in the on interval and falls by 0.5 A in the off interval. One turn-on, no idle sliver, from then on.
     */
    @Test
    void rectifierCurrentReachesZeroOnTheClockEdge() {
        // 2 V in, an output held at 1 V by a huge capacitor, D 1/2, T 1 s, L 1 H: up and down at 1 A/s
        Converter buck = PowerStage.buck()
                .input(2)
                .inductor(1)
                .outputCapacitor(0x1p60)
                .load(Load.current(0))
                .drive(Drive.fixedDuty(0.5, 1));
        ConverterTransient run = buck.transientFrom(new double[] {0, 1}, 8, List.of());
        Waveform current = run.of(buck.inductorCurrent());
        assertThat(current.minimum()).isCloseTo(0, within(1e-15));
        assertThat(current.maximum()).isCloseTo(0.5, within(1e-15));
        double idle = run.run().trajectory().intervals().stream()
                .filter(interval -> !run.run().circuit().conducts(interval.phase(), "Q1")
                        && !run.run().circuit().conducts(interval.phase(), "D1"))
                .mapToDouble(Interval::duration)
                .sum();
        assertThat(idle).isLessThan(1e-14);
        assertThat(run.run().trajectory().size()).isLessThanOrEqualTo(24);
    }

    /** An input step within an interval cuts it exactly there: the slope of the current changes at that instant. */
    @Test
    void inputStepInTheMiddleOfAnInterval() {
        double period = 1 / kilo(300);
        Converter buck = lossy(Topology.BUCK).load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, kilo(300)));
        double time = 10 * period + 0.2 * period;
        ConverterTransient run =
                buck.transientFromSteadyState(20 * period, Change.at(time).input(15));
        Waveform node = run.of(buck.switchNode());
        assertThat(node.edges()).anySatisfy(edge -> {
            assertThat(edge.time()).isCloseTo(time, within(1e-20));
            assertThat(edge.height()).isCloseTo(3, within(1e-9));
        });
        // before the step nothing differs from the steady state; after it everything is as a run of the new stage
        ConverterTransient before = buck.transientFromSteadyState(time);
        double[] atStep = before.run().finalState();
        assertThat(run.of(buck.inductorCurrent()).at(time)).isCloseTo(atStep[0], within(1e-13));
        double slope = (15 - 0.11 * atStep[0] - run.of(buck.outputVoltage()).at(time)) / micro(22);
        double moment = 1e-4 * period;
        double after = run.of(buck.inductorCurrent()).at(time + moment);
        assertThat(after - atStep[0]).isCloseTo(slope * moment, within(1e-3 * slope * moment));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /** Steps of load, line and duty at one instant on a clock edge, and another in the idle interval. */
    @Test
    void changesOnAClockEdgeAndInTheIdleInterval() {
        double period = 1 / kilo(300);
        Converter buck = lossy(Topology.BUCK).load(Load.resistor(100)).drive(Drive.fixedDuty(0.25, kilo(300)));
        ConverterTransient run = buck.startUp(
                2000 * period,
                Change.at(1000 * period).input(15).load(Load.resistor(2.5)).dutyCycle(0.4),
                Change.at(500.9 * period).load(Load.current(0.1)));
        assertThat(run.audit().residual()).isLessThan(1e-10);
        double settled = run.after(2).steadyState().of(buck.outputVoltage()).mean();
        assertThat(run.of(buck.outputVoltage())
                        .between(1999 * period, 2000 * period)
                        .mean())
                .isCloseTo(settled, within(1e-6));
    }

    // ------------------------------------------------------------------------------------------------- extreme parts

    /** A buck stage without any resistance anywhere but the load. */
    @ParameterizedTest
    @CsvSource({"BUCK, 6", "BOOST, 24", "INVERTING_BUCK_BOOST, -12"})
    void allResistancesZero(Topology topology, double output) {
        Converter stage = ideal(topology).load(Load.resistor(5)).drive(Drive.fixedDuty(0.5, kilo(300)));
        ConverterSteadyState steady = stage.steadyState();
        assertThat(steady.of(stage.outputVoltage()).mean()).isCloseTo(output, within(0.01 * Math.abs(output)));
        assertThat(steady.losses().total()).isZero();
        assertThat(steady.efficiency().orElseThrow()).isCloseTo(1, within(1e-12));
        assertThat(stage.startUp(milli(2)).audit().residual()).isLessThan(1e-10);
    }

    /** No resistance at all: constant-current load on ideal parts; the current balance still decides the steady state. */
    @Test
    void allResistancesZeroAndAConstantCurrent() {
        Converter buck = ideal(Topology.BUCK).load(Load.current(4)).drive(Drive.fixedDuty(0.5, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        assertThat(steady.of(buck.outputVoltage()).mean()).isCloseTo(6, within(1e-12));
        assertThat(steady.of(buck.inductorCurrent()).mean()).isCloseTo(4, within(1e-11));
    }

    /**
     * Time constants 1e9 apart: a capacitor's discharge into the load of hours beside microseconds of switching (1e9), and
     * the mean output still that of a ripple-free stage.
     */
    @Test
    void loadTimeConstantOfABillionPeriods() {
        double period = 1 / kilo(300);
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(1e9 * period / 2.5)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.5, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        assertThat(steady.of(buck.outputVoltage()).mean()).isCloseTo(6 * 2.5 / 2.53, within(1e-5));
        double ripple = steady.of(buck.outputVoltage()).peakToPeak();
        double swing = steady.of(buck.inductorCurrent()).peakToPeak();
        assertThat(ripple).isCloseTo(swing * period / (8 * 1e9 * period / 2.5), within(1e-2 * ripple));
    }

    /** The constant current is more than the stage can pass through its resistances: the output is pulled below ground. */
    @Test
    void constantCurrentThatTheStageCannotSupply() {
        // 12 V through 80 + 30 mΩ at D 0.1 hold 1.2 V, less 30 A through 56 mΩ and the drop of the rectifier
        Converter buck = lossy(Topology.BUCK).load(Load.current(30)).drive(Drive.fixedDuty(0.1, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        double mean = 0.1 * (12 - 0.08 * 30) - 0.9 * (0.4 + 0.02 * 30) - 0.03 * 30;
        assertThat(mean).isNegative();
        assertThat(steady.of(buck.outputVoltage()).mean()).isCloseTo(mean, within(0.01));
        assertThat(steady.outputPower()).isNegative();
        assertThat(steady.of(buck.inductorCurrent()).mean()).isCloseTo(30, within(1e-8));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /** A boost stage that can never carry the load: its transistor alone drops more than the input. No volts are invented. */
    @Test
    void constantCurrentThatTheBoostStageCannotSupply() {
        Converter boost = lossy(Topology.BOOST).load(Load.current(500)).drive(Drive.fixedDuty(0.5, kilo(300)));
        ConverterSteadyState steady = boost.steadyState();
        assertThat(steady.of(boost.outputVoltage()).mean()).isNegative();
        assertThat(steady.of(boost.rectifierCurrent()).mean()).isCloseTo(500, within(1e-6));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /**
     * A buck stage whose output swings above its input drives current back into the source; opening the transistor on it
     * leaves no path, since the rectifier conducts the other way only. Refused, with the parts, the current and the time.
     */
    @Test
    void backwardCurrentHasNoPathWhenTheTransistorOpens() {
        Converter buck = ideal(Topology.BUCK).load(Load.resistor(1000)).drive(Drive.fixedDuty(0.95, kilo(20)));
        assertThatThrownBy(() -> buck.startUp(milli(5)))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("at 147.5 µs")
                .hasMessageContaining("L1")
                .hasMessageContaining("Q1 open")
                .hasMessageContaining("D1 blocking");
        Converter synchronous = buck.withSynchronousRectifier(0);
        assertThat(synchronous.startUp(milli(5)).audit().residual()).isLessThan(1e-10);
    }

    /**
     * Nanohenries at 10 MHz beside a farad: the time constants L/R and R C are 1e9 apart. The capacitor stores 6 J and a
     * period moves 0.1 µJ, so that the audit is held to the rounding of 6 J.
     */
    @Test
    void nanohenriesBesideAFarad() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(nano(100), milli(10))
                .outputCapacitor(1, milli(1))
                .transistor(milli(10))
                .rectifier(0.3, milli(10))
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(0.3, 10e6));
        ConverterSteadyState steady = buck.steadyState();
        assertThat(steady.audit().residual()).isLessThan(32 * 0x1p-52 * 6 / 1e-7);
        assertThat(steady.of(buck.outputCapacitorCurrent()).mean())
                .isCloseTo(
                        0,
                        within(1e-7 * steady.of(buck.outputCapacitorCurrent()).maximum()));
    }
}
