package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: why does peak current mode alternate between long and short pulses above D = 0.5, and what cures it? */
public final class Subharmonics {
    private static final double PERIOD = 1 / kilo(300);
    private static final int PERIODS = 3000;

    private Subharmonics() {}

    /**
     * Prints the multiplier that decides, and four pulses in a row, without and with slope compensation.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        CurrentMode regulator = CurrentMode.peak(kilo(300), 1.7);
        System.out.println("slope       duty cycle  multiplier  four pulses in a row");
        print("none      ", regulator);
        print("0.25 A/us ", regulator.withSlopeCompensation(0.25 / micro(1)));
    }

    private static void print(String label, CurrentMode regulator) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(4))
                .drive(regulator);
        ConverterSteadyState steady = rail.steadyState();
        double multiplier = steady.periodic().multipliers().get(0).real();
        System.out.printf(Locale.ROOT, "%s  %.4f      %7.4f    ", label, steady.dutyCycle(), multiplier);
        Waveform gate = rail.startUp(PERIODS * PERIOD).gate();
        for (int k = PERIODS - 4; k < PERIODS; k++) {
            double duty = gate.between(k * PERIOD, (k + 1) * PERIOD).mean();
            System.out.printf(Locale.ROOT, " %.3f", duty);
        }
        System.out.println();
    }
}
