package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * What lies between a waveform and zero, from one zero to the next: of an inductor voltage volt-seconds, of a current charge.
 *
 * <pre>{@code
 * Waveform current = steady.of(rail.outputCapacitorCurrent());
 * SignedArea first = SignedArea.of(current).get(0);
 * double charge = SignedArea.above(current); // 191.5 nC
 * }</pre>
 *
 * @param start begin, s
 * @param end end, s
 * @param size integral over this time, in the unit of the waveform times seconds; negative below zero
 */
public record SignedArea(double start, double end, double size) {
    /** An area that is a smaller part of the largest than this is rounding: an inductor at rest has no volt-seconds. */
    private static final double ROUND_OFF = 1e-9;

    /**
     * Returns the areas of a waveform, exact integrals between its zeros.
     *
     * @param waveform any waveform
     * @return in order of time, without what is rounding
     */
    public static List<SignedArea> of(Waveform waveform) {
        Set<Double> cuts = new TreeSet<>();
        Arrays.stream(waveform.switchingTimes()).forEach(cuts::add);
        waveform.crossings(0).stream().map(Crossing::time).forEach(cuts::add);
        List<SignedArea> cells = new ArrayList<>();
        double from = Double.NaN;
        for (double to : cuts) {
            if (to > from) {
                cells.add(new SignedArea(from, to, waveform.between(from, to).integral()));
            }
            from = to;
        }
        return joined(cells);
    }

    /**
     * Returns what lies above zero.
     *
     * @param waveform any waveform
     * @return in the unit of the waveform times seconds
     */
    public static double above(Waveform waveform) {
        return of(waveform).stream()
                .mapToDouble(SignedArea::size)
                .filter(size -> size > 0)
                .sum();
    }

    /** Neighbours of one sign are one area. */
    private static List<SignedArea> joined(List<SignedArea> cells) {
        double largest =
                cells.stream().mapToDouble(cell -> Math.abs(cell.size)).max().orElse(0);
        List<SignedArea> joined = new ArrayList<>();
        for (SignedArea cell : cells) {
            if (!(Math.abs(cell.size) > ROUND_OFF * largest)) {
                continue;
            }
            SignedArea last = joined.isEmpty() ? cell : joined.get(joined.size() - 1);
            if (!joined.isEmpty() && last.end == cell.start && last.size > 0 == cell.size > 0) {
                joined.set(joined.size() - 1, new SignedArea(last.start, cell.end, last.size + cell.size));
            } else {
                joined.add(cell);
            }
        }
        return joined;
    }
}
