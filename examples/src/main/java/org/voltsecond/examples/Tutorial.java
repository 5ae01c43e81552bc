package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Pictures;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** The tutorial of the README: what stands there is what stands between the two marks here. */
public final class Tutorial {
    private Tutorial() {}

    /**
     * Prints the figures and draws the picture that the README shows.
     *
     * @param arguments the folder for the picture; the current one if there is none
     * @throws IOException if the picture cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Path folder = Files.createDirectories(Path.of(arguments.length > 0 ? arguments[0] : "."));
        // tutorial begins
        Converter rail = PowerStage.buck()
                .input(12) // V
                .inductor(micro(22), milli(30)) // H, series ohm
                .outputCapacitor(micro(47), milli(5)) // F, series ohm
                .transistor(milli(80)) // on-resistance, ohm
                .rectifier(0.4, milli(20)) // forward drop V, slope ohm
                .load(Load.resistor(2.5)) // ohm
                .drive(Drive.fixedDuty(0.45, kilo(300))); // duty cycle, Hz

        ConverterSteadyState steady = rail.steadyState();
        System.out.printf("conduction      %s%n", steady.conduction());
        Waveform output = steady.of(rail.outputVoltage());
        System.out.printf("output          %.4f V%n", output.mean());
        System.out.printf("output ripple   %.3f mV%n", 1e3 * output.peakToPeak());
        Waveform current = steady.of(rail.inductorCurrent());
        System.out.printf("inductor peak   %.4f A%n", current.maximum());
        System.out.printf("efficiency      %.2f %%%n", 100 * steady.efficiency().orElseThrow());

        ConverterTransient start = rail.startUp(milli(2));
        System.out.printf(
                "overshoot to    %.4f V%n", start.of(rail.outputVoltage()).maximum());

        ConverterSteadyState light = rail.withLoad(Load.resistor(100)).steadyState();
        System.out.printf("at light load   %s, idle %.3f us%n", light.conduction(), 1e6 * light.idleTime());

        Pictures.stacked(light, rail.switchNode(), rail.inductorCurrent(), rail.outputVoltage())
                .writePng(folder.resolve("light-load.png"));
        // tutorial ends
    }
}
