package org.voltsecond.waveform;

import java.util.OptionalDouble;

/**
 * A waveform seen as a transition from one level to another.
 *
 * <p>The terms follow IEC 60469 (Transitions, pulses and related waveforms: terms, definitions and algorithms), quoted
 * from memory. Levels between the two are given as fractions: 0 is the initial level, 1 the final level, whichever of the
 * two is higher. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * StepResponse rise = StepResponse.of(start.of(rail.outputVoltage()), 0, 5);
 * double tenToNinety = rise.transitionDuration().orElseThrow(); // 37.73 µs
 * double overshoot = rise.overshoot(); // 54.58 %
 * }</pre>
 */
public final class StepResponse {
    private final Waveform waveform;
    private final Waveform fraction;
    private final double initialLevel;
    private final double finalLevel;

    private StepResponse(Waveform waveform, double initialLevel, double finalLevel) {
        this.waveform = waveform;
        this.initialLevel = initialLevel;
        this.finalLevel = finalLevel;
        this.fraction = waveform.plus(-initialLevel).times(1 / (finalLevel - initialLevel));
    }

    /**
     * Looks at a waveform as a transition.
     *
     * @param waveform the waveform; cut it with {@link Waveform#between} so that it begins at the step
     * @param initialLevel the level before the transition, in the unit of the waveform
     * @param finalLevel the level after it
     * @return the transition
     * @throws IllegalArgumentException if the levels are the same or not finite
     */
    public static StepResponse of(Waveform waveform, double initialLevel, double finalLevel) {
        if (!(Math.abs(finalLevel - initialLevel) > 0) || !Double.isFinite(finalLevel - initialLevel)) {
            throw new IllegalArgumentException(
                    "waveform " + waveform.name() + ": a transition needs two different finite levels but got "
                            + initialLevel + " and " + finalLevel);
        }
        return new StepResponse(waveform, initialLevel, finalLevel);
    }

    /**
     * Returns the time from 10 % to 90 % (transition duration; rise time or fall time).
     *
     * @return the time, s; empty if the waveform does not make the transition
     */
    public OptionalDouble transitionDuration() {
        return transitionDuration(0.1, 0.9);
    }

    /**
     * Returns the time from the last passage of a lower level to the first arrival at a higher one.
     *
     * @param low fraction of the lower reference level, for example 0.2
     * @param high fraction of the higher reference level, more than {@code low}
     * @return the time, s; empty if the waveform does not make the transition
     * @throws IllegalArgumentException if the fractions are not in ascending order
     */
    public OptionalDouble transitionDuration(double low, double high) {
        if (!(low < high)) {
            throw new IllegalArgumentException(
                    "reference levels must be in ascending order but were " + low + " and " + high);
        }
        double arrival = Double.NaN;
        for (Crossing crossing : fraction.crossings(high)) {
            if (crossing.rising()) {
                arrival = crossing.time();
                break;
            }
        }
        double departure = Double.NaN;
        for (Crossing crossing : fraction.crossings(low)) {
            if (crossing.rising() && crossing.time() <= arrival) {
                departure = crossing.time();
            }
        }
        double duration = arrival - departure;
        return duration >= 0 ? OptionalDouble.of(duration) : OptionalDouble.empty();
    }

    /**
     * Returns the first instant at which the waveform reaches a fraction of the transition.
     *
     * @param level the fraction; 0.5 is the mesial (middle) level
     * @return the time, s, on the time scale of the waveform; empty if it never does
     */
    public OptionalDouble instantOf(double level) {
        return fraction.crossings(level).stream()
                .filter(Crossing::rising)
                .mapToDouble(Crossing::time)
                .findFirst();
    }

    /**
     * Returns how far the waveform goes beyond the final level, in the direction of the transition.
     *
     * @return the distance as a fraction of the step; 0 if it does not
     */
    public double overshoot() {
        return Math.max(0, fraction.maximum() - 1);
    }

    /**
     * Returns how far the waveform goes beyond the initial level, against the direction of the transition (as the output
     * of a boost stage does at first when its duty cycle rises).
     *
     * @return the distance as a fraction of the step; 0 if it does not
     */
    public double undershoot() {
        return Math.max(0, -fraction.minimum());
    }

    /**
     * Returns the time from the middle of the transition until the waveform stays within a band around the final level
     * (transition settling duration).
     *
     * @param band half the width of the band as a fraction of the step, for example 0.02
     * @return the time, s; empty if the waveform ends outside the band or never reaches the middle
     */
    public OptionalDouble transitionSettlingDuration(double band) {
        OptionalDouble middle = instantOf(0.5);
        OptionalDouble settled = fraction.settlingTime(1, band);
        return middle.isEmpty() || settled.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(Math.max(0, fraction.startTime() + settled.getAsDouble() - middle.getAsDouble()));
    }

    @Override
    public String toString() {
        return waveform.name() + " from " + initialLevel + " to " + finalLevel;
    }
}
