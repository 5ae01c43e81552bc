package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.plot.ResponsePictures;
import org.voltsecond.sizing.InputDamping;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.Load;

/** Example: does the filter between battery and 5 V rail make the rail oscillate, and which branch damps it? */
public final class InputFilterDamping {
    private InputFilterDamping() {}

    /**
     * Prints how far the filter's impedance is from that of the rail, without and with the branch that is proposed; draws the impedances
     * with it if asked to.
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
                .with(new InputFilter(micro(47), milli(20), micro(4.7), null))
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(1))
                .drive(regulator);
        double[] frequencies = FrequencyResponse.decades(100, kilo(100), 50);
        ConverterSteadyState steady = rail.steadyState();
        SourceInteraction bare = SourceInteraction.of(steady, frequencies).get();
        print("filter alone     ", bare, steady);
        InputDamping damping = InputDamping.of(steady, bare).get();
        print("with the branch  ", damping.interaction(), damping.steady());
        System.out.println("the branch       " + damping);
        if (arguments.length > 0) {
            SourceInteraction damped = damping.interaction();
            ResponsePictures.bode(
                            "Input filter and 5 V rail",
                            "12 V in, 5 A, damped by " + damping,
                            damped.sourceImpedance(),
                            damped.openLoop(),
                            damped.closedLoop().orElseThrow())
                    .writePng(Path.of(arguments[0]));
        }
    }

    private static void print(String label, SourceInteraction found, ConverterSteadyState steady) {
        System.out.printf(
                Locale.ROOT,
                "%sloop closed %.1f dB, open %.1f dB, %s%n",
                label,
                found.closedLoopSeparation().orElseThrow().decibels(),
                found.openLoopSeparation().decibels(),
                steady.periodic().isStable() ? "stable" : "unstable");
    }
}
