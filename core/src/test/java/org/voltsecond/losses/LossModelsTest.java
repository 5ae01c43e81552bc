package org.voltsecond.losses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Each model against its formula written out with the currents and voltages of the exact waveform. */
class LossModelsTest {
    private static final double FREQUENCY = kilo(300);

    private static PowerStage stage(double ohm) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .load(Load.resistor(ohm));
    }

    private static Converter diode(double ohm) {
        return stage(ohm).rectifier(0.4, milli(20)).drive(Drive.fixedDuty(0.45, FREQUENCY));
    }

    private static Converter synchronous(double ohm) {
        return stage(ohm).synchronousRectifier(milli(60)).drive(Drive.fixedDuty(0.45, FREQUENCY));
    }

    private static Waveform current(ConverterSteadyState steady) {
        return steady.of(steady.converter().inductorCurrent());
    }

    private static Offset<Double> relative(double value) {
        return within(1e-12 * Math.abs(value));
    }

    /** Turns on at the valley of the inductor current and off at its peak; blocks the input plus what the diode drops. */
    @Test
    void overlap() {
        ConverterSteadyState steady = diode(2.5).steadyState();
        double valley = current(steady).minimum();
        double peak = current(steady).maximum();
        double on = 0.5 * (12 + 0.4 + 0.02 * valley) * valley * 20e-9;
        double off = 0.5 * (12 + 0.4 + 0.02 * peak) * peak * 30e-9;
        double expected = FREQUENCY * (on + off);
        assertThat(new OverlapLoss(20e-9, 30e-9).power(steady)).isCloseTo(expected, relative(expected));
    }

    /** Closing in discontinuous conduction meets no current, only the output voltage's distance from the input. */
    @Test
    void discontinuousConductionClosesWithoutCurrent() {
        ConverterSteadyState steady = diode(100).steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(new OverlapLoss(20e-9, 0).power(steady)).isEqualTo(0, within(1e-15));
        assertThat(new OverlapLoss(0, 20e-9).power(steady)).isPositive();
        assertThat(new ReverseRecoveryLoss(20e-9, 30e-9).power(steady)).isZero();
        double end = steady.of(steady.converter().outputVoltage()).at(steady.period());
        double expected = 0.5 * 200e-12 * (12 - end) * (12 - end) * FREQUENCY;
        assertThat(new OutputCapacitanceLoss(200e-12).power(steady)).isCloseTo(expected, within(1e-9 * expected));
    }

    @Test
    void gateChargeIsMovedOnceAPeriod() {
        assertThat(new GateChargeLoss(10e-9, 5).power(diode(2.5).steadyState()))
                .isCloseTo(10e-9 * 5 * FREQUENCY, within(1e-15));
        assertThat(new GateChargeLoss(10e-9, 5)
                        .power(diode(2.5).withDutyCycle(1).steadyState()))
                .isZero();
    }

    @Test
    void outputCapacitance() {
        ConverterSteadyState steady = synchronous(2.5).steadyState();
        double blocked = 12 + milli(60) * current(steady).minimum();
        double expected = 0.5 * 150e-12 * blocked * blocked * FREQUENCY;
        assertThat(new OutputCapacitanceLoss(150e-12).power(steady)).isCloseTo(expected, relative(expected));
    }

    @Test
    void reverseRecovery() {
        ConverterSteadyState steady = diode(2.5).steadyState();
        double valley = current(steady).minimum();
        double expected = (12 + 0.4 + 0.02 * valley) * (valley * 25e-9 + 15e-9) * FREQUENCY;
        assertThat(new ReverseRecoveryLoss(15e-9, 25e-9).power(steady)).isCloseTo(expected, relative(expected));
    }

    /** The diode takes the place of the channel: only what it drops more is lost more. */
    @Test
    void deadTime() {
        ConverterSteadyState steady = synchronous(2.5).steadyState();
        double valley = current(steady).minimum();
        double peak = current(steady).maximum();
        double before = valley * (0.8 + (0.01 - 0.06) * valley) * 30e-9;
        double after = peak * (0.8 + (0.01 - 0.06) * peak) * 20e-9;
        double expected = FREQUENCY * (before + after);
        assertThat(new DeadTimeLoss(30e-9, 20e-9, 0.8, 0.01).power(steady)).isCloseTo(expected, relative(expected));
    }

    /** A regulator that keeps a dead time loses, exactly simulated, what the model adds to one without. */
    @Test
    void deadTimeAgainstItsExactSimulation() {
        double dead = 20e-9;
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                .withControlLimits(0, 1);
        Converter without =
                stage(2.5).synchronousRectifier(milli(60), 0.8, 0.01).drive(regulator);
        Converter with = without.withRegulator(
                regulator.withProtection(Protection.none().withSynchronousRectification(Rectification.FORCED, dead)));
        ConverterSteadyState ideal = without.steadyState();
        ConverterSteadyState real = with.steadyState();
        DeadTimeLoss model = new DeadTimeLoss(dead, dead, 0.8, 0.01);
        double exact = real.losses().rectifier() - ideal.losses().rectifier();
        // The regulated duty cycle is a little longer with the drop of the diode, which changes currents by about 1 %.
        assertThat(exact).isCloseTo(model.power(ideal), within(0.05 * exact));
        assertThatThrownBy(() -> model.power(real)).hasMessageContaining("has a dead time");
        assertThatThrownBy(() -> model.power(diode(2.5).steadyState())).hasMessageContaining("diode as rectifier");
    }

    @Test
    void budgetAddsUp() {
        ConverterSteadyState steady = diode(2.5).steadyState();
        LossBudget bare = LossBudget.of(steady, List.of());
        assertThat(bare.total()).isCloseTo(steady.losses().total(), relative(1));
        assertThat(bare.efficiency()).isCloseTo(steady.efficiency().orElseThrow(), within(1e-12));
        List<LossModel> models = List.of(new OverlapLoss(20e-9, 20e-9), new GateChargeLoss(10e-9, 5));
        LossBudget budget = LossBudget.of(steady, models);
        double added = models.stream().mapToDouble(model -> model.power(steady)).sum();
        assertThat(budget.total()).isCloseTo(bare.total() + added, relative(1));
        assertThat(budget.total("transistor"))
                .isCloseTo(steady.losses().transistor() + models.get(0).power(steady), relative(1));
        assertThat(budget.efficiency()).isCloseTo(steady.outputPower() / (steady.inputPower() + added), within(1e-12));
    }

    /** At light load what is lost at every period wins, at full load what the current drops. */
    @Test
    void efficiencyOverLoad() {
        double[] loads = EfficiencyCurve.loads(0.01, 2, 12);
        EfficiencyCurve curve = EfficiencyCurve.of(
                diode(2.5), 5, List.of(new GateChargeLoss(10e-9, 5), new OverlapLoss(20e-9, 20e-9)), loads);
        assertThat(curve.failures()).isEmpty();
        assertThat(curve.points()).hasSize(12);
        assertThat(curve.linearLimit()).hasValue(5.0 / 12);
        for (EfficiencyCurve.Point point : curve.points()) {
            assertThat(point.budget().outputPower()).isCloseTo(5 * point.loadCurrent(), within(0.001 * 5));
        }
        double[] efficiencies = curve.points().stream()
                .mapToDouble(point -> point.budget().efficiency())
                .toArray();
        assertThat(efficiencies[0]).isLessThan(efficiencies[6]);
        assertThat(efficiencies[11]).isLessThan(efficiencies[6]);
        assertThat(curve.points().get(0).conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(curve.points().get(11).conduction()).isEqualTo(Conduction.CONTINUOUS);
    }

    @Test
    void noLinearRegulatorStepsUpOrInverts() {
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(micro(100))
                .outputCapacitor(micro(47))
                .load(Load.resistor(48))
                .drive(Drive.fixedDuty(0.5, FREQUENCY));
        assertThat(EfficiencyCurve.of(boost, 24, List.of(), 0.5).linearLimit()).isEmpty();
    }

    @Test
    void loadsAreAtEqualRatios() {
        double[] loads = EfficiencyCurve.loads(0.01, 10, 4);
        assertThat(loads).containsExactly(new double[] {0.01, 0.1, 1, 10}, within(1e-14));
        assertThatThrownBy(() -> EfficiencyCurve.loads(0, 1, 4)).hasMessageContaining("0.0 A");
    }

    @Test
    void dutyCycleThatCannotBe() {
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(micro(100), 0.5)
                .outputCapacitor(micro(470))
                .load(Load.resistor(50))
                .drive(Drive.fixedDuty(0.5, kilo(100)));
        // With R_L/R = 0.01 the output is 5 V_in at most (Erickson and Maksimovic, section 3.3).
        assertThat(DutyCycleSearch.forOutput(boost, 58).drive().dutyCycle()).isBetween(0.8, 0.9);
        assertThatThrownBy(() -> DutyCycleSearch.forOutput(boost, 61))
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("at most");
        assertThatThrownBy(() -> DutyCycleSearch.forOutput(boost, 6))
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("lower the input");
        assertThatThrownBy(() -> DutyCycleSearch.forOutput(boost, -6)).isInstanceOf(IllegalArgumentException.class);
    }

    /**
     * With R_L and a load of constant current the output of a boost stage is V = V_i/D' - R_L I/D'^2 but for ripple, at most
     * V_i^2/(4 R_L I), from volt-second balance.
     */
    @Test
    void theHighestOutputIsFoundAsItIs() {
        Converter boost = PowerStage.boost()
                .input(10)
                .inductor(milli(10), 0.25)
                .outputCapacitor(milli(10))
                .load(Load.current(1))
                .drive(Drive.fixedDuty(0.5, kilo(100)));
        double most = 10 * 10 / (4 * 0.25);
        double nearly = most * (1 - 1e-5);
        Converter found = DutyCycleSearch.forOutput(boost, nearly);
        assertThat(found.steadyState().of(found.outputVoltage()).mean()).isCloseTo(nearly, within(1e-9 * nearly));
        // the lower one of the two: D' is 0.05 (1 +- sqrt(1e-5))
        assertThat(1 - found.drive().dutyCycle()).isCloseTo(0.05 * (1 + Math.sqrt(1e-5)), within(1e-6));
        assertThatThrownBy(() -> DutyCycleSearch.forOutput(boost, most * (1 + 1e-5)))
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("gives 100.001 V: the output reaches 100 V at most");
    }

    /** A ripple of the line at half the switching frequency makes one of two valleys the lower one, which counts. */
    @Test
    void theMarginIsThatOfTheTightestPeriod() {
        Converter buck = diode(2.5).withInputRipple(2, FREQUENCY / 2);
        ConverterSteadyState steady = buck.steadyState();
        Waveform current = current(steady);
        assertThat(steady.conductionMargin()).isCloseTo(current.minimum() / current.maximum(), within(1e-9));
    }

    /** A current command leaves the output to the load: then the load current is not the one that a constant output draws. */
    @Test
    void efficiencyOverLoadOfAStageThatHoldsItsCurrent() {
        Converter buck = diode(2.5).withRegulator(CurrentMode.peak(FREQUENCY, 2.2));
        double[] loads = {1.5, 2, 3};
        EfficiencyCurve curve = EfficiencyCurve.of(buck, 5, List.of(), loads);
        for (int k = 0; k < loads.length; k++) {
            EfficiencyCurve.Point point = curve.points().get(k);
            double ohm = 5 / loads[k];
            assertThat(point.budget().outputPower())
                    .isCloseTo(point.loadCurrent() * point.loadCurrent() * ohm, within(1e-4));
            assertThat(point.loadCurrent()).isBetween(1.8, 2.2);
        }
    }

    @Test
    void refusesWhatIsNoValue() {
        assertThatThrownBy(() -> new OverlapLoss(-1e-9, 0)).hasMessageContaining("turn-on time");
        assertThatThrownBy(() -> new GateChargeLoss(Double.NaN, 5)).hasMessageContaining("gate charge");
        assertThatThrownBy(() -> new OutputCapacitanceLoss(-1)).hasMessageContaining("F");
        assertThatThrownBy(() -> new ReverseRecoveryLoss(0, -1)).hasMessageContaining("recovery time");
    }
}
