package org.voltsecond.plot.parts;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.IntStream;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Commutation;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * Ringing after an edge, with the envelope in which it dies out.
 *
 * <pre>{@code
 * Converter ringing = stage.outputCapacitance(pico(250)).junctionCapacitance(pico(150)).loopInductance(nano(20), 0.5)
 *         .input(12).load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, kilo(300)));
 * ConverterSteadyState steady = ringing.steadyState();
 * Commutation.Ring ring = Commutation.of(steady).rings().get(0);
 * RingingPicture.of("Logic rail", steady, ring).writePng(folder.resolve("ringing.png"));
 * }</pre>
 */
public final class RingingPicture {
    private static final int DIGITS = 3;

    /** Times of decay that are shown: then a hundredth is left. */
    private static final double SHOWN = 4.6;

    /** At least so many turns are shown, where they decay within few. */
    private static final double TURNS = 3;

    private static final int POINTS = 3000;

    private RingingPicture() {}

    /**
     * Draws a ring.
     *
     * @param name what the converter is called
     * @param steady the steady state
     * @param ring one of its rings
     * @return the picture
     */
    public static Picture of(String name, ConverterSteadyState steady, Commutation.Ring ring) {
        Waveform waveform = steady.of(ring.signal());
        double from = waveform.startTime() + ring.start();
        double most = Math.min(ring.duration(), waveform.endTime() - from);
        double span = Math.min(most, Math.max(SHOWN * ring.decayTime(), TURNS / ring.frequency()));
        double[] since = IntStream.range(0, POINTS)
                .mapToDouble(k -> span * k / (POINTS - 1.0))
                .toArray();
        double[] seen = waveform.at(Arrays.stream(since)
                .map(time -> Math.min(from + time, waveform.endTime()))
                .toArray());
        double[] above = new double[POINTS];
        double[] below = new double[POINTS];
        for (int k = 0; k < POINTS; k++) {
            double level = seen[k] - ring.at(since[k]);
            above[k] = level + ring.envelope(since[k]);
            below[k] = level - ring.envelope(since[k]);
        }
        return Pictures.lines(name + ": ringing after the " + ring.after().key().replace('-', ' '))
                .subtitle(String.format(
                        Locale.ROOT,
                        "%s, damping ratio %.3g, to 1/e in %s, peak %s, loss %s",
                        Quantity.format(ring.frequency(), Unit.HERTZ, DIGITS),
                        ring.dampingRatio(),
                        Quantity.format(ring.decayTime(), Unit.SECOND, DIGITS),
                        Quantity.format(ring.peak(), Unit.VOLT, DIGITS),
                        Quantity.format(ring.energyLost() / steady.period(), Unit.WATT, DIGITS)))
                .x("time since the ring begins", Unit.SECOND)
                .y(ring.signal().name(), Unit.VOLT)
                .line(ring.signal().name(), since, seen)
                .line("envelope, upper", since, above)
                .line("envelope, lower", since, below)
                .build();
    }
}
