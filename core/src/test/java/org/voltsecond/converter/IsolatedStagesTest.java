package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Clamp;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** The stages with a transformer, held to published cases and closed forms. */
class IsolatedStagesTest {
    private static final List<Topology> ISOLATED = List.of(
            Topology.FLYBACK,
            Topology.FORWARD,
            Topology.TWO_SWITCH_FORWARD,
            Topology.PUSH_PULL,
            Topology.HALF_BRIDGE,
            Topology.FULL_BRIDGE);

    static List<Topology> isolated() {
        return ISOLATED;
    }

    /** Hart, Power Electronics, McGraw-Hill 2011, example 7-1 (parameters from memory), with ideal parts. */
    private static PowerStage flyback() {
        return PowerStage.flyback()
                .input(24)
                .with(Transformer.of(3, 1, micro(500)))
                .outputCapacitor(micro(200))
                .load(Load.resistor(5));
    }

    /** The same, example 7-4. */
    private static PowerStage forward(PowerStage stage) {
        return stage.input(48)
                .with(Transformer.of(1.5, 1, milli(5)).withReset(1.5))
                .inductor(milli(0.4))
                .outputCapacitor(micro(100))
                .load(Load.resistor(10));
    }

    /** The same, example 7-6. */
    private static PowerStage pushPull(PowerStage stage) {
        return stage.input(30)
                .with(Transformer.of(2, 1, milli(5)))
                .inductor(milli(0.5))
                .outputCapacitor(micro(50))
                .load(Load.resistor(6));
    }

    private static Offset<Double> digits(double last) {
        return within(last);
    }

    private static Waveform of(ConverterSteadyState steady, String further) {
        return steady.of(steady.converter().further(further));
    }

