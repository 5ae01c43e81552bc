package outside;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignKeys;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.OperatingMap;

/** A stage from outside of the library gets what it has for its own. */
class StageOfAStrangerTest {
    private static final Drive DRIVE = Drive.fixedDuty(0.5, kilo(200));

    private static PowerStage stage(double ohm) {
        return PowerStage.of(new QuadraticBoost())
                .input(6)
                .with(new QuadraticBoost.FirstStep(micro(100), 0, micro(100)))
                .inductor(micro(220), 0)
                .outputCapacitor(micro(100), 0)
                .load(Load.resistor(ohm));
    }

    private static PowerStage lossy() {
        return stage(100)
                .with(new QuadraticBoost.FirstStep(micro(100), milli(20), micro(100)))
                .inductor(micro(220), milli(50))
                .transistor(milli(30))
                .rectifier(0.4, milli(20));
    }

    @Test
    void idealPartsGiveTheIdealRatio() {
        Converter boost = stage(100).drive(DRIVE);
        ConverterSteadyState steady = boost.steadyState();
        double ideal = 6 * boost.topology().continuousRatio(0.5);
        assertThat(ideal).isEqualTo(24);
        // the ripple of the capacitors, some thousandths, is what the ratio leaves out
        assertThat(steady.of(boost.outputVoltage()).mean()).isCloseTo(ideal, within(2e-3 * ideal));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.efficiency().orElseThrow()).isCloseTo(1, within(1e-11));
        assertThat(steady.audit().residual()).isLessThan(1e-11);
        assertThat(stage(20000).drive(DRIVE).steadyState().conduction()).isEqualTo(Conduction.DISCONTINUOUS);
    }

    @Test
    void itIsKnownByItsName() {
        assertThat(Topology.of("quadratic-boost")).isInstanceOf(QuadraticBoost.class);
        assertThatThrownBy(() -> Topology.of("cubic-boost"))
                .hasMessageContaining("stages are buck, boost, inverting-buck-boost, ")
                .hasMessageEndingWith(", quadratic-boost");
    }

    @Test
    void whatItNeedsIsAskedFor() {
        PowerStage bare = PowerStage.of(new QuadraticBoost()).input(6).load(Load.resistor(100));
        assertThatThrownBy(() -> bare.with(new SecondInductor(1, 0, 0)).drive(DRIVE))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageStartingWith("quadratic boost stage: ")
                .hasMessageContaining("inductor: inductance is missing")
                .hasMessageContaining("first step is missing; a quadratic boost stage needs one")
                .hasMessageContaining("second inductor: a quadratic boost stage has no such part");
    }

    @Test
    void designFilesKnowItsKeys() throws DesignException {
        String file = """
                stage = { topology = "quadratic-boost" }
                input = { voltage = 6 }
                first_step = { inductance = "100 µH", capacitance = "100 µF" }
                inductor = { inductance = "220 µH" }
                output_capacitor = { capacitance = "100 µF" }
                load = { resistance = 100 }
                drive = { kind = "fixed-duty", duty_cycle = 0.5, switching_frequency = "200 kHz" }
                """;
        Converter read = DesignFile.parse("boost.toml", "boost", file).converter();
        assertThat(read.circuit().parts())
                .isEqualTo(stage(100).drive(DRIVE).circuit().parts());
        assertThatThrownBy(() -> DesignFile.parse(
                        "boost.toml", "boost", file.replace("100 µF\" }\ninductor", "100 µH\" }\ninductor")))
                .hasMessageContaining("first_step.capacitance")
                .hasMessageContaining("valid: more than 0 F");
        assertThat(DesignKeys.text()).contains("[first_step]");
    }

    @Test
    void transientsLossesAndResponses() {
        Converter boost = lossy().drive(DRIVE);
        ConverterSteadyState steady = boost.steadyState();
        LossBudget budget = LossBudget.of(steady, List.of(new OverlapLoss(15e-9, 20e-9), new GateChargeLoss(9e-9, 5)));
        double conduction = steady.losses().total();
        assertThat(conduction)
                .isCloseTo(steady.inputPower() - steady.outputPower(), within(1e-10 * steady.inputPower()));
        assertThat(budget.total()).isGreaterThan(conduction);
        assertThat(boost.transientFromSteadyState(milli(1), Change.at(1e-4).load(Load.resistor(50)))
                        .of(boost.outputVoltage())
                        .minimum())
                .isLessThan(steady.of(boost.outputVoltage()).minimum());
        FrequencyResponse control = steady.smallSignal().controlToOutput(1);
        double more = boost.withDutyCycle(0.501)
                .steadyState()
                .of(boost.outputVoltage())
                .mean();
        double less = boost.withDutyCycle(0.499)
                .steadyState()
                .of(boost.outputVoltage())
                .mean();
        // at a low frequency the response is the slope of the static curve
        assertThat(control.magnitude(0)).isCloseTo((more - less) / 0.002, within(0.01 * control.magnitude(0)));
    }

    @Test
    void outputHeldSampledAndDifferentiated() {
        Converter held = DutyCycleSearch.forOutput(lossy().drive(DRIVE), 24);
        assertThat(held.drive().dutyCycle()).isBetween(0.5, 0.55);
        assertThat(held.steadyState().of(held.outputVoltage()).mean()).isCloseTo(24, within(1e-9));
        StageMeasurement ripple = StageMeasurement.of(Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT);
        StageSampler sampler = StageSampler.of(held, List.of(StageValue.INDUCTANCE), List.of(ripple));
        double[] values = sampler.nominal();
        values[0] *= 1.001;
        double[] more = new double[1];
        sampler.measure(values, more);
        double exact = held.steadyState().sensitivities().of(ripple).withRespectTo(StageValue.INDUCTANCE);
        double change = more[0] - ripple.in(held.steadyState());
        assertThat(change).isCloseTo(exact * 1e-3 * micro(220), within(2e-3 * Math.abs(change)));
        EfficiencyCurve curve = EfficiencyCurve.of(held, 24, List.of(), 0.1, 0.24);
        assertThat(curve.failures()).isEmpty();
        assertThat(curve.linearLimit()).isEmpty();
    }

    @Test
    void aRegulatorHoldsIt() {
        Converter regulated = lossy().drive(VoltageMode.of(kilo(200), 1, 1 / 24.0, Compensator.type2(10, 200, kilo(20)))
                .withRamp(0, 1)
                .withMaximumDutyCycle(0.7));
        ConverterSteadyState steady = regulated.steadyState();
        assertThat(steady.of(regulated.outputVoltage()).mean()).isCloseTo(24, within(1e-3));
        assertThat(steady.smallSignal().loopGain(100).magnitude(0)).isPositive();
    }

    /** The output is held at every point of a map; its duty cycle at 6 V is that of a search alone. */
    @Test
    void mapHoldsItsOutput() {
        OperatingMap map = OperatingMap.holding(
                lossy().drive(DRIVE),
                24,
                Axis.loadCurrent(0.12, 0.24, 2),
                Axis.inputVoltage(5, 6, 2),
                List.of(
                        StageFigure.of(StageMeasurement.of(Measure.DUTY_CYCLE)),
                        StageFigure.of(StageMeasurement.of(Measure.EFFICIENCY))),
                Execution.standard());
        assertThat(map.failures()).isZero();
        double alone =
                DutyCycleSearch.forOutput(lossy().drive(DRIVE), 24).drive().dutyCycle();
        assertThat(map.value(0, 1, 1)).isCloseTo(alone, within(1e-9));
        assertThat(map.value(0, 1, 0)).isGreaterThan(alone);
        assertThat(map.value(1, 0, 1)).isBetween(0.8, 1.0);
    }
}
