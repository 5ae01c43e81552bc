package org.voltsecond.analysis;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * How far a loop is from the limit of stability, as read off the curve of its gain between the frequencies that were asked
 * for (criterion of H. Nyquist, Regeneration theory, Bell System Technical Journal 11(1):126-147, 1932, from memory). Whether it
 * is stable is not guessed from the curve where its multipliers are known. Immutable.
 *
 * <pre>{@code
 * double[] frequencies = FrequencyResponse.decades(100, kilo(100), 20);
 * Margins margins = regulated.steadyState().smallSignal().loopGain(frequencies).margins();
 * double phase = margins.phaseMargin().orElseThrow(); // 94.4 degrees
 * double gain = margins.gainMargin().orElseThrow(); // 14.2 dB
 * boolean conditional = margins.isConditionallyStable(); // false
 * }</pre>
 *
 * @param stable whether small disturbances die out
 * @param crossovers every frequency at which the magnitude passes one, ascending
 * @param gain by how much the gain may rise: positive for a stable loop; of an unstable one negative, where less gain would
 *     make it stable
 * @param gainReduction by how much the gain may fall: positive for a stable loop; of an unstable one negative, where more
 *     gain would make it stable
 */
public record Margins(boolean stable, List<Crossover> crossovers, Bound gain, Bound gainReduction) {
    /**
     * Keeps a copy of the list.
     *
     * @param stable see {@link Margins}
     * @param crossovers see {@link Margins}
     * @param gain see {@link Margins}
     * @param gainReduction see {@link Margins}
     */
    public Margins {
        crossovers = List.copyOf(crossovers);
    }

    /**
     * A frequency at which the loop gain has the magnitude one.
     *
     * @param frequency Hz
     * @param phaseMargin by how much more the loop may lag there, degrees: the phase above -180, from -180 up to 180
     */
    public record Crossover(double frequency, double phaseMargin) {}

    /**
     * How far the gain may be changed to one side until the loop becomes unstable, or has to be, with the sign minus, until
     * it becomes stable.
     *
     * @param margin dB; empty where the curve has no such bound
     * @param frequency where the loop gain is real and negative there, Hz; empty together with the margin
     * @param reason why there is no bound; empty if there is one
     */
    public record Bound(OptionalDouble margin, OptionalDouble frequency, String reason) {
        /**
         * Returns a bound.
         *
         * @param margin dB
         * @param frequency Hz
         * @return the bound
         */
        public static Bound of(double margin, double frequency) {
            return new Bound(OptionalDouble.of(margin), OptionalDouble.of(frequency), "");
        }

        /**
         * Tells that there is none.
         *
         * @param reason why, in words for a user
         * @return no bound
         */
        public static Bound none(String reason) {
            return new Bound(OptionalDouble.empty(), OptionalDouble.empty(), reason);
        }

        /** {@return the margin for a sentence, such as "14.20 dB"; "none" where there is none} */
        @Override
        public String toString() {
            return margin.isEmpty() ? "none" : Quantity.format(margin.getAsDouble(), Unit.ONE, 4) + " dB";
        }
    }

    /**
     * Returns the crossover that decides: of a stable loop that whose phase margin has the smallest magnitude, of an unstable
     * one that whose phase margin is most negative.
     *
     * @return the crossover; empty if there is none between the frequencies
     */
    public Optional<Crossover> leastCrossover() {
        return crossovers.stream()
                .min(Comparator.comparingDouble(found -> stable ? Math.abs(found.phaseMargin()) : found.phaseMargin()));
    }

    /**
     * Returns the frequency of {@link #leastCrossover}.
     *
     * @return Hz; empty if there is none between the frequencies
     */
    public OptionalDouble crossoverFrequency() {
        return leastCrossover().stream().mapToDouble(Crossover::frequency).findFirst();
    }

    /**
     * Returns the phase margin at {@link #leastCrossover}.
     *
     * @return degrees, from -180 up to 180; empty if there is no crossover between the frequencies
     */
    public OptionalDouble phaseMargin() {
        return leastCrossover().stream().mapToDouble(Crossover::phaseMargin).findFirst();
    }

    /**
     * Returns by how much the gain may rise.
     *
     * @return the margin of {@link #gain}, dB
     */
    public OptionalDouble gainMargin() {
        return gain.margin();
    }

    /**
     * Returns by how much the gain may fall.
     *
     * @return the margin of {@link #gainReduction}, dB
     */
    public OptionalDouble gainReductionMargin() {
        return gainReduction.margin();
    }

    /**
     * Tells whether the loop is stable only while its gain does not fall too far.
     *
     * @return true if it is stable, and there is a limit to how far its gain may fall
     */
    public boolean isConditionallyStable() {
        return stable && gainReductionMargin().isPresent();
    }

    /** {@return crossover and margins for a sentence; "no crossover" or "no gain margin" where there is none} */
    @Override
    public String toString() {
        String phase = leastCrossover()
                .map(least -> "crossover " + Quantity.format(least.frequency(), Unit.HERTZ, 4) + ", phase margin "
                        + Quantity.format(least.phaseMargin(), Unit.ONE, 4) + " degrees")
                .orElse("no crossover");
        return phase
                + (gain.margin().isEmpty() ? ", no gain margin" : ", gain margin " + gain)
                + (gainReduction.margin().isEmpty() ? "" : ", gain reduction margin " + gainReduction);
    }
}
