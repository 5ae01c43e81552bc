package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.examples.gallery.Rails.regulatedRail;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.stream.IntStream;
import org.voltsecond.analysis.Bifurcation;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.numeric.Complex;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.ResponsePictures;
import org.voltsecond.stage.Load;

/** Answers to small signals, and what becomes of the steady state. */
final class Responses {
    private Responses() {}

    @Shown(value = "Loop gain with its margins (Bode)", about = "From the switching model itself, without averaging.")
    static Picture loopGain() {
        ConverterSmallSignal small = regulatedRail().steadyState().smallSignal();
        FrequencyResponse loop = small.loopGain(FrequencyResponse.decades(100, kilo(140), 50));
        return ResponsePictures.loopGain("Loop gain of the 5 V rail", "12 V in, 2 A", loop);
    }

    @Shown(
            value = "The same loop gain in the plane (Nyquist)",
            about = "With the unit circle, the point -1, and the phase margin.")
    static Picture nyquist() {
        ConverterSmallSignal small = regulatedRail().steadyState().smallSignal();
        FrequencyResponse loop = small.loopGain(FrequencyResponse.decades(100, kilo(140), 50));
        return ResponsePictures.nyquist("Loop gain of the 5 V rail", "12 V in, 2 A", loop);
    }

    @Shown(
            value = "Responses side by side (Bode)",
            about = "From the control voltage to the output, beside a formula of your own: the averaged filter without "
                    + "losses, which rings more.")
    static Picture controlToOutput() {
        double[] frequencies = FrequencyResponse.decades(100, kilo(140), 50);
        ConverterSmallSignal small = regulatedRail().steadyState().smallSignal();
        FrequencyResponse averaged = FrequencyResponse.of("averaged, without losses", "", frequencies, frequency -> {
            Complex s = new Complex(0, 2 * Math.PI * frequency);
            Complex filter = s.multiply(s)
                    .multiply(micro(22) * micro(47))
                    .add(s.multiply(micro(22) / 2.5))
                    .add(1);
            return filter.reciprocal().multiply(12);
        });
        return ResponsePictures.bode(
                "From control voltage to output", "12 V in, 2 A", small.controlToOutput(frequencies), averaged);
    }

    @Shown(
            value = "Subharmonics (bifurcation)",
            about =
                    "Peak current mode without slope compensation: a dot for each clock edge. Where one line parts in two, "
                            + "the pulses begin to alternate.")
    static Picture bifurcation() {
        double[] commands = IntStream.rangeClosed(0, 140)
                .mapToDouble(k -> 1 + milli(10) * k)
                .toArray();
        Converter rail = logicRail().withLoad(Load.resistor(4));
        Bifurcation sweep = Bifurcation.sweep(
                commands,
                command ->
                        rail.withRegulator(CurrentMode.peak(kilo(300), command)).driven(),
                driven -> rail.inductorCurrent(),
                600,
                40);
        return ResponsePictures.bifurcation(
                "Peak current mode without compensation", "12 V in, 4 Ω", "Current command (A)", sweep);
    }
}
