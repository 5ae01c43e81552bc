package org.voltsecond.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * A measured signal: values at ascending times, as an oscilloscope records them. Between two samples it is taken to be
 * straight. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Capture capture = Capture.sampled("channel 1", Unit.VOLT, 0, nano(10), samples); // one every 10 ns
 * double highest = capture.maximum(); // 11.86 V
 * }</pre>
 */
public final class Capture {
    private final String name;
    private final Unit unit;
    private final double[] times;
    private final double[] values;

    private Capture(String name, Unit unit, double[] times, double[] values) {
        this.name = name;
        this.unit = unit;
        this.times = times;
        this.values = values;
    }

    /**
     * Returns a capture with a time for each sample.
     *
     * @param name what was measured, for example "channel 1"
     * @param unit the unit of the values
     * @param times when, s; finite and ascending; copied
     * @param values as many finite values as times, at least 2; copied
     * @return the capture
     * @throws IllegalArgumentException if a time or a value is not finite, time does not go forward, or there are fewer
     *     than 2 samples; names the first sample at fault
     */
    public static Capture of(String name, Unit unit, double[] times, double[] values) {
        if (times.length != values.length || times.length < 2) {
            throw new IllegalArgumentException(
                    "capture " + name + ": it needs as many times as values, and at least 2, " + "but has "
                            + times.length + " times and " + values.length + " values");
        }
        for (int i = 0; i < times.length; i++) {
            if (!Double.isFinite(times[i]) || !Double.isFinite(values[i])) {
                throw new IllegalArgumentException("capture " + name + ": times and values must be finite but sample "
                        + i + " is " + values[i] + " " + unit.symbol() + " at " + times[i] + " s");
            }
            if (i > 0 && !(times[i] > times[i - 1])) {
                throw new IllegalArgumentException("capture " + name + ": time must go forward but sample " + i
                        + " is at " + times[i] + " s, after one at " + times[i - 1] + " s");
            }
        }
        return new Capture(name, unit, times.clone(), values.clone());
    }

    /**
     * Returns a capture with a fixed time from sample to sample.
     *
     * @param name what was measured, for example "channel 1"
     * @param unit the unit of the values
     * @param start time of the first sample, s
     * @param interval time from one sample to the next, s; more than 0
     * @param values finite values, at least 2; copied
     * @return the capture
     * @throws IllegalArgumentException if the interval is not more than 0, a value is not finite, or there are fewer than
     *     2 samples
     */
    public static Capture sampled(String name, Unit unit, double start, double interval, double[] values) {
        if (!(interval > 0) || !Double.isFinite(start)) {
            throw new IllegalArgumentException("capture " + name + ": the interval must be more than 0 s and the start "
                    + "finite, but they are " + interval + " s and " + start + " s");
        }
        double[] times = new double[values.length];
        Arrays.setAll(times, i -> start + i * interval);
        return of(name, unit, times, values);
    }

    /** {@return what was measured} */
    public String name() {
        return name;
    }

    /** {@return the unit of the values} */
    public Unit unit() {
        return unit;
    }

    /** {@return the number of samples, at least 2} */
    public int size() {
        return times.length;
    }

    /**
     * Returns when a sample was taken.
     *
     * @param index index of the sample
     * @return the time, s
     */
    public double time(int index) {
        return times[index];
    }

    /**
     * Returns the value of a sample.
     *
     * @param index index of the sample
     * @return the value, in the unit of the capture
     */
    public double value(int index) {
        return values[index];
    }

    /** {@return the time of the first sample, s} */
    public double startTime() {
        return times[0];
    }

    /** {@return the time of the last sample, s} */
    public double endTime() {
        return times[times.length - 1];
    }

    /** {@return the lowest sample} */
    public double minimum() {
        return Arrays.stream(values).min().orElseThrow();
    }

    /** {@return the highest sample} */
    public double maximum() {
        return Arrays.stream(values).max().orElseThrow();
    }

    /**
     * Returns the value at an instant, on the straight line between two samples.
     *
     * @param time the instant, s; before the first and after the last sample their values hold
     * @return the value
     */
    public double at(double time) {
        return at(time, before(time));
    }

    /** The last sample at or before a time, but never the very last one. */
    int before(double time) {
        int found = Arrays.binarySearch(times, time);
        return Math.max(0, Math.min(times.length - 2, found >= 0 ? found : -found - 2));
    }

    /** The value on the line from one sample to the next. */
    double at(double time, int index) {
        double share = (time - times[index]) / (times[index + 1] - times[index]);
        double clamped = Math.max(0, Math.min(1, share));
        return values[index] + clamped * (values[index + 1] - values[index]);
    }

    /** The integral of the straight lines between two times within the capture, over their distance. */
    double mean(double from, double to) {
        double sum = 0;
        double time = from;
        double value = at(from);
        for (int i = before(from) + 1; i < times.length && times[i] < to; i++) {
            sum += 0.5 * (value + values[i]) * (times[i] - time);
            time = times[i];
            value = values[i];
        }
        sum += 0.5 * (value + at(to)) * (to - time);
        return sum / (to - from);
    }

    /**
     * Returns the part between two instants as a waveform of straight lines, for a picture.
     *
     * @param from begin, s; cut to the capture
     * @param to end, s; cut to the capture
     * @param shift what to add to all times, s
     * @return the waveform
     * @throws IllegalArgumentException if the two instants enclose nothing of the capture
     */
    public Waveform waveform(double from, double to, double shift) {
        double start = Math.max(from, startTime());
        double end = Math.min(to, endTime());
        if (!(start < end)) {
            throw new IllegalArgumentException("capture " + name + " goes from " + startTime() + " s to " + endTime()
                    + " s, so there is nothing of it from " + from + " s to " + to + " s");
        }
        List<Piece> pieces = new ArrayList<>();
        double time = start;
        double value = at(start);
        for (int i = before(start) + 1; i < times.length && times[i] < end; i++) {
            if (times[i] > time) {
                pieces.add(line(time, value, times[i], values[i], shift));
                time = times[i];
                value = values[i];
            }
        }
        pieces.add(line(time, value, end, at(end), shift));
        return Waveform.unbroken(name, unit, pieces);
    }

    private static Piece line(double time, double value, double nextTime, double nextValue, double shift) {
        return Piece.of(time + shift, nextTime - time, new double[] {value, nextValue - value});
    }

    @Override
    public String toString() {
        return name + " (" + unit.symbol() + "), " + times.length + " samples from "
                + Quantity.brief(startTime(), Unit.SECOND) + " to " + Quantity.brief(endTime(), Unit.SECOND);
    }
}
