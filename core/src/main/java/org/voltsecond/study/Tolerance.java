package org.voltsecond.study;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.StageFigure;

/**
 * How far a value of a stage may lie from its nominal one. Immutable.
 *
 * <pre>{@code
 * Tolerance choke = Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2); // 22 uH within 20 %
 * double halfWidth = choke.halfWidth(); // 4.4 µH
 * Tolerance diode = new Tolerance(StageValue.FORWARD_DROP, 0.05, Tolerance.Distribution.NORMAL); // V
 * }</pre>
 *
 * @param value which value
 * @param halfWidth how far it may lie to either side, in the unit of the value; 0 or more
 * @param distribution how it is spread in between
 */
public record Tolerance(StageValue value, double halfWidth, Distribution distribution) {

    /** How a value is spread over its tolerance. */
    public enum Distribution {
        /** Every value within the tolerance is as likely. */
        UNIFORM,
        /**
         * Bell-shaped: the tolerance is three standard deviations, and what lies outside has been sorted out (density of
         * the normal distribution, cut off).
         */
        NORMAL;

        /** Standard deviations within the tolerance. */
        private static final double CUT = 3;

        /** Of the normal distribution that is cut off: 1 - 2 c phi(c) / (2 Phi(c) - 1) for c = 3, its square root. */
        private static final double CUT_DEVIATION = 0.98657839;

        private static final long GOLDEN = 0x9E3779B97F4A7C15L;

        /**
         * Returns the standard deviation.
         *
         * @return for a tolerance of 1 to either side
         */
        public double standardDeviation() {
            return this == UNIFORM ? 1 / Math.sqrt(3) : CUT_DEVIATION / CUT;
        }

        /** A number from -1 to 1, spread in this way, that follows from the key alone. */
        double draw(long key) {
            long bits = mix(key);
            double first = 2 * unit(bits) - 1;
            if (this == UNIFORM) {
                return first;
            }
            // rejection: a point below the bell curve
            long state = bits;
            double at = first;
            while (true) {
                state += GOLDEN;
                double height = unit(mix(state));
                double z = CUT * at;
                if (height < StrictMath.exp(-0.5 * z * z)) {
                    return at;
                }
                state += GOLDEN;
                at = 2 * unit(mix(state)) - 1;
            }
        }

        private static double unit(long bits) {
            return (bits >>> 11) * 0x1p-53;
        }

        /** The finalizer of SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014, as in the JDK). */
        static long mix(long z) {
            long y = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
            y = (y ^ (y >>> 27)) * 0x94D049BB133111EBL;
            return y ^ (y >>> 31);
        }
    }

    /**
     * Checks the width.
     *
     * @param value which value
     * @param halfWidth how far it may lie to either side
     * @param distribution how it is spread in between
     * @throws IllegalArgumentException if the width is not 0 or more and finite
     */
    public Tolerance {
        if (!(halfWidth >= 0 && halfWidth < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("tolerance of " + value + ": must be 0 "
                    + value.unit().symbol() + " or more and finite but was " + halfWidth + " "
                    + value.unit().symbol());
        }
    }

    /**
     * Returns a tolerance as a share of the nominal value, the same to both sides, every value as likely.
     *
     * @param converter the stage at its nominal values
     * @param value which value
     * @param share how far it may lie from the nominal one, for example 0.2 for ±20 %
     * @return the tolerance
     */
    public static Tolerance relative(Converter converter, StageValue value, double share) {
        return new Tolerance(value, share * Math.abs(nominal(converter, value)), Distribution.UNIFORM);
    }

    /**
     * Returns this tolerance, spread in another way.
     *
     * @param other how the value is spread
     * @return the tolerance
     */
    public Tolerance withDistribution(Distribution other) {
        return new Tolerance(value, halfWidth, other);
    }

    private static double nominal(Converter converter, StageValue value) {
        if (!value.appliesTo(converter)) {
            throw new IllegalArgumentException(
                    "tolerance of " + value + ": this converter has no such value; it has " + StageValue.of(converter));
        }
        return value.in(converter);
    }

    /** What measures figures where each of these values is in its tolerance, in their order. */
    static StageSampler sampler(Converter converter, List<Tolerance> tolerances, List<StageFigure> figures) {
        return StageSampler.of(
                converter,
                tolerances.stream().map(Tolerance::value).toList(),
                figures.stream().map(StageFigure::measurement).toList());
    }

    /** Refuses what does not fit the converter, all at once. */
    static List<Tolerance> checked(Converter converter, List<Tolerance> tolerances) {
        List<String> faults = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        for (Tolerance tolerance : tolerances) {
            StageValue value = tolerance.value();
            // the same value may go by what it does and by its part
            if (!seen.add(value.partValue(converter).orElse(value.toString()))) {
                faults.add("tolerance of " + value + ": given twice; give it once");
            } else if (!value.appliesTo(converter)) {
                faults.add("tolerance of " + value + ": this converter has no such value; it has "
                        + StageValue.of(converter));
            }
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException(String.join("\n", faults));
        }
        return List.copyOf(tolerances);
    }
}
