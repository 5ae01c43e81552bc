package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.Commutation;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Snubber;

/** Example: how the switch node of a buck stage rings, and what a snubber across the rectifier makes of it. */
public final class RingingNode {
    private RingingNode() {}

    /**
     * Prints the ringing after the turn-on without and with a snubber.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        PowerStage bare =
                PowerStage.buck().input(12).inductor(micro(22), milli(30)).outputCapacitor(micro(47), milli(5));
        PowerStage ringing = bare.transistor(milli(80))
                .outputCapacitance(pico(250))
                .loopInductance(nano(12), milli(300)) // H, ohm: from the input capacitor through both devices
                .rectifier(0.4, milli(20))
                .junctionCapacitance(pico(150))
                .load(Load.resistor(2.5));
        double impedance = Math.sqrt(nano(12) / pico(150)); // ohm, of the tank that rings
        print("none", ringing);
        print("4 C, Z", ringing.with(new Snubber(Snubber.Across.RECTIFIER, impedance, 4 * pico(150))));
    }

    private static void print(String snubber, PowerStage stage) {
        ConverterSteadyState steady =
                stage.drive(Drive.fixedDuty(0.45, kilo(300))).steadyState();
        Commutation.Ring ring = Commutation.of(steady).rings().get(0);
        double losses = 1e3 * (steady.inputPower() - steady.outputPower());
        System.out.printf(
                Locale.ROOT,
                "snubber %-7s peak %.1f V, %.0f MHz, damping ratio %.3f, losses %.1f mW%n",
                snubber,
                ring.peak(),
                ring.frequency() / 1e6,
                ring.dampingRatio(),
                losses);
    }
}
