package org.voltsecond.emission;

import java.util.List;
import java.util.OptionalDouble;

/**
 * Limit lines over the frequency. Where two bands meet, or lie over each other, the lower limit holds. Immutable.
 *
 * <pre>{@code
 * double average = EmissionLimits.CLASS_B.average(kilo(300)).orElseThrow(); // 50.24
 * boolean limited = EmissionLimits.CLASS_B.average(mega(40)).isPresent(); // false
 * }</pre>
 *
 * @param name what they are called, such as "CISPR 32 class B"
 * @param average the bands of the average detector; at least one
 * @param quasiPeak those of the quasi-peak detector; none where only the average is limited
 */
public record EmissionLimits(String name, List<Band> average, List<Band> quasiPeak) {
    /** A frequency that is at an edge but for rounding is at the edge. */
    private static final double ROUNDING = 1e-9;

    /**
     * CISPR 32 class A at the port of the mains (edition 2, table A.9; the number of the table from memory), the same values as in
     * EN 55022.
     */
    public static final EmissionLimits CLASS_A = new EmissionLimits(
            "CISPR 32 class A",
            List.of(Band.level(150e3, 500e3, 66), Band.level(500e3, 30e6, 60)),
            List.of(Band.level(150e3, 500e3, 79), Band.level(500e3, 30e6, 73)));

    /** CISPR 32 class B at the port of the mains (edition 2, table A.10; the number of the table from memory). */
    public static final EmissionLimits CLASS_B = new EmissionLimits(
            "CISPR 32 class B",
            List.of(new Band(150e3, 500e3, 56, 46), Band.level(500e3, 5e6, 46), Band.level(5e6, 30e6, 50)),
            List.of(new Band(150e3, 500e3, 66, 56), Band.level(500e3, 5e6, 56), Band.level(5e6, 30e6, 60)));

    /**
     * A part of a limit line, straight over the logarithm of the frequency.
     *
     * <pre>{@code
     * EmissionLimits.Band falling = new EmissionLimits.Band(kilo(150), kilo(500), 56, 46);
     * double middle = falling.at(kilo(250)); // 51.76
     * }</pre>
     *
     * @param from its lower end, Hz; more than 0
     * @param to its upper end, Hz; above the lower
     * @param level at the lower end, dBµV
     * @param levelAtEnd at the upper end, dBµV
     */
    public record Band(double from, double to, double level, double levelAtEnd) {
        /**
         * Checks the ends.
         *
         * @param from its lower end, Hz; more than 0
         * @param to its upper end, Hz; above the lower
         * @param level at the lower end, dBµV
         * @param levelAtEnd at the upper end, dBµV
         * @throws IllegalArgumentException if the ends are no range, or a level is not finite
         */
        public Band {
            if (!(from > 0 && to > from && to < Double.POSITIVE_INFINITY)
                    || !Double.isFinite(level)
                    || !Double.isFinite(levelAtEnd)) {
                throw new IllegalArgumentException("a band of a limit line goes from more than 0 Hz up to a higher "
                        + "frequency, at levels in dBµV, but was from " + from + " Hz to " + to + " Hz, at " + level
                        + " to " + levelAtEnd);
            }
        }

        /**
         * A band of one level.
         *
         * @param from its lower end, Hz; more than 0
         * @param to its upper end, Hz; above the lower
         * @param level dBµV
         * @return the band
         */
        public static Band level(double from, double to, double level) {
            return new Band(from, to, level, level);
        }

        boolean holds(double frequency) {
            return frequency >= from * (1 - ROUNDING) && frequency <= to * (1 + ROUNDING);
        }

        /**
         * Returns the limit.
         *
         * @param frequency Hz, within the band
         * @return the limit there, dBµV
         */
        public double at(double frequency) {
            return level == levelAtEnd
                    ? level
                    : level + (levelAtEnd - level) * Math.log(frequency / from) / Math.log(to / from);
        }
    }

    /**
     * Copies the bands.
     *
     * @param name what they are called
     * @param average the bands of the average detector; at least one
     * @param quasiPeak those of the quasi-peak detector
     * @throws IllegalArgumentException if there is no band
     */
    public EmissionLimits {
        average = List.copyOf(average);
        quasiPeak = List.copyOf(quasiPeak);
        if (average.isEmpty()) {
            throw new IllegalArgumentException("limits " + name + ": at least one band is needed but there is none");
        }
    }

    /**
     * Returns custom limits, of the average detector.
     *
     * @param bands at least one
     * @return the limits
     */
    public static EmissionLimits of(Band... bands) {
        return new EmissionLimits("own limits", List.of(bands), List.of());
    }

    /**
     * Returns the limit of the average detector.
     *
     * @param frequency Hz
     * @return dBµV; empty where there is no limit
     */
    public OptionalDouble average(double frequency) {
        return lowest(average, frequency);
    }

    /**
     * Returns the limit of the quasi-peak detector.
     *
     * @param frequency Hz
     * @return dBµV; empty where there is no limit
     */
    public OptionalDouble quasiPeak(double frequency) {
        return lowest(quasiPeak, frequency);
    }

    private static OptionalDouble lowest(List<Band> bands, double frequency) {
        return bands.stream()
                .filter(band -> band.holds(frequency))
                .mapToDouble(band -> band.at(frequency))
                .min();
    }

    @Override
    public String toString() {
        return name;
    }
}
