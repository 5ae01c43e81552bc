package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.Topology;

/** A custom circuit has what a ready-made stage has, by the roles of its parts. */
class OwnCircuitTest {
    private static final Drive DRIVE = Drive.fixedDuty(0.4, kilo(100));

    /** D. W. Hart, Power Electronics, McGraw-Hill 2011, example 6-8 (parameters from memory), with ideal parts. */
    private static Circuit sepic(double loadOhm) {
        return Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .inductor("L1", "in", "drain", micro(90))
                .switchPart("Q1", "drain", GROUND, 0)
                .capacitor("C1", "drain", "middle", micro(80))
                .inductor("L2", GROUND, "middle", micro(90))
                .rectifier("D1", "middle", "out", 0, 0)
                .capacitor("C2", "out", GROUND, micro(80))
                .resistor("R1", "out", GROUND, loadOhm)
                .build();
    }

    private static ConverterBuilder named(Circuit circuit) {
        return Converter.of(circuit)
                .input("V1")
                .output("out", GROUND)
                .inductorCurrent("L1")
                .switchNode("drain");
    }

    /** The exact periodic orbit of this circuit, worked out elsewhere: 5.99735 V, ripple 0.40000 A and 0.14985 V, peak 5.395 A. */
    @Test
    void publishedSepic() {
        Converter sepic = named(sepic(2)).drive(DRIVE);
        ConverterSteadyState steady = sepic.steadyState();
        assertThat(steady.of(sepic.outputVoltage()).mean()).isCloseTo(5.99735, within(5e-6));
        assertThat(steady.of(sepic.outputVoltage()).peakToPeak()).isCloseTo(0.14985, within(5e-6));
        assertThat(steady.of(sepic.inductorCurrent()).peakToPeak()).isCloseTo(0.4, within(5e-6));
        assertThat(steady.of(sepic.transistorCurrent()).maximum()).isCloseTo(5.395, within(5e-4));
        assertThat(steady.of(sepic.transistorVoltage()).maximum())
                .isCloseTo(steady.of(sepic.switchNode()).maximum(), within(0.0));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.efficiency().orElseThrow()).isCloseTo(1, within(1e-12));
        assertThat(steady.dutyCycle()).isCloseTo(0.4, within(1e-15));
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime()).isCloseTo(1e-5, within(1e-19));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
        Converter light = sepic.withLoad(Load.resistor(200));
        assertThat(light.steadyState().conduction()).isEqualTo(Conduction.DISCONTINUOUS);
    }

    @Test
    void whatCanBeFoundNeedNoName() {
        Roles found = Roles.unnamed().inductorCurrent("L1").in(sepic(2));
        assertThat(found.source()).isEqualTo("V1");
        assertThat(found.outputNode()).isEqualTo("out");
        assertThat(found.switches()).containsExactly("Q1");
        assertThat(found.rectifiers()).containsExactly("D1");
        assertThat(found.switchNode()).contains("drain");
        assertThat(found.outputCapacitor()).contains("C2");
        assertThat(found.loadResistor()).contains("R1");
        assertThat(Converter.of(sepic(2)).inductorCurrent("L1").drive(DRIVE).roles())
                .isEqualTo(named(sepic(2)).drive(DRIVE).roles());
    }

    @Test
    void whatCannotBeFoundIsToldWithHowToNameIt() {
        Circuit two = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .voltageSource("V2", "bias", GROUND, 5)
                .resistor("R1", "in", "bias", 10)
                .resistor("R2", "bias", "far", 10)
                .capacitor("C1", "far", GROUND, 1e-6)
                .build();
        assertThatThrownBy(() -> Converter.of(two).drive(DRIVE))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("input: cannot be found, since the voltage sources are [V1, V2]")
                .hasMessageContaining("input(\"V1\")")
                .hasMessageContaining("output: cannot be found")
                .hasMessageContaining("output(\"out\", GROUND)");
        assertThatThrownBy(() ->
                        Converter.of(two).input("V1").output("far", GROUND).drive(DRIVE))
                .hasMessageContaining("switches: a converter needs a switch");
        assertThatThrownBy(() -> Converter.of(sepic(2)).drive(DRIVE))
                .hasMessageContaining("several inductors, [L1, L2]")
                .hasMessageContaining("inductorCurrent(\"L1\")");
        assertThatThrownBy(
                        () -> named(sepic(2)).switchNode("sw").rectifiers("D7").drive(DRIVE))
                .hasMessageContaining("rectifiers: 'D7' is none of [D1]")
                .hasMessageContaining("switch node: 'sw' is none of [in, drain, middle, out]");
    }

    /** The very parts of a ready-made stage, wired by hand, give the same bits. */
    @Test
    void aBuckWiredByHandIsTheReadyMadeOne() {
        Converter ready = Stages.lossy(Topology.BUCK);
        Circuit wired = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 80e-3)
                .rectifier("D1", GROUND, "sw", 0.4, 20e-3)
                .inductor("L1", "sw", "out", 22e-6, 30e-3)
                .capacitor("C1", "out", GROUND, 47e-6, 5e-3)
                .resistor("R1", "out", GROUND, 2.5)
                .build();
        Converter own = Converter.of(wired).drive(ready.drive());
        assertThat(own.circuit()).isEqualTo(ready.circuit());
        assertThat(own.roles()).isEqualTo(ready.roles());
        ConverterSteadyState one = own.steadyState();
        ConverterSteadyState other = ready.steadyState();
        for (StageSignal signal : StageSignal.values()) {
            assertThat(one.of(signal.of(own)).rms())
                    .isEqualTo(other.of(signal.of(ready)).rms());
        }
        assertThat(one.losses()).isEqualTo(other.losses());
        assertThat(StageValue.of(own)).isEqualTo(StageValue.of(ready));
        Change step = Change.at(1e-4).load(Load.current(1)).input(15);
        assertThat(own.startUp(3e-4, step).finalInductorCurrent())
                .isEqualTo(ready.startUp(3e-4, step).finalInductorCurrent());
        // the stage's samples go without a circuit, those of a custom circuit by its regimes
        StageSampler sampler = StageSampler.of(
                own, List.of(), List.of(StageMeasurement.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE)));
        double[] ripple = new double[1];
        sampler.measure(sampler.nominal(), ripple);
        assertThat(ripple[0]).isCloseTo(one.of(own.outputVoltage()).peakToPeak(), within(1e-12));
        assertThat(sampler.leftToEngine()).isZero();
    }

    @Test
    void everyValueOfEveryPartCanBeChanged() {
        Converter sepic = named(sepic(2)).drive(DRIVE);
        assertThat(StageValue.INDUCTANCE.in(sepic.with("L1.inductance", 22e-6))).isEqualTo(22e-6);
        assertThat(sepic.with("L2.inductance", 22e-6).circuit().part("L2"))
                .isEqualTo(new Part.Inductor("L2", GROUND, "middle", 22e-6, 0, 0));
        assertThat(sepic.with("D1.forward_drop", 0.4).with("V1.voltage", 12).inputVoltage())
                .isEqualTo(12);
        assertThatThrownBy(() -> sepic.with("L1.capacitance", 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("[L1.inductance, L1.resistance]");
        assertThatThrownBy(() -> sepic.with("L9.inductance", 1)).hasMessageContaining("L1, Q1, C1, L2");
        assertThatThrownBy(() -> sepic.with("L1.inductance", -1))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("-1");
    }

    /** Two windings on one core: by symmetry a coupling of k makes of each inductance L one of L (1 + k) for the ripple. */
    @Test
    void couplingAndTurnsAreValuesToo() {
        Circuit coupled = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .coupledInductors(
                        "T1",
                        Part.Winding.of("1", "in", "drain"),
                        micro(90),
                        Part.Winding.of("2", GROUND, "middle"),
                        micro(90),
                        0.5)
                .switchPart("Q1", "drain", GROUND, 0)
                .capacitor("C1", "drain", "middle", 1)
                .rectifier("D1", "middle", "out", 0, 0)
                .capacitor("C2", "out", GROUND, 1)
                .resistor("R1", "out", GROUND, 2)
                .build();
        Converter sepic = Converter.of(coupled).inductorCurrent("T1.1").drive(DRIVE);
        for (double coupling : new double[] {0, 0.5, 0.97}) {
            Converter changed = sepic.with("T1.coupling", coupling);
            double ripple = changed.steadyState().of(changed.inductorCurrent()).peakToPeak();
            double uncoupled = 9 * 0.4 / (kilo(100) * micro(90));
            // the capacitors of 1 F leave less than a millionth of ripple
            assertThat(ripple).isCloseTo(uncoupled / (1 + coupling), within(1e-6 * uncoupled));
        }
        assertThat(sepic.with("T1.mutual_inductance", 9e-6).circuit())
                .isEqualTo(sepic.with("T1.coupling", 0.1).circuit());
    }

    /**
     * A capacitor across the switch takes the current over for a moment before the rectifier does. The inductor current never
     * falls below 1.8 A, so that conduction is continuous; it was told discontinuous, for no device carries it meanwhile.
     */
    @Test
    void aSnubberDoesNotMakeConductionDiscontinuous() {
        Circuit snubbed = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0.08)
                .resistor("R2", "in", "snub", 10)
                .capacitor("C2", "snub", "sw", nano(1))
                .capacitor("C3", "sw", GROUND, nano(1), 1)
                .rectifier("D1", GROUND, "sw", 0.4, 0.02)
                .rectifier("D2", "sw", "clamp", 0, 1)
                .capacitor("C4", "clamp", GROUND, micro(1))
                .resistor("R3", "clamp", GROUND, 1000)
                .inductor("L1", "sw", "out", micro(22), 0.03)
                .capacitor("C1", "out", GROUND, micro(47), 0.005)
                .resistor("R1", "out", GROUND, 2)
                .build();
        Converter buck = Converter.of(snubbed).output("out", GROUND).drive(Drive.fixedDuty(0.45, kilo(300)));
        assertThat(buck.roles().rectifiers()).containsExactly("D1");
        ConverterSteadyState steady = buck.steadyState();
        assertThat(steady.of(buck.inductorCurrent()).minimum()).isGreaterThan(1.8);
        assertThat(steady.idleTime()).isGreaterThan(0);
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.periodic().conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(buck.withLoad(Load.resistor(100)).steadyState().conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        // what the snubber and the clamp lose is told beside the roles
        StageLosses losses = steady.losses();
        Map<String, Double> parts = steady.lossesByPart();
        assertThat(losses.others()).isPositive();
        assertThat(parts).containsKeys("R2", "R3", "D2").doesNotContainKey("R1");
        assertThat(losses.total())
                .isCloseTo(steady.inputPower() - steady.outputPower(), within(1e-11 * steady.inputPower()));
        assertThat(parts.values().stream().mapToDouble(Double::doubleValue).sum())
                .isCloseTo(losses.total(), within(1e-12 * losses.total()));
    }

    /** Nothing stores a current in a charge pump; a doubler without load gives twice its input. */
    @Test
    void aChargePumpHasNoConductionMode() {
        Circuit doubler = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 5)
                .switchPart("Q1", "fly", GROUND, 0.1)
                .switchPart("Q2", "in", "fly", 0.1)
                .rectifier("D1", "in", "top", 0, 0.1)
                .capacitor("C1", "top", "fly", micro(10))
                .rectifier("D2", "top", "out", 0, 0.1)
                .capacitor("C2", "out", GROUND, micro(10))
                .resistor("R1", "out", GROUND, 1e6)
                .build();
        Converter pump = Converter.of(doubler)
                .switches("Q1", "Q2")
                .rectifiers("D1", "D2")
                .drive(Map.of(
                        "Q1", Drive.fixedDuty(0.5, kilo(100)),
                        "Q2", Drive.fixedDuty(0.5, kilo(100)).delayedBy(0.5)));
        ConverterSteadyState steady = pump.steadyState();
        assertThat(steady.of(pump.outputVoltage()).mean()).isCloseTo(10, within(1e-4));
        assertThat(steady.conduction()).isEqualTo(Conduction.UNDEFINED);
        assertThat(steady.periodic().conduction()).isEqualTo(Conduction.UNDEFINED);
        assertThatThrownBy(pump::inductorCurrent)
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("inductor current");
    }

    @Test
    void aRegulatorHoldsTheOutputOfACircuitOfOnesOwn() {
        Converter sepic = named(sepic(20))
                .drive(VoltageMode.of(kilo(100), 1, 1 / 6.0, Compensator.type2(20, 300, kilo(20)))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.8));
        ConverterSteadyState steady = sepic.steadyState();
        assertThat(steady.of(sepic.outputVoltage()).mean()).isCloseTo(6, within(1e-6));
        FrequencyResponse loop = steady.smallSignal().loopGain(100, 1000);
        assertThat(loop.magnitude(0)).isPositive();
        FrequencyResponse impedance = steady.smallSignal().outputImpedance(100);
        assertThat(impedance.magnitude(0)).isPositive();
    }

    /** Against central differences of two exact steady states. */
    @Test
    void derivativesByItsValues() {
        Converter sepic = named(sepic(2)).drive(DRIVE);
        for (StageValue value : List.of(StageValue.INPUT_VOLTAGE, StageValue.INDUCTANCE, StageValue.LOAD_RESISTANCE)) {
            double nominal = value.in(sepic);
            StageMeasurement ripple = StageMeasurement.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
            double exact = sepic.steadyState().sensitivities().of(ripple).withRespectTo(value);
            double step = 1e-4 * nominal;
            double more = ripple.in(value.set(sepic, nominal + step).steadyState());
            double less = ripple.in(value.set(sepic, nominal - step).steadyState());
            assertThat(exact).isCloseTo((more - less) / (2 * step), within(1e-5 * Math.abs(exact) + 1e-9));
        }
        StageMeasurement ripple = StageMeasurement.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
        double exact = sepic.steadyState().sensitivities().of(ripple).withRespectTo(Parameter.inductance("L2"));
        double more = ripple.in(sepic.with("L2.inductance", micro(90.01)).steadyState());
        double less = ripple.in(sepic.with("L2.inductance", micro(89.99)).steadyState());
        assertThat(exact).isCloseTo((more - less) / micro(0.02), within(1e-5 * Math.abs(exact)));
    }
}
