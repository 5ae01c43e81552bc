package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Random;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.CaptureChoice;
import org.voltsecond.bench.CaptureException;
import org.voltsecond.bench.CaptureFile;
import org.voltsecond.bench.SteadyStateComparison;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Pictures;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * Example: does the board do what the simulation says? The capture of this demo is no measurement: it is made here, from a
 * simulated board with parts off their nominal values, with noise from a seeded generator and the steps of an 8-bit
 * converter. Put a file of your own oscilloscope in its place.
 */
public final class BenchComparison {
    private static final int SAMPLES = 10_000;
    private static final double INTERVAL = nano(10);

    private BenchComparison() {}

    /**
     * Prints what differs, and draws capture and simulation over each other.
     *
     * @param arguments the folder for the demo capture and the pictures; the working directory if there is none
     * @throws IOException if a file cannot be written
     * @throws CaptureException if the capture cannot be read
     */
    public static void main(String[] arguments) throws IOException, CaptureException {
        Path folder = Files.createDirectories(Path.of(arguments.length > 0 ? arguments[0] : ""));
        Path file = writeDemoCapture(folder.resolve("demo-capture.csv"));
        Converter rail = rail(12, micro(22), milli(5), kilo(300));
        compare(file, "node", rail.steadyState().of(rail.switchNode()), folder.resolve("bench-node.png"));
        compare(file, "output", rail.steadyState().of(rail.outputVoltage()), folder.resolve("bench-output.png"));
    }

    private static void compare(Path file, String channel, Waveform period, Path picture)
            throws IOException, CaptureException {
        Capture capture = CaptureFile.read(file, new CaptureChoice(Unit.VOLT, channel, Double.NaN));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, period);
        System.out.printf(Locale.ROOT, "%-12s measured minus simulated: %s%n", period.name(), comparison.differences());
        Pictures.overlay(comparison, 3)
                .title(period.name() + ": demo, the capture is simulated with noise")
                .build()
                .writePng(picture);
    }

    private static Converter rail(double input, double inductance, double seriesResistance, double frequency) {
        return PowerStage.buck()
                .input(input)
                .inductor(inductance, milli(30))
                .outputCapacitor(micro(47), seriesResistance)
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, frequency));
    }

    /** A board with less inductance, more series resistance, a faster clock and a lower input than the design says. */
    private static Path writeDemoCapture(Path file) throws IOException {
        Converter board = rail(11.9, micro(18), milli(12), kilo(301.2));
        Waveform node = board.steadyState().of(board.switchNode());
        Waveform output = board.steadyState().of(board.outputVoltage());
        Random noise = new Random(12);
        try (BufferedWriter writer = Files.newBufferedWriter(file)) {
            writer.write("demo capture: simulated with seeded noise, not measured\n");
            writer.write("time (s),node (V),output (V)\n");
            for (int i = 0; i < SAMPLES; i++) {
                double time = i * INTERVAL;
                double inPeriod = (time + micro(1.3)) % node.endTime();
                double first = digitised(node.at(inPeriod) + 0.15 * noise.nextGaussian(), 20);
                double second = digitised(output.at(inPeriod) - 4.9 + 0.002 * noise.nextGaussian(), 0.2) + 4.9;
                writer.write(String.format(Locale.ROOT, "%.3e,%.4f,%.5f%n", time, first, second));
            }
        }
        return file;
    }

    /** The nearest of 256 steps over a range. */
    private static double digitised(double value, double range) {
        double step = range / 256;
        return Math.rint(value / step) * step;
    }
}
