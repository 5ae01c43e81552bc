package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The value of a source over time: constant, with steps and linear ramps at times known in advance, and sines on top. At a
 * step the value is the one after the step. Immutable and safe to use from any thread.
 *
 * <p>Numbers that make no sense are reported by {@link Circuit.Builder#build()} together with all other faults.
 *
 * <pre>{@code
 * Profile battery = Profile.constant(12)
 *         .rampTo(milli(1), milli(3), 9) // falls from 12 V to 9 V
 *         .stepTo(milli(5), 14) // V: the charger comes on
 *         .withSine(0.2, 100, 0); // V, Hz, phase
 * double lowest = Profile.constant(12).rampTo(milli(1), milli(3), 9).valueAt(milli(2)); // 10.5 V
 * Circuit changing = rail.circuit().withVoltage("V1", battery);
 * }</pre>
 */
public final class Profile {
    private final double[] times;
    private final double[] values;
    private final double[] slopes;
    private final List<Sine> sines;
    private final List<String> faults;

    private Profile(double[] times, double[] values, double[] slopes, List<Sine> sines, List<String> faults) {
        this.times = times;
        this.values = values;
        this.slopes = slopes;
        this.sines = List.copyOf(sines);
        this.faults = faults;
    }

    /**
     * A ripple: {@code amplitude sin(2 pi frequency t + phase)}.
     *
     * @param amplitude from the middle to the crest, V or A
     * @param frequency Hz
     * @param phase at the start of the run, rad
     */
    public record Sine(double amplitude, double frequency, double phase) {
        double angular() {
            return 2 * Math.PI * frequency;
        }

        double sineAt(double time) {
            return amplitude * StrictMath.sin(angle(time));
        }

        double cosineAt(double time) {
            return amplitude * StrictMath.cos(angle(time));
        }

        private double angle(double time) {
            return 2 * Math.PI * Math.IEEEremainder(frequency * time, 1) + phase;
        }
    }

    /**
     * Returns a profile that has the same value for ever.
     *
     * @param value the value, V or A; finite
     * @return the profile
     */
    public static Profile constant(double value) {
        List<String> faults = Double.isFinite(value) ? List.of() : List.of("a value must be finite but was " + value);
        return new Profile(new double[] {0}, new double[] {value}, new double[] {0}, List.of(), faults);
    }

    /**
     * Returns this profile with a step at the end.
     *
     * @param time when, s since the start of the run; not before what this profile already holds
     * @param value the value from then on, V or A; finite
     * @return the longer profile
     */
    public Profile stepTo(double time, double value) {
        return with(checked(time, last(times), value), time, value, 0);
    }

    /**
     * Returns this profile with a linear ramp at the end.
     *
     * @param from when the ramp starts, s since the start of the run; not before what this profile already holds
     * @param to when it ends, s; after {@code from}
     * @param value the value at its end and from then on, V or A; finite
     * @return the longer profile
     */
    public Profile rampTo(double from, double to, double value) {
        List<String> found = checked(from, last(times), value);
        if (!(to > from && to < Double.POSITIVE_INFINITY)) {
            found.add("a ramp must end after it starts (" + from + " s) but ended at " + to + " s");
        }
        Profile begun = with(found, from, last(values), (value - last(values)) / (to - from));
        return begun.with(new ArrayList<>(begun.faults), to, value, 0);
    }

    /**
     * Returns the sines on top of this profile.
     *
     * @return the sines, in the order in which they were added
     */
    public List<Sine> sines() {
        return sines;
    }

    /**
     * Returns this profile without the sines on top of it.
     *
     * @return the steps and ramps alone
     */
    public Profile withoutSines() {
        return sines.isEmpty() ? this : new Profile(times, values, slopes, List.of(), faults);
    }

    /**
     * Returns this profile with a sine on top of it, from the start on.
     *
     * @param amplitude from the middle to the crest, V or A; 0 or more
     * @param frequency Hz; more than 0
     * @param phase at the start of the run, rad; 0 begins at the middle and rises
     * @return the profile with its ripple
     */
    public Profile withSine(double amplitude, double frequency, double phase) {
        List<String> found = new ArrayList<>(faults);
        if (!(amplitude >= 0 && amplitude < Double.POSITIVE_INFINITY)) {
            found.add("the amplitude of a sine must be 0 or more and finite but was " + amplitude);
        }
        if (!(frequency > 0 && frequency < Double.POSITIVE_INFINITY)) {
            found.add("the frequency of a sine must be more than 0 Hz and finite but was " + frequency);
        }
        if (!Double.isFinite(phase)) {
            found.add("the phase of a sine must be finite but was " + phase);
        }
        List<Sine> more = new ArrayList<>(sines);
        more.add(new Sine(amplitude, frequency, phase));
        return new Profile(times, values, slopes, more, List.copyOf(found));
    }

    private List<String> checked(double time, double earliest, double value) {
        List<String> found = new ArrayList<>(faults);
        if (!(time >= earliest && time < Double.POSITIVE_INFINITY)) {
            found.add("steps and ramps must come in order of time, the next one at or after " + earliest
                    + " s, but was at " + time + " s");
        }
        if (!Double.isFinite(value)) {
            found.add("a value must be finite but was " + value);
        }
        return found;
    }

    private Profile with(List<String> found, double time, double value, double slope) {
        return new Profile(
                append(times, time), append(values, value), append(slopes, slope), sines, List.copyOf(found));
    }

    private static double[] append(double[] array, double value) {
        double[] longer = Arrays.copyOf(array, array.length + 1);
        longer[array.length] = value;
        return longer;
    }

    private static double last(double[] array) {
        return array[array.length - 1];
    }

    /**
     * Returns the value just after a time.
     *
     * @param time time since the start of the run, s
     * @return the value, V or A
     */
    public double valueAt(double time) {
        double value = withoutSines(time);
        for (Sine sine : sines) {
            value += sine.sineAt(time);
        }
        return value;
    }

    double withoutSines(double time) {
        int knot = knotAt(time);
        return slopes[knot] == 0 ? values[knot] : values[knot] + slopes[knot] * (time - times[knot]);
    }

    /**
     * Returns the rate of change just after a time, that of sines left out.
     *
     * @param time time since the start of the run, s
     * @return the slope, V/s or A/s
     */
    public double slopeAt(double time) {
        return slopes[knotAt(time)];
    }

    private int knotAt(double time) {
        int knot = times.length - 1;
        while (knot > 0 && !(times[knot] <= time)) {
            knot--;
        }
        return knot;
    }

    /**
     * Returns whether there is a sine on top.
     *
     * @return true if the value never rests
     */
    public boolean oscillates() {
        return !sines.isEmpty();
    }

    /**
     * Returns the times at which the value steps or its slope changes.
     *
     * @return times since the start of the run, s; ascending, all after 0
     */
    public List<Double> changes() {
        return times.length == 1
                ? List.of()
                : Arrays.stream(times)
                        .filter(time -> time > 0)
                        .distinct()
                        .boxed()
                        .toList();
    }

    /**
     * Returns whether the value ramps at any time.
     *
     * @return true if a slope is not zero
     */
    public boolean ramps() {
        for (double slope : slopes) {
            if (slope != 0) {
                return true;
            }
        }
        return false;
    }

    List<String> faults() {
        return faults;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Profile profile
                && Arrays.equals(times, profile.times)
                && Arrays.equals(values, profile.values)
                && Arrays.equals(slopes, profile.slopes)
                && sines.equals(profile.sines);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(times) + 31 * Arrays.hashCode(values) + sines.hashCode();
    }

    @Override
    public String toString() {
        String steady = times.length == 1
                ? Double.toString(values[0])
                : "values " + Arrays.toString(values) + " from times " + Arrays.toString(times) + " s";
        return sines.isEmpty() ? steady : steady + " with " + sines;
    }
}
