package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Instability;
import org.voltsecond.analysis.Margins;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.ResponsePictures;
import org.voltsecond.stage.Load;

/** Example: how much margin does the loop of the 5 V rail have, and how stiff is its output? */
public final class LoopGain {
    private LoopGain() {}

    /**
     * Prints crossover, margins and output impedance; draws the loop gain if asked to.
     *
     * @param arguments a file for the picture (PNG), or none
     * @throws IOException if the picture cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        VoltageMode regulator = VoltageMode.of(
                        kilo(300), 1, 0.2, Compensator.type3(36e3, kilo(3.5), kilo(3.5), kilo(120), kilo(150)))
                .withMaximumDutyCycle(0.95);
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(regulator);
        ConverterSmallSignal small = rail.steadyState().smallSignal();
        double[] frequencies = FrequencyResponse.decades(100, kilo(250), 50);
        FrequencyResponse loop = small.loopGain(frequencies);
        Margins margins = loop.margins();
        FrequencyResponse.Peak peak = small.outputImpedance(frequencies).peak();
        Instability nearest = Instability.nearestTo(rail.steadyState().periodic());
        print("crossover         %.2f kHz%n", margins.crossoverFrequency().orElseThrow() / 1e3);
        print("phase margin      %.1f degrees%n", margins.phaseMargin().orElseThrow());
        print("gain margin       %s%n", margins.gain()); // of the curve up to half the switching frequency
        print("output impedance  %.1f mohm at most, at %.1f kHz%n", peak.magnitude() * 1e3, peak.frequency() / 1e3);
        print("least damped      %s, damping ratio %.3f%n", nearest.kind(), nearest.damping());
        if (arguments.length > 0) {
            ResponsePictures.loopGain("Loop gain of the 5 V rail", "12 V in, 2 A", loop)
                    .writePng(Path.of(arguments[0]));
        }
    }

    private static void print(String format, Object... values) {
        System.out.printf(Locale.ROOT, format, values);
    }
}