    /** To the printed digits, and to those of the exact periodic orbit of this circuit, worked out elsewhere. */
    @Test
    void publishedFlyback() {
        Converter converter = flyback().drive(Drive.fixedDuty(5 / 13.0, kilo(40)));
        ConverterSteadyState steady = converter.steadyState();
        Waveform output = steady.of(converter.outputVoltage());
        Waveform current = steady.of(converter.inductorCurrent());
        assertThat(output.mean()).isCloseTo(5, digits(0.005)).isCloseTo(4.99655, digits(5e-6));
        assertThat(current.mean()).isCloseTo(0.54, digits(5e-3)).isCloseTo(0.54115, digits(5e-6));
        assertThat(current.maximum()).isCloseTo(0.77, digits(5e-3)).isCloseTo(0.77169, digits(5e-6));
        assertThat(current.minimum()).isCloseTo(0.31, digits(5e-3)).isCloseTo(0.31015, digits(5e-6));
        assertThat(output.peakToPeak()).isCloseTo(48.14e-3, digits(5e-6));
        assertThat(output.peakToPeak() / output.mean()).isCloseTo(0.0096, digits(5e-5));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.periodic().isStable()).isTrue();
    }

    @Test
    void publishedForward() {
        Converter converter = forward(PowerStage.forward()).drive(Drive.fixedDuty(0.4, kilo(35)));
        ConverterSteadyState steady = converter.steadyState();
        Waveform output = steady.of(converter.outputVoltage());
        Waveform current = steady.of(converter.inductorCurrent());
        assertThat(output.mean()).isCloseTo(12.8, digits(1e-9));
        assertThat(current.mean()).isCloseTo(1.28, digits(1e-9));
        assertThat(current.peakToPeak()).isCloseTo(0.55, digits(5e-3)).isCloseTo(0.54880, digits(5e-6));
        assertThat(current.maximum()).isCloseTo(1.55440, digits(5e-6));
        assertThat(current.minimum()).isCloseTo(1.01, digits(5e-3)).isCloseTo(1.00560, digits(5e-6));
        assertThat(of(steady, "magnetizing_current").maximum())
                .isCloseTo(0.11, digits(5e-3))
                .isCloseTo(48 * 0.4 / kilo(35) / milli(5), digits(1e-12));
        assertThat(output.peakToPeak()).isCloseTo(19.602e-3, digits(5e-7));
        assertThat(output.peakToPeak() / output.mean()).isCloseTo(0.00153, digits(5e-6));
    }

    @Test
    void publishedPushPull() {
        Converter converter = pushPull(PowerStage.pushPull()).drive(Drive.fixedDuty(0.3, kilo(10)));
        ConverterSteadyState steady = converter.steadyState();
        Waveform output = steady.of(converter.outputVoltage());
        Waveform current = steady.of(converter.inductorCurrent());
        assertThat(output.mean()).isCloseTo(9, digits(1e-9));
        assertThat(current.peakToPeak()).isCloseTo(0.36, digits(5e-3)).isCloseTo(0.36072, digits(5e-6));
        assertThat(current.maximum()).isCloseTo(1.68, digits(5e-3)).isCloseTo(1.68036, digits(5e-6));
        assertThat(current.minimum()).isCloseTo(1.32, digits(5e-3)).isCloseTo(1.31964, digits(5e-6));
        assertThat(output.peakToPeak() / output.mean())
                .isCloseTo(0.005, digits(5e-5))
                .isCloseTo(0.005011, digits(5e-7));
        assertThat(steady.dutyCycle()).isCloseTo(0.3, digits(1e-15));
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime()).isCloseTo(1e-4, digits(1e-18));
    }

    /** Nothing but symmetry decides on the mean of the flux of an ideal one: none is the one that is taken, and nothing brings it back. */
    @ParameterizedTest
    @MethodSource("alternating")
    void aFluxThatNothingDrivesHasNoMean(Topology topology) {
        Converter converter = pushPull(PowerStage.of(topology)).drive(Drive.fixedDuty(0.3, kilo(10)));
        ConverterSteadyState steady = converter.steadyState();
        Waveform magnetizing = of(steady, "magnetizing_current");
        double swing = (topology == Topology.HALF_BRIDGE ? 15 : 30) * 0.3 / kilo(10) / milli(5);
        assertThat(magnetizing.mean()).isCloseTo(0, digits(1e-15));
        assertThat(magnetizing.maximum()).isCloseTo(swing / 2, digits(1e-12));
        assertThat(magnetizing.minimum()).isCloseTo(-swing / 2, digits(1e-12));
        assertThat(steady.periodic().stability()).isEqualTo(SteadyState.Stability.UNDAMPED);
        assertThat(steady.periodic().multipliers().get(0).real()).isCloseTo(1, digits(1e-14));
    }

    static List<Topology> alternating() {
        return ISOLATED.subList(3, 6);
    }

    private static PowerStage any(Topology topology, double magnetizing, double leakage) {
        PowerStage stage = PowerStage.of(topology)
                .input(40)
                .with(Transformer.of(2, 1, magnetizing).withReset(2).withLeakage(leakage))
                .outputCapacitor(alternating().contains(topology) ? milli(1) : 1);
        return topology.hasInductor() ? stage.inductor(micro(100)) : stage;
    }

    /** The ideal ratio, its boundary, and the ratio below it, for a ripple that is next to nothing; sources at the stages. */
    @ParameterizedTest
    @MethodSource("isolated")
    void ratiosAndTheBoundaryOfConduction(Topology topology) {
        double duty = 0.3;
        double frequency = kilo(100);
        PowerStage stage = any(topology, topology.hasInductor() ? 1 : micro(100), 0);
        Topology ideal = stage.load(Load.resistor(1))
                .drive(Drive.fixedDuty(duty, frequency))
                .topology();
        double inductance = micro(100);
        double boundary = 2 * inductance * frequency / ideal.criticalK(duty);
        for (double factor : new double[] {0.1, 0.99, 1.01, 2}) {
            double ohm = factor * boundary;
            Converter converter = stage.load(Load.resistor(ohm)).drive(Drive.fixedDuty(duty, frequency));
            ConverterSteadyState steady = converter.steadyState();
            double k = 2 * inductance * frequency / ohm;
            double ratio = factor < 1 ? ideal.continuousRatio(duty) : ideal.discontinuousRatio(duty, k);
            // the magnetizing current of a bridge goes on in the inductor once that has no current of its own
            assertThat(steady.of(converter.outputVoltage()).mean())
                    .as(topology + " at " + factor)
                    .isCloseTo(40 * ratio, within(40 * ratio * (factor < 1 ? 2e-6 : 1e-3)));
            if (factor < 1 || !alternating().contains(topology)) {
                assertThat(steady.conduction())
                        .as(topology + " at " + factor)
                        .isEqualTo(factor < 1 ? Conduction.CONTINUOUS : Conduction.DISCONTINUOUS);
            }
            assertThat(steady.audit().residual()).isLessThan(1e-10);
        }
    }

    /** The volt-seconds of every winding and inductance of a period are zero, with losses everywhere and leakage where it has a way. */
    @ParameterizedTest
    @MethodSource("isolated")
    void voltSecondsOfEveryWindingAreZero(Topology topology) {
        boolean clamped =
                topology == Topology.FLYBACK || topology == Topology.FORWARD || topology == Topology.PUSH_PULL;
        PowerStage stage = any(topology, micro(200), micro(1))
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(50))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(5));
        Converter converter = (clamped ? stage.with(Clamp.of(90)) : stage).drive(Drive.fixedDuty(0.35, kilo(100)));
        ConverterSteadyState steady = converter.steadyState();
        List<String> coils = converter.circuit().ports().stream()
                .map(port -> port.name())
                .filter(name -> name.startsWith("T1.") || name.startsWith("L"))
                .toList();
        assertThat(coils).hasSizeGreaterThanOrEqualTo(topology.hasInductor() ? 5 : 4);
        for (String coil : coils) {
            Waveform across = steady.of(converter.driven().voltageAcross(coil));
            assertThat(across.mean()).as(topology + ": " + coil).isCloseTo(0, within(1e-9 * across.rms()));
        }
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        assertThat(steady.periodic().isStable()).isTrue();
    }

    /** The core is reset when the reset winding has taken back the volt-seconds: after D T times its turns over those of the primary. */
    @Test
    void theCoreIsResetInTime() {
        Transformer core = Transformer.of(2, 1, milli(1)).withReset(3);
        Converter converter = forward(PowerStage.forward()).with(core).drive(Drive.fixedDuty(0.3, kilo(35)));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.periodic().timeConducting("D4")).isCloseTo(0.3 / kilo(35) * 1.5, within(1e-15));
        assertThat(steady.of(converter.transistorVoltage()).maximum()).isCloseTo(48 * (1 + 2 / 3.0), within(1e-9));
        assertThat(converter.topology().longestDutyCycle()).isCloseTo(1 / 2.5, within(1e-15));
        assertThat(converter.topology().blockedVoltage(48, 9.6)).isCloseTo(80, within(1e-12));
        // beyond it the flux climbs from period to period
        assertThatThrownBy(() -> converter.withDutyCycle(0.41).steadyState())
                .hasMessageContaining("no periodic steady state");
    }

    /**
     * When the transistor opens, the leakage carries the peak current I; the clamp at V takes it down against the reflected output
     * n V_o, and takes up L I^2 / 2 times V / (V - n V_o) in each period. Balance of volts and amperes in that interval; no source.
     */
    @Test
    void theClampTakesUpTheLeakageAndMore() {
        double leak = micro(5);
        double frequency = kilo(100);
        Converter converter = PowerStage.flyback()
                .input(24)
                .with(Transformer.of(3, 1, micro(50)).withLeakage(leak))
                .with(Clamp.of(60))
                .outputCapacitor(1)
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(0.3, frequency));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        double peak = 24 * 0.3 / frequency / (micro(50) + leak);
        double reflected = 3 * steady.of(converter.outputVoltage()).mean();
        assertThat(steady.of(converter.inductorCurrent()).maximum()).isCloseTo(peak, within(1e-9));
        assertThat(steady.losses().groups().get("clamp"))
                .isCloseTo(frequency * leak * peak * peak / 2 * 60 / (60 - reflected), within(1e-6));
        assertThat(steady.of(converter.transistorVoltage()).maximum()).isCloseTo(24 + 60, within(1e-9));
        assertThat(steady.inputPower() - steady.outputPower())
                .isCloseTo(steady.losses().total(), within(1e-9));
    }

    /** A resistor and a capacitor settle at the voltage at which the resistor takes up what a constant voltage there would. */
    @Test
    void aClampOfResistorAndCapacitorIsOneOfTheVoltageAtWhichItSettles() {
        PowerStage stage = PowerStage.flyback()
                .input(24)
                .with(Transformer.of(3, 1, micro(50)).withLeakage(micro(5)))
                .outputCapacitor(micro(1000))
                .load(Load.resistor(5));
        Drive drive = Drive.fixedDuty(0.3, kilo(100));
        ConverterSteadyState constant = stage.with(Clamp.of(60)).drive(drive).steadyState();
        double watt = constant.losses().groups().getOrDefault("clamp", Double.NaN);
        ConverterSteadyState network =
                stage.with(Clamp.of(60 * 60 / watt, micro(100))).drive(drive).steadyState();
        Signal across = network.converter().driven().voltageAcross("CC");
        assertThat(network.of(across).mean()).isCloseTo(60, within(1e-3));
        assertThat(network.losses().groups().get("clamp")).isCloseTo(watt, within(1e-3));
    }

    /** Without a way for the current of the leakage the stage is refused, in words. */
    @Test
    void aLeakageWithoutAWayIsTold() {
        Converter converter = PowerStage.flyback()
                .input(24)
                .with(Transformer.of(3, 1, micro(50)).withLeakage(micro(5)))
                .outputCapacitor(micro(1000))
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(0.3, kilo(100)));
        assertThatThrownBy(converter::steadyState).hasMessageContaining("LK").hasMessageContaining("no other path");
    }

    /** Between the pulses of a full bridge, and after the reset of two switches, open devices share the input alike. */
    @Test
    void aFloatingPrimaryLiesInTheMiddle() {
        Converter bridge = pushPull(PowerStage.fullBridge()).drive(Drive.fixedDuty(0.3, kilo(10)));
        Waveform node = bridge.steadyState().of(bridge.switchNode());
        assertThat(node.at(0.4e-4)).isCloseTo(15, within(1e-9));
        Converter forward = forward(PowerStage.twoSwitchForward()).drive(Drive.fixedDuty(0.3, kilo(35)));
        Waveform other = forward.steadyState().of(forward.switchNode());
        assertThat(other.at(0.9 / kilo(35))).isCloseTo(24, within(1e-9));
    }

    /** The output capacitance of the transistor rings with the magnetizing inductance once the core is reset. */
    @Test
    void anOutputCapacitanceRings() {
        Converter converter = flyback()
                .transistor(milli(100))
                .outputCapacitance(250e-12)
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(0.2, kilo(40)));
        ConverterSteadyState steady = converter.steadyState();
        Waveform drain = steady.of(converter.transistorVoltage());
        // after the rectifier has ended the drain swings around the input with the output, seen from the primary, as
        // amplitude
        double reflected = 3 * steady.of(converter.outputVoltage()).mean();
        assertThat(drain.minimum()).isGreaterThanOrEqualTo(0);
        assertThat(steady.of(converter.inductorCurrent()).minimum())
                .isCloseTo(-reflected * Math.sqrt(250e-12 / micro(500)), within(1e-3 * reflected));
        assertThat(steady.losses().transistor()).isGreaterThan(0);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void whatIsMissingIsTold() {
        assertThatThrownBy(() -> PowerStage.forward()
                        .input(48)
                        .inductor(milli(1))
                        .outputCapacitor(micro(100))
                        .load(Load.resistor(10))
                        .with(Transformer.of(1, 1, milli(1)))
                        .drive(Drive.fixedDuty(0.4, kilo(35))))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("turns of the reset winding are missing");
        assertThatThrownBy(() -> flyback().inductor(micro(10)).drive(Drive.fixedDuty(0.4, kilo(35))))
                .hasMessageContaining("a flyback stage has none");
        assertThatThrownBy(() -> pushPull(PowerStage.pushPull()).drive(Drive.fixedDuty(0.6, kilo(10))))
                .hasMessageContaining("at most 0.5");
        assertThatThrownBy(() ->
                        pushPull(PowerStage.fullBridge()).with(Clamp.of(60)).drive(Drive.fixedDuty(0.3, kilo(10))))
                .hasMessageContaining("has no such part");
    }

    /** Transistors without resistance in place of ideal diodes change nothing in continuous conduction. */
    @ParameterizedTest
    @MethodSource("isolated")
    void transistorsThatRectifyAreLikeIdealDiodes(Topology topology) {
        PowerStage stage = any(topology, topology.hasInductor() ? milli(5) : micro(100), 0)
                .outputCapacitor(micro(100))
                .load(Load.resistor(1));
        Drive drive = Drive.fixedDuty(0.3, kilo(100));
        ConverterSteadyState diodes = stage.drive(drive).steadyState();
        ConverterSteadyState transistors =
                stage.synchronousRectifier(0, 0.7, 0).drive(drive).steadyState();
        for (ConverterSteadyState steady : List.of(diodes, transistors)) {
            assertThat(steady.audit().residual()).isLessThan(1e-10);
        }
        Converter one = diodes.converter();
        Converter other = transistors.converter();
        assertThat(transistors.of(other.outputVoltage()).mean())
                .isCloseTo(diodes.of(one.outputVoltage()).mean(), within(1e-9));
        assertThat(transistors.of(other.inductorCurrent()).maximum())
                .isCloseTo(diodes.of(one.inductorCurrent()).maximum(), within(1e-9));
        assertThat(transistors.of(other.transistorCurrent()).rms())
                .isCloseTo(diodes.of(one.transistorCurrent()).rms(), within(1e-9));
    }
}
