package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.waveform.Spectrum;
import org.voltsecond.waveform.Waveform;

/**
 * The alternating current of a part by its frequencies, exact: harmonics of the steady state from their integrals in closed form, and
 * what lies above the highest one that is told, together, by the theorem of Parseval. Immutable.
 *
 * <pre>{@code
 * RippleCurrent ripple = RippleCurrent.of(steady, "C1", kilo(100));
 * double all = ripple.rms(); // 132.7 mA
 * double above = ripple.bands().get(1).rms(); // 7.512 mA from 1 MHz on
 * }</pre>
 */
public final class RippleCurrent {
    /** Harmonics that are told one by one, at most: above them the rest is one band. Keeps a ripple of the line affordable. */
    private static final int MOST_HARMONICS = 4096;
    /** Edges of the bands, Hz: decades, as multipliers are tabulated. A choice. */
    private static final double[] EDGES = {1e3, 1e4, 1e5, 1e6};

    private final double fundamental;
    /** Mean squares of the harmonics from the first on, A². */
    private final double[] squares;
    /** Mean square of what lies above, A². */
    private final double above;

    private RippleCurrent(double fundamental, double[] squares, double above) {
        this.fundamental = fundamental;
        this.squares = squares;
        this.above = above;
    }

    /**
     * A range of frequencies.
     *
     * @param from lower edge, Hz, which belongs to it
     * @param to upper edge, Hz; infinite for the last one
     * @param rms what flows in it, A
     */
    public record Band(double from, double to, double rms) {}

    /**
     * Works out the harmonics.
     *
     * @param steady a periodic steady state
     * @param part reference designator, or "part.winding"
     * @param upTo frequency from which on they need not be told apart, Hz
     * @return the current by its frequencies
     * @throws IllegalArgumentException if there is no such part
     */
    public static RippleCurrent of(ConverterSteadyState steady, String part, double upTo) {
        Waveform current = steady.of(steady.converter().driven().current(part));
        double fundamental = 1 / steady.period();
        double wanted = Math.max(upTo, EDGES[EDGES.length - 1]) / fundamental;
        int count = (int) Math.max(1, Math.min(MOST_HARMONICS, Math.ceil(wanted)));
        Spectrum spectrum = current.spectrum(count);
        double[] squares = new double[count];
        double rest = current.acRms() * current.acRms();
        for (int k = 1; k <= count; k++) {
            squares[k - 1] = 0.5 * spectrum.amplitude(k) * spectrum.amplitude(k);
            rest -= squares[k - 1];
        }
        return new RippleCurrent(fundamental, squares, Math.max(0, rest));
    }

    /** {@return the RMS value of all alternating current, A} */
    public double rms() {
        return Math.sqrt(weighted(frequency -> 1));
    }

    /**
     * Returns the sum of the mean squares of all frequencies with a weight on each.
     *
     * @param weight by the frequency in Hz; what lies above the harmonics that are told has the weight of the highest of these
     * @return the sum, A² in the unit of the weight
     */
    public double weighted(DoubleUnaryOperator weight) {
        double sum = above * weight.applyAsDouble(squares.length * fundamental);
        for (int k = squares.length; k >= 1; k--) {
            sum += squares[k - 1] * weight.applyAsDouble(k * fundamental);
        }
        return sum;
    }

    /**
     * Returns the bands in which anything lies: decades, from the lowest that holds a harmonic to the last, which is open.
     *
     * @return the bands by rising frequency; the squares of their RMS values add up to that of all
     */
    public List<Band> bands() {
        List<Band> bands = new ArrayList<>();
        double from = 0;
        for (int edge = 0; edge <= EDGES.length; edge++) {
            boolean last = edge == EDGES.length || EDGES[edge] > squares.length * fundamental;
            double to = last ? Double.POSITIVE_INFINITY : EDGES[edge];
            if (to > fundamental) {
                double lower = from;
                double square = weighted(frequency -> frequency >= lower && frequency < to ? 1 : 0);
                bands.add(new Band(from, to, Math.sqrt(square)));
            }
            if (last) {
                break;
            }
            from = to;
        }
        return bands;
    }

    @Override
    public String toString() {
        return "ripple current of " + rms() + " A RMS";
    }
}
