package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;

/** Loads of constant power, light-emitting diodes and batteries: closed forms, and {@link DormandPrince853Integrator}. */
class NonlinearLoadTest {
    private static final double PERIOD = 1 / kilo(300);
    private static final double DUTY = 0.45;

    private static PowerStage stage(String topology) {
        return PowerStage.of(PlainStages.ALL.stream()
                        .filter(each -> each.key().equals(topology))
                        .findFirst()
                        .orElseThrow())
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(100), milli(20))
                .transistor(milli(80))
                .synchronousRectifier(milli(80));
    }

    private static Converter converter(String topology, Load load) {
        return stage(topology).load(load).drive(Drive.fixedDuty(DUTY, 1 / PERIOD));
    }

    /** Volt-second balance with the one resistance of the path: V = D E - R P / V, the larger of its two solutions. */
    @Test
    void aBuckStageFeedsConstantPower() {
        double power = 10;
        Converter converter = stage("buck")
                .outputCapacitor(10, 0)
                .load(Load.power(power, 3))
                .drive(Drive.fixedDuty(DUTY, 1 / PERIOD));
        ConverterSteadyState steady = converter.steadyState();
        double ideal = DUTY * 12;
        double ohm = milli(110);
        double expected = (ideal + Math.sqrt(ideal * ideal - 4 * ohm * power)) / 2;
        // the curve may miss the current by 1e-7 of it, which moves the output by that share of the drop
        assertThat(steady.of(converter.outputVoltage()).mean())
                .isCloseTo(expected, within(2e-7 * ohm * power / expected));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void theCurveIsTheHyperbolaToItsError() {
        CurrentCurve curve = CurrentCurve.constantPower(10, 3);
        for (double volt = 3; volt < 2900; volt *= 1.00037) {
            assertThat(curve.currentAt(volt) * volt / 10).isCloseTo(1, within(1.0001e-7));
        }
        assertThat(curve.currentAt(1.5)).isCloseTo(10 / 3.0 / 2, within(1e-6));
        assertThat(curve.mirrored().currentAt(-5)).isCloseTo(-2, within(1e-6));
    }

    /** The negative resistance of the load takes damping away: with little of its own the filter of a stage swings up. */
    @Test
    void constantPowerMakesUnstableWhatAResistorDoesNot() {
        Converter resistive = stage("buck")
                .inductor(micro(22), 0)
                .transistor(0)
                .synchronousRectifier(0)
                .outputCapacitor(micro(10), 0)
                .load(Load.resistor(2.9))
                .drive(Drive.fixedDuty(DUTY, 1 / PERIOD));
        Converter constant = resistive.withLoad(Load.power(10, 3));
        double damped = resistive.steadyState().periodic().multipliers().get(0).magnitude();
        double growing = constant.steadyState().periodic().multipliers().get(0).magnitude();
        // no resistance but the load's: the product of the multipliers is exp(-T / (R C)), R the incremental resistance
        double volt = DUTY * 12;
        assertThat(damped).isCloseTo(Math.exp(-PERIOD / (2 * 2.9 * micro(10))), within(1e-12));
        assertThat(growing).isCloseTo(Math.exp(PERIOD * 10 / volt / volt / (2 * micro(10))), within(2e-5));
        assertThat(constant.steadyState().periodic().isStable()).isFalse();
    }

    @ParameterizedTest
    @ValueSource(strings = {"buck", "boost", "inverting-buck-boost"})
    void theIntegratorAgreesOnConstantPower(String topology) {
        double power = 10;
        Converter before = converter(topology, Load.resistor(6));
        int periods = 40;
        ConverterTransient run =
                before.transientFromSteadyState(periods * PERIOD, Change.at(0).load(Load.power(power, 2)));
        double sign = topology.startsWith("inverting") ? -1 : 1;
        double[] start = before.steadyState().periodic().state();
        double ohm = milli(20);
        BentStage oracle = new BentStage(
                before.topology(),
                12,
                micro(22),
                List.of(),
                milli(30),
                micro(100),
                List.of(),
                ohm,
                milli(80),
                DUTY,
                PERIOD,
                open -> (open + Math.sqrt(open * open - 4 * ohm * power)) / 2);
        double[] expected = oracle.after(periods, new double[] {start[0], sign * start[1]});
        assertThat(run.finalInductorCurrent()).isCloseTo(expected[0], within(1e-7 * expected[0]));
        assertThat(sign * run.finalCapacitorVoltage()).isCloseTo(expected[1], within(1e-7));
        assertThat(run.audit().residual()).isLessThan(1e-12);
    }

    /** Without resistance of its own the string sets the voltage, and the converter's resistance the current. */
    @Test
    void lightEmittingDiodesTakeWhatExceedsTheirDrop() {
        Converter converter = converter("buck", Load.lightEmittingDiodes(2, 2.5, 0.1));
        ConverterSteadyState steady = converter.steadyState();
        double expected = (DUTY * 12 - 5) / (0.2 + milli(110));
        assertThat(steady.of(converter.loadCurrent()).mean()).isCloseTo(expected, within(1e-9));
        Converter dark = converter("buck", Load.lightEmittingDiodes(3, 2.5, 0));
        assertThat(dark.steadyState().of(dark.loadCurrent()).maximum()).isZero();
    }

    @Test
    void aBatteryIsChargedAndFeedsBack() {
        Converter charging = converter("inverting-buck-boost", Load.battery(9, 0.5));
        ConverterSteadyState steady = charging.steadyState();
        double volt = -steady.of(charging.outputVoltage()).mean();
        assertThat(volt).isGreaterThan(9);
        assertThat(-steady.of(charging.loadCurrent()).mean()).isCloseTo((volt - 9) / 0.5, within(1e-9));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
        Converter feeding = converter("buck", Load.battery(9, 0.5));
        assertThat(feeding.steadyState().of(feeding.loadCurrent()).mean()).isNegative();
    }

    @Test
    void aLoadChangesItsKindOnTheWay() {
        Converter converter = converter("buck", Load.resistor(3));
        ConverterTransient run = converter.transientFromSteadyState(
                milli(2),
                Change.at(milli(0.5)).load(Load.power(8, 3)),
                Change.at(milli(1)).load(Load.lightEmittingDiodes(1, 3, 1)),
                Change.at(milli(1.5)).load(Load.of(4, 0.5)));
        assertThat(run.audit().residual()).isLessThan(1e-10);
        ConverterSteadyState after = converter.withLoad(Load.of(4, 0.5)).steadyState();
        double last = run.of(converter.outputVoltage()).at(milli(2));
        assertThat(last).isCloseTo(after.of(converter.outputVoltage()).mean(), within(0.05));
    }

    @Test
    void aStudyOfLoadCurrentsKeepsTheKind() {
        assertThat(Load.power(10, 3).drawing(1, 5)).isEqualTo(Load.power(5, 3));
        assertThat(Load.battery(4, 0.5).drawing(1, 5).currentAt(5)).isCloseTo(1, within(1e-12));
        assertThat(Load.lightEmittingDiodes(3, 1.5, 0.1).drawing(1, 5).currentAt(5))
                .isCloseTo(1, within(1e-12));
    }
}
