package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.nano;

import java.util.Random;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.SteadyStateComparison;
import org.voltsecond.converter.Converter;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Captures of an oscilloscope beside the simulation. */
final class Captures {
    private Captures() {}

    @Shown(
            value = "Capture over simulation",
            about =
                    "Aligned by edges, the differences in the line below the title. This capture is simulated, with other "
                            + "parts and noise; it is not measured.")
    static Picture overlay() {
        Converter board = logicRail().withInput(11.9).withInductor(micro(18), 0.03);
        Waveform node = board.steadyState().of(board.switchNode());
        Random noise = new Random(12);
        double[] values = new double[2000];
        for (int i = 0; i < values.length; i++) {
            values[i] = node.at((i * nano(10) + micro(1.3)) % node.endTime()) + 0.15 * noise.nextGaussian();
        }
        Capture capture = Capture.sampled("simulated, with noise", Unit.VOLT, 0, nano(10), values);
        Converter rail = logicRail();
        return Pictures.overlay(
                        SteadyStateComparison.of(capture, rail.steadyState().of(rail.switchNode())), 3)
                .build();
    }
}
