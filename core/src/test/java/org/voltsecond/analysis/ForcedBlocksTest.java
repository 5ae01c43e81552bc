package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Signal;

/** The response about a long orbit in blocks of passages is that passage by passage, and that of a short one where both are the same. */
class ForcedBlocksTest {
    private static final double FREQUENCY = kilo(300);
    /** From where the whole orbit is one block to beyond what blocks reach. */
    private static final List<Double> FREQUENCIES =
            List.of(1.0, 30.0, 400.0, 2999.0, kilo(5.5), kilo(11), kilo(44), kilo(90));

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(20))
                .load(Load.resistor(2.5));
    }

    private static void assertClose(Complex one, Complex other, double share, Object what) {
        assertThat(one.subtract(other).magnitude()).as("%s", what).isLessThan(share * other.magnitude());
    }

    /** Without diodes a ripple moves no instant of switching, so the response is that about one period. */
    @Test
    void aRippleThatMovesNoInstantChangesNoResponse() {
        Converter plain = stage().synchronousRectifier(milli(20)).drive(Drive.fixedDuty(0.45, FREQUENCY));
        Converter rippled = plain.withInputRipple(0.5, FREQUENCY / 300);
        SmallSignal one = SmallSignal.of(plain.steadyState().periodic());
        SmallSignal many = SmallSignal.of(rippled.steadyState().periodic());
        Map<Perturbation, List<Signal>> all = Map.of(
                Perturbation.source("V1"),
                        List.of(plain.outputVoltage(), plain.inductorCurrent(), plain.inputCurrent()),
                Perturbation.dutyCycle("Q1"), List.of(plain.outputVoltage()));
        all.forEach((from, signals) -> signals.forEach(to -> {
            for (double frequency : FREQUENCIES) {
                Complex expected = one.response(from, to, frequency).value(0);
                assertClose(
                        many.response(from, to, frequency).value(0), expected, 1e-9, from + " " + to + " " + frequency);
            }
        }));
    }

    @Test
    void blocksTellWhatPassagesTell() {
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                .withMaximumDutyCycle(0.95);
        Converter rail = stage().rectifier(0.4, milli(20))
                .with(new InputCapacitor(micro(10), 0))
                .inputRipple(1, kilo(1))
                .drive(regulator);
        ConverterSteadyState steady = rail.steadyState();
        for (Perturbation from :
                List.of(Perturbation.source("V1"), Perturbation.controlVoltage(), Perturbation.reference())) {
            Forcing forcing = Forcing.of(steady.periodic().circuit(), from, true);
            OrbitLoop loop = OrbitLoop.of(steady.periodic(), forcing.circuit());
            ForcedLoop quick = new ForcedLoop(loop, forcing);
            ForcedLoop slow = new ForcedLoop(loop, forcing, false);
            for (Signal to : List.of(
                    rail.outputVoltage(), rail.driven().current("V1"), rail.controlVoltage(), rail.switchNode())) {
                for (double frequency : FREQUENCIES) {
                    Complex expected = slow.at(frequency).of(slow.reading(to));
                    assertClose(
                            quick.at(frequency).of(quick.reading(to)),
                            expected,
                            1e-10,
                            from + " " + to + " " + frequency);
                }
            }
        }
    }
}
