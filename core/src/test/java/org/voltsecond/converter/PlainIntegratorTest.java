package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;

/** A loop closed by an integrator alone. */
class PlainIntegratorTest {
    private static final double GAIN = 300;

    private static Converter rail(Compensator compensator) {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .synchronousRectifier(20e-3)
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(300e3, 1, 0.2, compensator).withRamp(0, 1));
    }

    /** Far below the resonance of the filter the loop is K/s, times divider and input over the ramp. */
    @Test
    void theLoopCrossesWhereTheIntegratorPutsIt() {
        ConverterSteadyState steady = rail(Compensator.type1(GAIN)).steadyState();
        assertThat(steady.of(rail(Compensator.type1(GAIN)).outputVoltage()).mean())
                .isCloseTo(5, within(1e-9));
        double crossover = GAIN * 0.2 * 12 / (2 * Math.PI);
        double gain = steady.smallSignal().loopGain(crossover).magnitude(0);
        // the load takes 1.6 % between switch node and output, and the resonance at 5 kHz gives 0.1 %
        assertThat(gain).isCloseTo(2.5 / (2.5 + 0.03 + 0.02 * 7 / 12), within(5e-3));
    }

    @Test
    void itIsThatOfTypeIIWithItsZeroOnItsPole() {
        double frequency = 2e3;
        double plain = rail(Compensator.type1(GAIN))
                .steadyState()
                .smallSignal()
                .loopGain(frequency)
                .decibels(0);
        double cancelled = rail(Compensator.type2(GAIN, 20e3, 20e3))
                .steadyState()
                .smallSignal()
                .loopGain(frequency)
                .decibels(0);
        assertThat(plain).isCloseTo(cancelled, within(1e-8));
    }
}
